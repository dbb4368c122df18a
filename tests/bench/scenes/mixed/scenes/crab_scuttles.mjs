// @ts-check
import { masses } from "../../creatures/kit/bodies.mjs";
import { val } from "../../creatures/kit/curve.mjs";
import { makeDocument } from "../../creatures/kit/document.mjs";
import { at, curvesOf, erase, hold, tidy } from "../../creatures/kit/edits.mjs";
import { clamp } from "../../creatures/kit/math.mjs";
import { makeRig } from "../../creatures/kit/rig.mjs";
import { footAt } from "../../creatures/kit/steps.mjs";
import { keyed, perform } from "../../creatures/kit/take.mjs";

export const name = "crab_scuttles";
export const about =
  "A crab scuttles sideways over wet sand on eight legs, slows down, stops, and lifts its claws at somebody.";

const FPS = 24;
const END = 96;
const BODY = 0.055;
const PERIOD = 10;
const STRIDE = 0.1;
// Four pairs of legs, from front to back: where they stand beside the body.
const ROWS = [
  { z: 0.055, out: 0.115, up: 0.028 },
  { z: 0.018, out: 0.135, up: 0.03 },
  { z: -0.022, out: 0.13, up: 0.03 },
  { z: -0.06, out: 0.105, up: 0.026 },
];
const rows = /** @type {any[]} */ ([
  ["shell", null, [0, BODY, 0], 0.25, "yxz"],
  ["stalkL", "shell", [0.018, 0.012, 0.05], 0.002],
  ["eyeL", "stalkL", [0.004, 0.018, 0.004], 0],
  ["stalkR", "shell", [-0.018, 0.012, 0.05], 0.002],
  ["eyeR", "stalkR", [-0.004, 0.018, 0.004], 0],
]);
for (const s of ["L", "R"]) {
  const k = s === "L" ? 1 : -1;
  ROWS.forEach(({ z }, i) => {
    rows.push(
      [`leg${i}${s}`, "shell", [0.045 * k, 0, z * 0.62], 0.008, "zyx"],
      [`knee${i}${s}`, `leg${i}${s}`, [0.062 * k, 0, 0], 0.005, "zyx"],
      [`tip${i}${s}`, `knee${i}${s}`, [0.074 * k, 0, 0], 0],
    );
  });
  rows.push(
    [`arm${s}`, "shell", [0.036 * k, 0.002, 0.045], 0.01, "yxz"],
    [`elbow${s}`, `arm${s}`, [0.03 * k, 0, 0.035], 0.012, "yxz"],
    [`claw${s}`, `elbow${s}`, [-0.02 * k, 0, 0.04], 0.015, "yxz"],
    [`thumb${s}`, `claw${s}`, [0.006 * k, 0.004, 0.02], 0.002, "yxz"],
    [`point${s}`, `thumb${s}`, [0, 0, 0.028], 0],
  );
}
const rig = makeRig(rows);
const SIDE = /** @type {any} */ ({ L: "bb", R: "stb" });
const ORD = ["eins", "zwei", "drei", "vier"];
/** @param {string} r */
const n = (r) => {
  const s = SIDE[r.slice(-1)];
  const leg = r.match(/^(leg|knee|tip)(\d)/);
  if (leg)
    return `krabbe/${s}/${ORD[Number(leg[2])]}/${{ leg: "huefte", knee: "knie", tip: "spitze" }[leg[1]]}`;
  const word = /** @type {any} */ ({
    stalk: "stiel",
    eye: "auge",
    arm: "scherarm",
    elbow: "scherelle",
    claw: "schere",
    thumb: "finger",
    point: "fingerende",
  })[r.slice(0, -1)];
  return word ? `krabbe/${s}/${word}` : "krabbe/panzer";
};

const V = STRIDE / PERIOD;
/** How far it has come sideways: steady, then slowing to a stand. @param {number} f */
const xAt = (f) => {
  if (f <= 46) return V * (f - 1);
  const u = clamp((f - 46) / 20, 0, 1);
  return V * 45 + V * 20 * (u - u ** 3 + u ** 4 / 2);
};
const DUTY = 5.5;

/** Stands of one leg: half of them step while the other half stand. @param {number} i @param {string} s */
function stands(i, s) {
  const odd = (i % 2 === 0) === (s === "L");
  // Within a set, each leg comes a little after the one before it.
  const start = (odd ? 1 : 1 + PERIOD / 2) + i * 0.35 - PERIOD;
  const k = s === "L" ? 1 : -1;
  const out = [];
  for (let c = 0; c < 8; c++) {
    const from = start + c * PERIOD;
    const last = from > (odd ? 55 : 58);
    const to = last ? END + 50 : from + DUTY;
    out.push({ from, to, at: [(last ? xAt(END) : xAt((from + to) / 2)) + ROWS[i].out * k, 0, ROWS[i].z] });
    if (last) break;
  }
  return out;
}

/** @param {boolean} bad */
function build(bad) {
  const plants = /** @type {Record<string, any[]>} */ ({});
  for (const s of ["L", "R"]) for (const i of ROWS.keys()) plants[i + s] = stands(i, s);
  const going = (/** @type {number} */ f) =>
    val(f, [
      [44, 1],
      [64, 0],
    ]);
  const beat = (/** @type {number} */ f) => Math.sin(((f - 2) / 5) * 2 * Math.PI) * going(f);
  const threat = (/** @type {number} */ f) =>
    val(f, [
      [66, 0],
      [70, -0.12],
      [79, 1.08],
      [84, 1],
      [96, 1.02],
    ]);
  const take = perform(rig, [1, END], (p, f) => {
    const t = threat(f);
    const halt = val(f, [
      [50, 0],
      [62, 1],
      [70, 0],
    ]);
    const x = bad ? V * Math.min(f - 1, 57.2) : xAt(f);
    p.move("shell", x, BODY + 0.0022 * beat(f) - 0.006 * halt + 0.004 * t, 0.004 * t);
    p.rot(
      "shell",
      -13 * t,
      1.5 * Math.sin(((f - 1) / 10) * 2 * Math.PI) * going(f),
      -1.5 * beat(f - 1) - 4 * halt,
    );
    for (const s of ["L", "R"]) {
      const k = s === "L" ? 1 : -1;
      p.rot(`stalk${s}`, 4 * beat(f - 2) - 16 * threat(f - 3) + 5 * halt, 0, 5 * halt - 3 * beat(f - 2));
      const late = s === "L" || bad ? 0 : 1.5;
      const u = threat(f - late);
      const sway = beat(f - 2) * 3;
      const more = s === "L" || bad ? 1 : 0.82;
      p.rot(`arm${s}`, 6 - 62 * u * more + sway * 0.5, k * (4 + 42 * u), 0);
      p.rot(`elbow${s}`, 12 - 30 * threat(f - 2 - late) * more + sway, k * (-8 - 10 * u), 0);
      p.rot(`claw${s}`, 6 - 10 * threat(f - 3) * more, k * (-22 - 16 * u * more), 0);
      p.rot(`thumb${s}`, -4 - 26 * threat(f - 4), 0, 0);
      ROWS.forEach((row, i) => {
        const step = footAt(plants[i + s], f, row.up, 0.9);
        const at = [...step.at];
        p.reach(`leg${i}${s}`, `knee${i}${s}`, `tip${i}${s}`, at, [0, 1, 0], [0, 0, 1]);
      });
    }
  });
  const doc = makeDocument({
    name,
    fps: FPS,
    range: [1, END],
    unit: 0.01,
    bodies: [{ rig, name: n, curves: keyed(take, { how: "bezier", turn: 0.2, place: 0.0003 }) }],
    more: {
      figures: [
        {
          id: "krabbe",
          parts: { root: n("shell") },
          limbs: ["L", "R"].flatMap((s) =>
            ROWS.map((_, i) => ({
              id: `${s === "L" ? "left" : "right"} leg ${i + 1}`,
              kind: "leg",
              side: s === "L" ? "left" : "right",
              nodes: [`leg${i}${s}`, `knee${i}${s}`, `tip${i}${s}`].map(n),
              sole: { toe: n(`tip${i}${s}`), thickness: 0 },
            })),
          ),
        },
      ],
      surfaces: [{ id: "sand", normal: [0, 1, 0], height: 0 }],
    },
  });
  for (const node of doc.nodes) {
    if (node.id === n("shell")) node.shapes = [{ kind: "box", size: [9, 3, 9] }];
    const next = doc.nodes.find((/** @type {any} */ x) => x.parent === node.id);
    if (next && node.parent)
      node.shapes = [{ kind: "capsule", radius: 0.45, from: [0, 0, 0], to: next.translation }];
  }
  return doc;
}

export const clean = () => build(false);
export function flawed() {
  const doc = build(true);
  // The third left leg has no keys for one of its steps.
  hold(curvesOf(doc, ["leg2L", "knee2L"].map(n)), [22, 34]);
  // In the stand the second left leg kept the turn of another pose.
  for (const c of curvesOf(doc, [n("leg1L")], "rotation.y")) {
    const v = at(c, 64);
    c.keys = [...c.keys.filter((/** @type {any} */ k) => k[0] < 64), [64, v], [74, v - 52], [END, v - 52]];
  }
  erase(doc, ["stalkL", "stalkR"].map(n));
  return tidy(doc);
}
export const flaws = [
  {
    what: "It stops dead: full speed on 57 and nothing on 59, while its legs still step.",
    kind: "stop too hard",
    size: "strong",
    nodes: [n("shell")],
    frames: [55, 61],
    order: 1,
  },
  {
    what: "The third left leg misses a step, it is carried along with the shell and its tip goes through the sand.",
    kind: "step missing",
    size: "ordinary",
    nodes: ["leg2L", "knee2L", "tip2L"].map(n),
    frames: [22, 35],
    order: 2,
  },
  {
    what: "In the stand the second left leg lies across the first one, through it.",
    kind: "things go through things",
    size: "ordinary",
    nodes: ["leg1L", "knee1L", "tip1L", "leg0L", "knee0L"].map(n),
    frames: [66, 96],
    order: 3,
  },
  {
    what: "The claws come up as mirror images, on the same frames.",
    kind: "twinning",
    size: "barely",
    nodes: ["armL", "elbowL", "clawL", "armR", "elbowR", "clawR"].map(n),
    frames: [66, 96],
    order: 4,
  },
  {
    what: "The eye stalks do not move at all, not even as it stops.",
    kind: "freeze of a part",
    size: "barely",
    nodes: ["stalkL", "stalkR"].map(n),
    frames: [1, 96],
    order: 5,
  },
];
export const truth = {
  plants: ["L", "R"].flatMap((s) =>
    ROWS.flatMap((_, i) =>
      stands(i, s)
        .filter(({ to }) => to > 3)
        .map(({ from, to }) => ({
          node: n(`tip${i}${s}`),
          frames: /** @type {[number, number]} */ ([
            Math.max(1, Math.ceil(from)),
            Math.min(END, Math.floor(to)),
          ]),
          limit: 0.002,
        })),
    ),
  ),
  ground: { nodes: ["L", "R"].flatMap((s) => ROWS.map((_, i) => n(`tip${i}${s}`))), height: 0, under: 0.002 },
  masses: masses(rig, n),
};
