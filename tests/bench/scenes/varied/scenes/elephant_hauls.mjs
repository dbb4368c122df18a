import { beast, masses, names } from "../../creatures/kit/bodies.mjs";
import { makeDocument } from "../../creatures/kit/document.mjs";
import { add, mul, turn } from "../../creatures/kit/math.mjs";
import { cycle } from "../../creatures/kit/steps.mjs";
import { keyed } from "../../creatures/kit/take.mjs";
import { carried, chain, loose, onFours, played, poseOf, truly, wave, withMore } from "../kit/stage.mjs";

export const name = "elephant_hauls";
export const about =
  "An old elephant cow walks by with a log in the curl of her trunk; every step is set down with four tons over it.";

const FPS = 24;
const RANGE = [1, 116];
const T = 42;
const STRIDE = 1.9;
const V = STRIDE / T;
const DUTY = 0.64;
const HIP = 1.95;
const BODY = 2;
const PHASE = { hindL: 0.1, foreL: 0.31, hindR: 0.6, foreR: 0.81 };
const TRUNK = ["trunk1", "trunk2", "trunk3", "trunk4", "trunk5", "trunk6"];
const rig = withMore(
  beast({
    hip: HIP,
    body: BODY,
    mass: 3900,
    wide: 0.42,
    neck: [0, 0.16, 0.42],
    head: [0, -0.2, 0.5],
    tail: [0, -0.26, -0.03],
    tails: 4,
    hind: [0.43, 0.385, 0.2],
    fore: [0.415, 0.37, 0.2],
  }),
  [
    ...TRUNK.map((id, i) => [
      id,
      i ? TRUNK[i - 1] : "head",
      i ? [0, -0.3 + 0.015 * i, 0.02] : [0, -0.28, 0.46],
      22,
    ]),
    ["trunkTip", "trunk6", [0, -0.17, 0.02]],
    ...["L", "R"].flatMap((s) => [
      [`ear${s}`, "head", [s === "L" ? 0.38 : -0.38, 0.12, 0.02], 12],
      [`flap${s}`, `ear${s}`, [s === "L" ? 0.16 : -0.16, -0.22, -0.32], 8],
      [`hem${s}`, `flap${s}`, [s === "L" ? 0.06 : -0.06, -0.3, -0.2]],
    ]),
  ],
);
const n = names(
  {
    L: "sx",
    R: "dx",
    hips: "bacino",
    loin: "lombi",
    chest: "garrese",
    neck: "collo",
    head: "testa",
    nose: "labbro",
    trunkTip: "proboscide_punta",
    ...Object.fromEntries(TRUNK.map((id, i) => [id, `proboscide_${i + 1}`])),
    ...Object.fromEntries([1, 2, 3, 4].map((i) => [`tail${i}`, `coda_${i}`])),
    "thigh*": "coscia_*",
    "shin*": "gamba_*",
    "hock*": "tarso_*",
    "hoof*": "piede_post_*",
    "upper*": "braccio_*",
    "lower*": "avambraccio_*",
    "wrist*": "carpo_*",
    "pad*": "piede_ant_*",
    "ear*": "orecchio_*",
    "flap*": "orecchio_mezzo_*",
    "hem*": "orecchio_orlo_*",
  },
  "nonna:",
);
const plantsOf = (leg) =>
  cycle({
    period: T,
    stride: STRIDE,
    duty: DUTY,
    phase: PHASE[leg],
    cycles: 7,
    start: 1 - T,
    x: (leg.endsWith("L") ? 1 : -1) * 0.34,
    z0: (STRIDE * DUTY) / 2 - STRIDE + (leg.startsWith("h") ? -0.07 : BODY * 0.82 - 0.02),
  });
const plants = Object.fromEntries(Object.keys(PHASE).map((leg) => [leg, plantsOf(leg)]));
const SLIDE = plants.foreR[2];
const LATE = plants.hindR.findIndex((q) => q.from > 40);

/** The body's weight, sunk onto each foot as it takes over, and rolled to the side that stands. */
function body(p, f, k) {
  const g = f - 1;
  p.move(
    "hips",
    0.05 * k * wave(g, T, 0.38),
    HIP * 0.938 + k * (0.026 * wave(g, T / 2, 0.98) + 0.008 * wave(g, T, 0.3)),
    V * g,
  );
  p.rot("hips", 1 + k * 1.2 * wave(g, T / 2, 0.3), 2.4 * wave(g, T, 0.12), k * 2.6 * wave(g, T, 0.86));
  p.rot("loin", -0.5 - k * 0.7 * wave(g, T / 2, 0.32), -1.6 * wave(g, T, 0.18), -k * 1.3 * wave(g, T, 0.92));
  p.rot("chest", -0.5 + k * 0.8 * wave(g, T / 2, 0.6), -1.8 * wave(g, T, 0.25), -k * 2 * wave(g, T, 0));
  p.rot(
    "neck",
    6 + 2.6 * wave(g, T / 2, 0.76),
    2.2 * wave(g, T, 0.34) + 1.5 * Math.sin(g / 37),
    k * 0.8 * wave(g, T, 0.3),
  );
  p.rot("head", 4 + 2 * wave(g, T / 2, 0.92), 1.8 * wave(g, T, 0.44), 0.6 * wave(g, T, 0.4));
}
function build(bad) {
  const feet = structuredClone(plants);
  if (bad) {
    feet.hindR[LATE].from += 3;
    feet.hindR[LATE - 1].to += 3;
  }
  const nod = (f) => 6 * wave(f - 1, T / 2, 0.84);
  const yaw = (f) => 7 * wave(f - 1, T, 0.4) + 3 * Math.sin(f / 37);
  const lag = chain(RANGE, FPS, nod, 6, 2.6, 0.6);
  const sway = chain(RANGE, FPS, yaw, 6, 2.2, 0.55);
  const ears = [0, 4.5].map((late, i) => {
    const root = loose(
      RANGE,
      FPS,
      (f) => (7 - i) * wave(f - late, T, 0.2) + 8 * wave(f - late, 61, 0.3) + nod(f),
      1.5,
      0.5,
    );
    return [root, ...chain(RANGE, FPS, root, 2, 1.7, 0.5)];
  });
  const switchTail = chain(RANGE, FPS, (f) => 9 * wave(f - 1, T, 0.1) + 3 * wave(f, 57), 3, 1.4, 0.4);
  const take = played(rig, RANGE, (p, f) => {
    body(p, f, bad ? 0.08 : 1);
    TRUNK.forEach((id, i) => {
      const j = bad ? 0 : i;
      p.rot(
        id,
        [-6, -8, -14, -30, -44, -52][i] + (bad ? nod(f) : lag[j](f)) * [0.9, 0.8, 0.7, 0.6, 0.45, 0.3][i],
        (bad ? yaw(f) : sway[j](f)) * [0.25, 0.22, 0.2, 0.16, 0.12, 0.08][i],
        (bad ? yaw(f) : sway[j](f)) * 0.5,
      );
    });
    for (const [s, m, i] of [
      ["L", 1, 0],
      ["R", -1, 1],
    ]) {
      const e = ears[bad ? 0 : i];
      p.rot(`ear${s}`, 2, m * (-14 + e[0](f)), 0);
      p.rot(`flap${s}`, 0, m * (-4 + 0.9 * (e[1](f) - e[0](f) * 0.4)), 0);
    }
    for (let i = 0; i < 3; i++)
      p.rot(`tail${i + 1}`, [12, -4, -4][i], 0, switchTail[i](f) * [0.6, 0.8, 1][i]);
    onFours(p, f, feet, {
      hip: HIP,
      lift: 0.2,
      ramp: 0.42,
      hindLean: 0,
      foreLean: 0,
      swing: 26,
      fold: 34,
      foreFold: 0.9,
    });
  });
  // The log lies across the curl of the trunk, as it hangs.
  const log = carried("tronco", RANGE, 0.01, "xyz", (f) => {
    const w = poseOf(take, f).world("trunk6");
    const away = bad && f >= 58 && f <= 79 ? Math.sin((Math.PI * (f - 57)) / 23) ** 2 : 0;
    return { p: add(add(w.p, turn(w.q, [0, -0.07, 0.1])), mul([0, -0.17, 0.08], away)), q: w.q };
  });
  const doc = makeDocument({
    name,
    fps: FPS,
    range: RANGE,
    unit: 0.01,
    bodies: [{ rig, name: n, curves: keyed(take, { how: "bezier", turn: 0.05, place: 0.0008 }) }],
    things: [
      {
        id: "tronco",
        rotationOrder: "xyz",
        shapes: [{ kind: "capsule", radius: 9, from: [-95, 0, 0], to: [95, 0, 0] }],
      },
    ],
    more: {
      surfaces: [{ id: "strada", normal: [0, 1, 0], height: 0 }],
      props: [{ node: "tronco", mass: 40, heldBy: [{ node: n("trunk6"), frames: RANGE }] }],
    },
  });
  doc.curves.push(...log);
  return doc;
}
export const clean = () => build(false);
export function flawed() {
  const doc = build(true);
  // The root was nudged forward and back: the foot that bears goes along.
  const c = doc.curves.find((x) => x.node === n("upperR") && x.channel === "rotation.x");
  const [a, b] = [Math.ceil(SLIDE.from) + 4, Math.floor(SLIDE.to) - 3];
  c.keys = c.keys.filter((k) => k[0] <= a || k[0] >= b);
  // The tail was keyed up to 70.
  for (const q of doc.curves) {
    if (!/coda_[123]/.test(q.node)) continue;
    q.keys = q.keys.filter((k) => k[0] <= 70);
    const end = q.keys[q.keys.length - 1];
    if (end[2]) delete end[2].out;
  }
  return doc;
}
const all = (...ids) => ids.map(n);
export const flaws = [
  {
    what: "She weighs nothing: the body glides level on top of the legs, no sinking onto the foot and no roll to the side that stands.",
    kind: "no weight in the walk",
    size: "strong",
    nodes: all("hips", "loin", "chest"),
    frames: RANGE,
    order: 1,
  },
  {
    what: "The off hind foot leaves and lands late in this step, it drags behind her and the walk loses its order.",
    kind: "step late",
    size: "ordinary",
    nodes: all("thighR", "shinR", "hockR", "hoofR"),
    frames: [Math.floor(plants.hindR[LATE - 1].to), Math.ceil(plants.hindR[LATE].from + 4)],
    order: 3,
  },
  {
    what: "The log comes out of the trunk, between 60 and 77 it hangs in the air under it.",
    kind: "prop leaves grip",
    size: "strong",
    nodes: ["tronco", n("trunk6"), n("trunkTip")],
    frames: [58, 79],
    order: 2,
  },
  {
    what: "The trunk turns in all its joints at once like a hinged pipe; I want it to come after, link by link.",
    kind: "no overlap in trunk",
    size: "ordinary",
    nodes: TRUNK.map(n),
    frames: RANGE,
    order: 4,
  },
  {
    what: "Ears are mirror copies, they flap on the same frame.",
    kind: "ears twinned",
    size: "ordinary",
    nodes: all("earR", "flapR", "hemR"),
    frames: RANGE,
    order: 6,
  },
  {
    what: "The off forefoot creeps while it carries her, keys of the shoulder are missing through that step.",
    kind: "foot creeps",
    size: "ordinary",
    nodes: all("upperR", "padR", "wristR", "lowerR"),
    frames: [Math.ceil(SLIDE.from) + 4, Math.floor(SLIDE.to) - 3],
    order: 5,
  },
  {
    what: "The tail dies at 70; the rest of her goes on.",
    kind: "tail dies",
    size: "barely",
    nodes: all("tail1", "tail2", "tail3", "tail4"),
    frames: [70, RANGE[1]],
    order: 7,
  },
];
export const truth = {
  plants: truly(plants, n, RANGE, 0.012),
  ground: { nodes: all("padL", "padR", "hoofL", "hoofR"), height: 0, under: 0.012 },
  masses: masses(rig, n),
};
