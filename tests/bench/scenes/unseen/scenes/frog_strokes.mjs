// @ts-check
// A frog crosses a pool under water with three strokes and drifts up to the surface.
import { masses, names } from "../../creatures/kit/bodies.mjs";
import { makeDocument } from "../../creatures/kit/document.mjs";
import { at, bump, curveOf, curvesOf, erase, hold, straight, tidy } from "../../creatures/kit/edits.mjs";
import { clamp } from "../../creatures/kit/math.mjs";
import { bothSides, makeRig } from "../../creatures/kit/rig.mjs";
import { keyed, perform } from "../../creatures/kit/take.mjs";
import { drift, follow, soft } from "../kit-B/motion.mjs";

export const name = "frog_strokes";
export const about =
  "A frog crosses a pool under water: three strokes with a glide after each, the last one upwards, then it hangs at the surface with its legs sinking.";

const FPS = 24;
const END = 122;
const range = /** @type {[number, number]} */ ([1, END]);
const LEVEL = 0.34;
const rig = makeRig(
  /** @type {any} */ ([
    ["pelvis", null, [0, 0.2, 0], 0.05, "yxz"],
    ["trunk", "pelvis", [0, 0.006, 0.035], 0.08, "yxz"],
    ["head", "trunk", [0, 0.004, 0.045], 0.04, "yxz"],
    ["snout", "head", [0, -0.004, 0.035], 0],
    ...bothSides([
      ["thigh*", "pelvis", [0.014, -0.002, -0.006], 0.012, "yxz"],
      ["shin*", "thigh*", [0.004, 0, -0.052], 0.008, "yxz"],
      ["foot*", "shin*", [-0.002, 0, -0.054], 0.004, "yxz"],
      ["web*", "foot*", [0.002, -0.002, -0.034], 0.002, "yxz"],
      ["webEnd*", "web*", [0.006, 0, -0.036], 0],
      ["arm*", "trunk", [0.024, -0.01, 0.022], 0.003, "yxz"],
      ["fore*", "arm*", [0.022, -0.006, 0], 0.002, "yxz"],
      ["palm*", "fore*", [0.022, 0, 0.004], 0.001, "yxz"],
      ["nail*", "palm*", [0.012, 0, 0.004], 0],
    ]),
  ]),
);
const n = names({
  L: "esq",
  R: "dir",
  pelvis: "bacia",
  trunk: "tronco",
  head: "cabeca",
  snout: "focinho",
  "thigh*": "coxa_*",
  "shin*": "canela_*",
  "foot*": "pe_*",
  "web*": "dedos_*",
  "webEnd*": "dedos_ponta_*",
  "arm*": "braco_*",
  "fore*": "antebraco_*",
  "palm*": "mao_*",
  "nail*": "mao_ponta_*",
});

// Each stroke: legs drawn up slowly from `draw`, kicked out fast at `kick`.
const STROKES = [
  { draw: -4, kick: 9, power: 1, fold: 1 },
  { draw: 24, kick: 37, power: 0.85, fold: 0.92 },
  { draw: 53, kick: 67, power: 1.12, fold: 1.06 },
];
/** @param {boolean} bad drawn up as fast as kicked out */
const foldOf = (bad) =>
  soft(
    [
      ...STROKES.flatMap(
        ({ draw, kick, fold }) =>
          /** @type {[number, number][]} */ ([
            [bad && kick > 30 ? kick - 6 : draw, 0.02],
            [kick - 1.5, fold],
            [kick + 4.5, -0.03],
            [kick + 9, 0.02],
          ]),
      ),
      [84, 0.03],
      [104, 0.34],
      [116, 0.3],
    ],
    1.5,
  );
const fold = foldOf(false);
/** How far along it is: pushed by the strokes, slowed by the water, more so by legs that are drawn up. */
const swum = (() => {
  const out = /** @type {number[]} */ ([]);
  let z = -0.2;
  let v = 0.28;
  const sub = 16;
  for (let i = 0; i <= (END + 8) * sub; i++) {
    const f = i / sub;
    out.push(z);
    const push = STROKES.reduce((s, { kick, power }) => {
      const u = (f - kick + 0.5) / 5.5;
      return s + (u > 0 && u < 1 ? power * 4.6 * Math.sin(Math.PI * u) ** 2 : 0);
    }, 0);
    const a = push - (1.5 + 1.2 * clamp(fold(f), 0, 1)) * v * Math.abs(v) - 0.5 * v;
    v += a / FPS / sub;
    z += v / FPS / sub;
  }
  return (/** @type {number} */ f) => {
    const t = clamp(f, 0, END + 7) * sub;
    const i = Math.floor(t);
    return out[i] + (t - i) * (out[i + 1] - out[i]);
  };
})();
const rise = soft(
  [
    [1, 0.17],
    [30, 0.165],
    [58, 0.172],
    [74, 0.23],
    [100, 0.312],
    [108, 0.317],
    [118, 0.314],
  ],
  7,
);
const pitchUp = soft(
  [
    [50, 0],
    [68, 14],
    [80, 14],
    [100, 26],
    [116, 30],
  ],
  5,
);
const veer = soft(
  [
    [30, 0],
    [46, -7],
    [66, -5],
    [90, 11],
    [110, 13],
  ],
  6,
);
const webDrag = follow((f) => (fold(f - 2) - fold(f + 0.5)) * 100, range, { fps: FPS, hz: 4, damp: 0.6 });
const nod = follow((f) => 9 * fold(f), range, { fps: FPS, hz: 1.8, damp: 0.6 });

/** @param {{ even?: boolean }} bad */
function build(bad) {
  const folds = foldOf(Boolean(bad.even));
  const take = perform(rig, range, (p, f) => {
    const still = clamp((f - 90) / 20, 0, 1);
    const dx = Math.sin((veer(f - 4) * Math.PI) / 180) * 0.12;
    p.move(
      "pelvis",
      dx,
      rise(f) + 0.003 * drift(f, 46, 1) * still,
      swum(f) + 0.0015 * drift(f, 60, 3) * still,
    );
    p.rot(
      "pelvis",
      -pitchUp(f) + 3 * nod(f) * 0.4 - 2,
      veer(f) + 1.2 * drift(f, 70, 2) * still,
      1.5 * drift(f, 52, 4),
    );
    p.rot("trunk", -2 - 0.35 * nod(f - 1), 2 * drift(f, 38, 5) * 0.5, 0);
    p.rot(
      "head",
      2 - 0.3 * nod(f - 2) + 0.35 * pitchUp(f - 2) + drift(f, 44, 6) * still,
      0.25 * (veer(f + 6) - veer(f)),
      0,
    );
    for (const s of ["L", "R"]) {
      const k = s === "L" ? 1 : -1;
      // The right leg is a shade behind the left one and folds a little less.
      const late = s === "L" ? 0 : 0.6;
      const amp = s === "L" ? 1 : 0.95;
      const a = amp * folds(f - late);
      const b = amp * folds(f - late - 0.7);
      const c = amp * folds(f - late - 1.4);
      const idle = drift(f, s === "L" ? 36 : 41, s === "L" ? 1 : 5) * still;
      const sink = 16 * still * still * (3 - 2 * still);
      p.rot(`thigh${s}`, -sink * 1.2 - 2 * idle - 7 * a, k * (-6 - 100 * a - 3 * idle), k * 8 * a);
      p.rot(`shin${s}`, -0.4 * sink, k * (6 + 138 * b + 2 * idle), 0);
      p.rot(`foot${s}`, 0.5 * sink, k * (-4 - 112 * c), -k * 6 * b);
      p.rot(`web${s}`, 0.4 * sink, k * (3 + 30 * clamp(c, 0, 1.1) + 0.42 * webDrag(f - late)), 0);
      // Arms lie back along the sides in stroke and glide and come forward as the legs are drawn up.
      const d = clamp(folds(f + 2 - 0.5 * late), -0.1, 1.1);
      p.rot(
        `arm${s}`,
        6 + 14 * d + 8 * still,
        k * (62 - 92 * d - 34 * still + 4 * idle),
        k * (-14 + 10 * d - 8 * still),
      );
      p.rot(`fore${s}`, 0, k * (14 - 46 * amp * folds(f + 0.8 - late) - 30 * still), k * (-6 - 14 * still));
      p.rot(`palm${s}`, 0, k * (10 - 26 * amp * folds(f - late)), k * (-6 - 6 * idle));
    }
  });
  return makeDocument({
    name: "sapo_lago_030",
    fps: FPS,
    range,
    unit: 0.1,
    bodies: [{ rig, name: n, curves: keyed(take, { how: "bezier", turn: 0.3, place: 0.0003 }) }],
    more: {
      surfaces: [{ id: "agua", height: LEVEL * 10 }],
      surroundings: [{ medium: "water", below: "agua" }],
    },
  });
}
export const clean = () => build({});
export function flawed() {
  const doc = build({ even: true });
  straight([curveOf(doc, n("pelvis"), "translation.z")], [1, 88]);
  erase(doc, ["armL", "armR", "foreL", "foreR", "palmL", "palmR"].map(n));
  for (const id of ["armL", "armR"]) {
    const k = id === "armL" ? 1 : -1;
    doc.nodes.find((/** @type {any} */ x) => x.id === n(id)).rotation = [8, 50 * k, -12 * k];
  }
  erase(doc, ["webL", "webR"].map(n));
  // The pose of one leg was pasted with the other side's sign.
  const c = curveOf(doc, n("thighR"), "rotation.y");
  bump(doc, n("thighR"), "rotation.y", 65, -1.6 * at(c, 65));
  hold(
    curvesOf(doc, ["pelvis", "trunk", "head", "thighL", "shinL", "footL", "thighR", "shinR", "footR"].map(n)),
    [106, END],
  );
  for (const curve of doc.curves) curve.keys = curve.keys.filter((/** @type {any} */ k) => k[0] <= END);
  return tidy(doc);
}
/** @type {import('../../scenes.d.ts').Flaw[]} */
export const flaws = [
  {
    what: "It travels at one speed whatever the legs do. Each kick has to shove it, and in the glide the water slows it down.",
    kind: "legs do not drive it",
    size: "strong",
    nodes: ["pelvis", "thighL", "thighR"].map(n),
    frames: [1, 88],
    order: 1,
  },
  {
    what: "The right thigh flips over to the wrong side in the third stroke, it goes right through the body.",
    kind: "pop",
    size: "strong",
    nodes: ["thighR", "shinR", "footR"].map(n),
    frames: [61, 69],
    order: 2,
  },
  {
    what: "In the second and third stroke the legs are drawn up as fast as they kick, that would push it back. Slow up, fast out.",
    kind: "even timing",
    size: "ordinary",
    nodes: ["thighL", "thighR", "shinL", "shinR"].map(n),
    frames: [28, 72],
    order: 3,
  },
  {
    what: "Arms stay stuck to the sides from first to last, not even a hand moves.",
    kind: "part forgotten",
    size: "ordinary",
    nodes: ["armL", "armR", "foreL", "foreR", "palmL", "palmR"].map(n),
    frames: [1, 122],
    order: 4,
  },
  {
    what: "It freezes at the surface from 106. Something that floats is never quite still.",
    kind: "dead hold",
    size: "ordinary",
    nodes: ["pelvis", "trunk", "head", "thighL", "thighR"].map(n),
    frames: [106, 122],
    order: 5,
  },
  {
    what: "The webbed toes are stiff boards; the water should bend them back in the kick and let them flick out.",
    kind: "no drag",
    size: "barely",
    nodes: ["webL", "webR", "footL", "footR"].map(n),
    frames: [1, 122],
    order: 6,
  },
];
export const truth = { masses: masses(rig, n) };
