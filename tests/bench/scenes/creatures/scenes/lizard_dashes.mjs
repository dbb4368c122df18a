// @ts-check
// A lizard dashes and shows off.
import { leap } from "../../slips.mjs";
import { masses, names } from "../kit/bodies.mjs";
import { val } from "../kit/curve.mjs";
import { makeDocument } from "../kit/document.mjs";
import { laid, runOut, trail } from "../kit/gaits.mjs";
import { bothSides, makeRig } from "../kit/rig.mjs";
import { footAt } from "../kit/steps.mjs";
import { keyed, perform } from "../kit/take.mjs";

export const name = "lizard_dashes";
export const about =
  "A lizard runs over a warm stone with its spine winding, comes to a stop, and does two push-ups on its forelegs to show off. The document has z up.";

const END = 112;
const T = 16;
const V = 0.15 / T;
const DUTY = 0.6;
const HALT = [50, 66];
const rig = makeRig(
  /** @type {any} */ ([
    ["pelvis", null, [0, 0.046, 0], 0.01, "yxz"],
    ["back1", "pelvis", [0, 0, 0.04], 0.012],
    ["back2", "back1", [0, 0, 0.045], 0.012],
    ["girdle", "back2", [0, 0, 0.045], 0.01],
    ["neck", "girdle", [0, 0.006, 0.03], 0.003],
    ["head", "neck", [0, 0.002, 0.025], 0.006],
    ["snout", "head", [0, -0.004, 0.042], 0],
    ...[1, 2, 3, 4, 5].map((i) => [
      `tail${i}`,
      i === 1 ? "pelvis" : `tail${i - 1}`,
      i === 1 ? [0, 0, -0.03] : [0, 0, -0.05],
      i < 5 ? 0.003 : 0,
    ]),
    ...bothSides([
      ["femur*", "pelvis", [0.016, -0.002, 0], 0.002, "yzx"],
      ["crus*", "femur*", [0.042, 0, 0], 0.001, "yzx"],
      ["pes*", "crus*", [0, -0.043, 0], 0.001],
      ["claw*", "pes*", [0.008, -0.003, 0.024], 0],
      ["hum*", "girdle", [0.015, -0.002, 0.006], 0.002, "yzx"],
      ["rad*", "hum*", [0.04, 0, 0], 0.001, "yzx"],
      ["man*", "rad*", [0, -0.042, 0], 0.001],
      ["digit*", "man*", [0.005, -0.003, 0.018], 0],
    ]),
  ]),
);
const n = names({
  L: "kiri",
  R: "kanan",
  pelvis: "panggul",
  back1: "punggung1",
  back2: "punggung2",
  girdle: "bahu",
  neck: "leher",
  head: "kepala",
  snout: "moncong",
  tail1: "ekor1",
  tail2: "ekor2",
  tail3: "ekor3",
  tail4: "ekor4",
  tail5: "ekor5",
  "femur*": "paha-*",
  "crus*": "betis-*",
  "pes*": "kaki-*",
  "claw*": "cakar-*",
  "hum*": "lengan-*",
  "rad*": "hasta-*",
  "man*": "tangan-*",
  "digit*": "jari-*",
});

/** @param {number} f */
const zAt = (f) => runOut(f, V, HALT[0], HALT[1]);
/** @param {number} phase @param {number} off @param {number} x */
const plantsOf = (phase, off, x) => {
  const times = /** @type {[number, number][]} */ ([]);
  for (let k = -2; k < 9; k++) {
    const from = 1 + (k + phase) * T;
    if (from > 65.5) break;
    times.push([from, from + DUTY * T]);
  }
  times[times.length - 1][1] = END + 9;
  // The last one is set down for the place where the body will stand.
  return laid(times, (f) => zAt(Math.min(f, END)), off, x, 0.004);
};
const FORE = 0.136;
const plants = {
  pesL: plantsOf(0, -0.004, 0.056),
  pesR: plantsOf(0.5, -0.004, -0.056),
  manL: plantsOf(0.52, FORE + 0.002, 0.052),
  manR: plantsOf(0.02, FORE + 0.002, -0.052),
};

/** @param {boolean} bad */
function build(bad) {
  const body = (/** @type {number} */ f) => (bad && f > HALT[0] ? Math.min(V * (f - 1), zAt(END)) : zAt(f));
  const way = (/** @type {number} */ f) =>
    val(f, [
      [47, 1],
      [66, 0],
    ]);
  const wave = (/** @type {number} */ f, /** @type {number} */ late = 0) =>
    Math.sin((2 * Math.PI * (f - 1 - 0.3 * T - late)) / T) * way(f - late);
  const jump = leap(73, 79, 76, 0.72);
  const raised = (/** @type {number} */ f) =>
    val(bad && f > 73 && f < 79 ? jump(f) : f, [
      [70, 0],
      [73, -0.1],
      [79, 1],
      [82, 0.95],
      [87, 0.1],
      [93, 0.9],
      [96, 0.86],
      [104, 0],
      [112, 0],
    ]);
  const feet = structuredClone(plants);
  const take = perform(rig, [1, END], (p, f) => {
    const A = bad ? 0 : 15;
    const rest = 1 - way(f);
    p.move(
      "pelvis",
      0.003 * wave(f, 2),
      0.046 + 0.0015 * Math.sin((4 * Math.PI * (f - 3)) / T) * way(f) - 0.004 * rest - 0.003 * raised(f),
      body(f),
    );
    p.rot("pelvis", -1 - 8 * raised(f), A * wave(f), (bad ? 0 : 3) * wave(f, 3));
    p.rot("back1", 0, -0.66 * A * wave(f, 0.3), 0);
    p.rot("back2", 1 - 2 * raised(f), -0.7 * A * wave(f, 0.5) + 4 * rest, 0);
    p.rot(
      "girdle",
      2 - 3 * raised(f) + 0.8 * Math.sin(f / 5),
      -0.66 * A * wave(f, 0.8) + 3 * rest,
      (bad ? 0 : -3) * wave(f, 3),
    );
    p.rot(
      "neck",
      -10 +
        8 * raised(f - 1) -
        8 *
          val(f, [
            [58, 0],
            [68, 1],
            [112, 0.9],
          ]),
      0.5 * A * wave(f, 1.2) - 4 * rest,
      0,
    );
    p.rot(
      "head",
      8 -
        14 * raised(f - 2) -
        6 *
          val(f, [
            [60, 0],
            [70, 1],
          ]),
      0.45 * A * wave(f, 1.5) +
        val(f, [
          [98, 0],
          [105, 18],
          [112, 19],
        ]),
      0,
    );
    trail(p, ["tail1", "tail2", "tail3", "tail4"], f, 0, (t, i) => {
      const late = bad ? 4.5 - 1.5 * i : 1.6 * (i + 1);
      const curl = val(t, [
        [58, 0],
        [74, 1],
        [112, 1.06],
      ]);
      return [[9, -4, -3, -1][i], -[13, 15, 17, 19][i] * wave(t, late) + [6, 9, 11, 12][i] * curl, 0];
    });
    for (const s of ["L", "R"]) {
      const k = s === "L" ? 1 : -1;
      for (const [a, b, c, name] of [
        ["femur", "crus", "pes", "pes"],
        ["hum", "rad", "man", "man"],
      ]) {
        const list = feet[/** @type {"pesL"} */ (name + s)];
        if (bad && name + s === "pesR") {
          const q = list.findIndex((x) => x.from > 15 && x.from < 30);
          list[q].at = [
            plants.pesR[q].at[0] +
              0.004 *
                val(f, [
                  [list[q].from, 0],
                  [list[q].to, 1],
                ]),
            0.004,
            plants.pesR[q].at[2] -
              0.02 *
                val(f, [
                  [list[q].from, 0],
                  [list[q].to, 1],
                ]),
          ];
        }
        const step = footAt(list, f, name === "pes" ? 0.016 : 0.014, 0.9);
        p.reach(a + s, b + s, c + s, step.at, [k * 0.6, 1, name === "pes" ? 0.5 : -0.6], [0, 0, 1]);
        p.face(c + s, [0, Math.sin((k * 9 * Math.PI) / 180), 0, Math.cos((k * 9 * Math.PI) / 180)]);
        if (step.up) {
          const w = p.world(c + s).q;
          const tilt = (14 * step.up * Math.PI) / 180;
          const [x, y, z, ww] = w;
          const [sx, cx] = [Math.sin(tilt), Math.cos(tilt)];
          p.face(c + s, [x * cx + ww * sx, y * cx + z * sx, z * cx - y * sx, ww * cx - x * sx]);
        }
      }
    }
  });
  return makeDocument({
    name,
    fps: 24,
    range: [1, END],
    up: "z",
    unit: 0.01,
    bodies: [{ rig, name: n, curves: keyed(take, { how: "cubic", turn: 0.3, place: 0.0004 }) }],
    more: {
      figures: [
        {
          id: "kadal",
          parts: { root: n("pelvis"), head: n("head") },
          limbs: [
            ...["L", "R"].flatMap((s) => [
              {
                id: `belakang ${s === "L" ? "kiri" : "kanan"}`,
                kind: "leg",
                side: s === "L" ? "left" : "right",
                nodes: ["femur", "crus", "pes"].map((r) => n(r + s)),
              },
              {
                id: `depan ${s === "L" ? "kiri" : "kanan"}`,
                kind: "leg",
                side: s === "L" ? "left" : "right",
                nodes: ["hum", "rad", "man"].map((r) => n(r + s)),
              },
            ]),
            { id: "ekor", kind: "tail", nodes: [1, 2, 3, 4, 5].map((i) => n(`tail${i}`)) },
          ],
        },
      ],
    },
  });
}

export const clean = () => build(false);
export const flawed = () => build(true);
export const flaws = [
  {
    what: "It stops dead out of a full run, from one frame to the next.",
    kind: "hard-stop",
    size: "strong",
    nodes: [n("pelvis"), n("girdle")],
    frames: [54, 62],
    order: 1,
  },
  {
    what: "Hips and shoulders run as one stiff block; a lizard winds its spine from foot to foot.",
    kind: "one-block",
    size: "ordinary",
    nodes: ["pelvis", "back1", "back2", "girdle", "neck", "head"].map(n),
    frames: [1, 56],
    order: 2,
  },
  {
    what: "The first push-up jumps: it hangs low, is nearly all the way up in one frame, and creeps the rest.",
    kind: "spacing jumps",
    size: "ordinary",
    nodes: ["pelvis", "girdle", "neck", "head"].map(n),
    frames: [73, 79],
    order: 3,
  },
  {
    what: "The right hind foot slips back while it pushes.",
    kind: "foot slides",
    size: "ordinary",
    nodes: ["pesR", "clawR"].map(n),
    frames: [25, 35],
    order: 4,
  },
  {
    what: "The wave of the tail runs from its tip to the body.",
    kind: "chain in wrong order",
    size: "barely",
    nodes: [1, 2, 3, 4, 5].map((i) => n(`tail${i}`)),
    frames: [1, 58],
    order: 5,
  },
];
export const truth = {
  plants: Object.entries(plants).flatMap(([foot, list]) =>
    list
      .filter((q) => q.from >= 1)
      .map((q) => ({
        node: n(foot),
        frames: /** @type {[number, number]} */ ([q.from, Math.min(q.to, END)]),
        limit: 0.002,
      })),
  ),
  ground: {
    nodes: ["pesL", "pesR", "manL", "manR", "clawL", "digitL", "snout", "tail5"].map(n),
    height: 0,
    under: 0.002,
  },
  // A foot swings over 15 cm in six frames; what stands out of that is far larger.
  spikes: { ratio: 9 },
  masses: masses(rig, n),
};
