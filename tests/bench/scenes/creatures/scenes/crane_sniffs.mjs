// @ts-check
// A toy crane with character looks at a keg.
import { val } from "../kit/curve.mjs";
import { makeDocument } from "../kit/document.mjs";
import { curveOf, curvesOf, straight, tidy } from "../kit/edits.mjs";
import { makeRig, Pose } from "../kit/rig.mjs";
import { keyed, perform } from "../kit/take.mjs";

export const name = "crane_sniffs";
export const about =
  "A waist-high toy crane wakes, swings its jib round to a keg, stretches down to it as if to smell, and starts back. Its hook swings on a chain.";

const END = 144;
/** A crane that fits on a workbench trolley. */
const SIZE = 0.3;
const rig = makeRig(
  /** @type {any} */ (
    [
      ["foot", null, [0, 0, 0], 30, "yxz"],
      ["turret", "foot", [0, 0.9, 0], 12, "yxz"],
      ["boom", "turret", [0, 0.4, 0.2], 5, "xyz"],
      ["jib", "boom", [0, 2.2, 0], 3, "xyz"],
      ["snout", "jib", [0, 1.9, 0], 2, "xyz"],
      ["tip", "snout", [0, 0.8, 0], 0],
      ["chain", "snout", [0, 0.5, 0.1], 0.2, "xzy"],
      ["hook", "chain", [0, -0.7, 0], 0.4],
    ].map(([id, up, at, m, order]) => [id, up, /** @type {number[]} */ (at).map((v) => v * SIZE), m, order])
  ),
);
const n = (/** @type {string} */ r) =>
  ({
    foot: "KRN_base",
    turret: "KRN_turret",
    boom: "KRN_boom_01",
    jib: "KRN_boom_02",
    snout: "KRN_head",
    tip: "KRN_head_end",
    chain: "KRN_chain",
    hook: "KRN_hook",
  })[r] ?? r;
const BARREL = [0.79, 0, 0.72];

/** @param {boolean} bad */
function build(bad) {
  const late = bad ? 0 : 1;
  const turret = (/** @type {number} */ f) =>
    val(f, [
      [16, 0],
      [21, -5],
      [42, 50],
      [48, 47.5],
      [98, 47.5],
      [101, 48.5],
      [110, 26],
      [118, 29],
      [144, 30],
    ]);
  const boom = (/** @type {number} */ f) =>
    val(f, [
      [4, 16],
      [14, 19],
      [30, -6],
      [38, -3],
      [52, -4],
      [58, -9],
      [76, 33],
      [84, 31.5],
      [97, 33],
      [100, 34],
      [109, -19],
      [117, -13],
      [126, -14],
      [144, -13.5],
    ]);
  const jib = (/** @type {number} */ g) => {
    const f = g - 2 * late;
    return val(f, [
      [4, 128],
      [14, 133],
      [32, 78],
      [40, 83],
      [52, 82],
      [59, 92],
      [78, 82],
      [84, 84],
      [97, 83],
      [101, 87],
      [111, 52],
      [119, 61],
      [128, 59],
      [144, 60],
    ]);
  };
  const snout = (/** @type {number} */ g) => {
    const f = g - 4 * late;
    return val(f, [
      [4, 34],
      [12, 38],
      [26, 8],
      [34, -8],
      [42, 6],
      [54, 4],
      [62, -18],
      [80, 26],
      [83, 20],
      [86, 26],
      [89, 20],
      [93, 27],
      [97, 25],
      [102, 42],
      [111, 44],
      [122, 30],
      [130, 37],
      [144, 36],
    ]);
  };
  const yaw = (/** @type {number} */ f) =>
    val(f, [
      [24, 0],
      [30, 18],
      [44, -6],
      [52, 0],
      [112, 0],
      [116, -10],
      [122, 9],
      [128, 0],
    ]);
  const arm = (/** @type {import('../kit/rig.mjs').Pose} */ p, /** @type {number} */ f) => {
    p.rot("turret", 0, turret(f), 0);
    p.rot("boom", boom(f), 0, 0);
    p.rot("jib", jib(f), 0, 0);
    p.rot("snout", snout(f), 0, yaw(f - 5));
  };
  const swings = pendulum(arm);
  const take = perform(rig, [1, END], (p, f) => {
    arm(p, f);
    const [ax, az] = swings[f];
    p.face("chain", toQuat(ax, az));
  });
  return makeDocument({
    name,
    fps: 24,
    range: [1, END],
    unit: 0.01,
    shot: { stage: "splining" },
    bodies: [{ rig, name: n, curves: keyed(take, { how: "bezier", turn: 0.3, place: 0.002 }) }],
    things: [
      {
        id: "keg",
        translation: BARREL.map((v) => v * 100),
        shapes: [{ kind: "capsule", radius: 10, from: [0, 10, 0], to: [0, 18, 0] }],
      },
    ],
    more: {
      figures: [
        {
          id: "crane",
          parts: { root: n("foot"), head: n("snout") },
          limbs: [
            { id: "neck", kind: "neck", nodes: ["boom", "jib", "snout"].map(n) },
            { id: "chain", kind: "other", nodes: [n("chain"), n("hook")] },
          ],
        },
      ],
      surfaces: [{ id: "quay", normal: [0, 1, 0], height: 0 }],
      contacts: [
        { node: n("foot"), with: "quay", frames: [1, END] },
        { node: "keg", with: "quay", frames: [1, END] },
      ],
      props: [{ node: "keg", mass: 4 }],
    },
  });
}
/** A turn about x, then z, in the world. @param {number} x @param {number} z radians */
function toQuat(x, z) {
  const [a, b, c, d] = [Math.sin(x / 2), Math.cos(x / 2), Math.sin(z / 2), Math.cos(z / 2)];
  return [a * d, -a * c, b * c, b * d];
}
/** Swings of the chain about x and z, driven by where it hangs. @param {(p: any, f: number) => void} arm */
function pendulum(arm) {
  const at = (/** @type {number} */ f) => {
    const p = new Pose(rig);
    arm(p, f);
    return p.point("chain");
  };
  const L = 0.21;
  const dt = 1 / 24 / 8;
  /** @type {number[][]} */ const out = [];
  let [x, z, vx, vz] = [0, 0, 0, 0];
  for (let f = 1; f <= END; f++) {
    out[f] = [x, z];
    const [a, b, c] = [at(f - 0.5), at(f + 0.5), at(f + 1.5)];
    const acc = a.map((v, i) => (c[i] - 2 * b[i] + v) * 24 * 24);
    for (let k = 0; k < 8; k++) {
      // A bob that is left behind: forward motion turns it back, which is a positive turn about x.
      vx += ((-(9.81 + acc[1]) / L) * Math.sin(x) + acc[2] / L - 3 * vx) * dt;
      vz += ((-(9.81 + acc[1]) / L) * Math.sin(z) - acc[0] / L - 3 * vz) * dt;
      x += vx * dt;
      z += vz * dt;
    }
  }
  return out;
}

export const clean = () => build(false);
export function flawed() {
  const doc = build(true);
  for (const c of curvesOf(doc, [n("chain")]))
    c.keys = [
      [1, Number(c.keys[0][1].toFixed(3))],
      [END, Number(c.keys[0][1].toFixed(3))],
    ];
  for (const k of curveOf(doc, n("turret"), "rotation.y").keys)
    if (k[0] >= 118) k[1] = Number((k[1] - 360).toFixed(3));
  straight(curvesOf(doc, ["boom", "jib"].map(n)), [58, 84]);
  const c = curveOf(doc, n("snout"), "rotation.x");
  c.keys = c.keys.filter((/** @type {any} */ k) => k[0] < 36 || k[0] > 57);
  c.keys.push([37, -8, { in: [-2, -2], out: [8, 60] }], [56, 4, { in: [-5, 0], out: [1, 0] }]);
  c.keys.sort((/** @type {any} */ a, /** @type {any} */ b) => a[0] - b[0]);
  return tidy(doc);
}
export const flaws = [
  {
    what: "The turret spins a whole turn the wrong way from 110 to 118, the value flipped by 360.",
    kind: "rotation flips",
    size: "strong",
    nodes: [n("turret")],
    frames: [110, 119],
    order: 1,
  },
  {
    what: "Chain and hook are welded to the head and point wherever it points, they should hang and swing.",
    kind: "no drag",
    size: "strong",
    nodes: [n("chain"), n("hook")],
    frames: [1, 144],
    order: 2,
  },
  {
    what: "The stretch down to the keg runs in straight lines, no ease in nor out, like a machine test.",
    kind: "even spacing",
    size: "ordinary",
    nodes: [n("boom"), n("jib")],
    frames: [58, 84],
    order: 3,
  },
  {
    what: "A handle throws the head far over and back between 37 and 56, nobody meant that.",
    kind: "curve overshoots",
    size: "ordinary",
    nodes: [n("snout")],
    frames: [37, 56],
    order: 4,
  },
  {
    what: "Boom, jib and head all start and stop on the same frame, nothing leads.",
    kind: "all at once",
    size: "barely",
    nodes: ["boom", "jib", "snout"].map(n),
    frames: [10, 125],
    order: 5,
  },
];
export const truth = { ground: { nodes: ["tip", "hook", "jib", "snout"].map(n), height: 0 } };
