// @ts-check
import { beast, masses, names } from "../../creatures/kit/bodies.mjs";
import { makeDocument } from "../../creatures/kit/document.mjs";
import { fourLegs, trail } from "../../creatures/kit/gaits.mjs";
import { centreAt } from "../../creatures/kit/rig.mjs";
import { cycle } from "../../creatures/kit/steps.mjs";
import { keyed, perform } from "../../creatures/kit/take.mjs";
import { retime } from "../../slips.mjs";

export const name = "mare_canter";
export const about =
  "A mare canters over a meadow on the left lead, three beats and a moment in the air; neck and tail go with the rocking of the body.";

const END = 92;
const FPS = 30;
const T = 16;
const STRIDE = 2.6;
const V = STRIDE / T;
const DUTY = 0.3;
const AIR = 0.2;
const G = 9.81 / FPS / FPS;
const rig = beast({
  hip: 1.28,
  body: 1.25,
  mass: 460,
  wide: 0.18,
  neck: [0, 0.42, 0.42],
  head: [0, -0.24, 0.36],
  tail: [0, -0.13, -0.07],
  tails: 5,
});
const n = names(
  {
    L: "venstre",
    R: "hoejre",
    hips: "kryds",
    loin: "laend",
    chest: "bov",
    neck: "hals",
    head: "hoved",
    nose: "mule",
    tail1: "hale1",
    tail2: "hale2",
    tail3: "hale3",
    tail4: "hale4",
    tail5: "hale5",
    "thigh*": "laar_*",
    "shin*": "hase_*",
    "hock*": "pibe_*",
    "hoof*": "baghov_*",
    "upper*": "overarm_*",
    "lower*": "underarm_*",
    "wrist*": "kode_*",
    "pad*": "forhov_*",
  },
  "hoppe:",
);
// Right hind; left hind and right fore; left fore; and off the ground.
const PHASE = { hindR: 0, hindL: 0.25, foreR: 0.27, foreL: 0.5 };
const FORE = 1.25 * 0.82;
/** @param {"hindL" | "foreL" | "hindR" | "foreR"} leg @param {number} [phase] */
const plantsOf = (leg, phase = PHASE[leg]) =>
  cycle({
    period: T,
    stride: STRIDE,
    duty: DUTY,
    phase,
    cycles: 9,
    start: -T,
    x: (leg.endsWith("L") ? 1 : -1) * (leg.startsWith("h") ? 0.12 : 0.13),
    z0: (STRIDE * DUTY) / 2 - STRIDE + (leg.startsWith("h") ? 0.12 : FORE + 0.06),
  });
const plants = {
  hindL: plantsOf("hindL"),
  foreL: plantsOf("foreL"),
  hindR: plantsOf("hindR"),
  foreR: plantsOf("foreR"),
};
const turns = (/** @type {number} */ f) => 2 * Math.PI * (f / T);
/** Height of the centre of mass about its mean: a throw, then the ground gives it back. */
function arc(/** @type {number} */ f, k = 1) {
  const u = ((f / T) % 1) + (f < 0 ? 1 : 0);
  const v = (G * AIR * T) / 2;
  const from = 1 - AIR;
  if (u >= from) {
    const t = (u - from) * T;
    return k * (v * t - (G * t * t) / 2);
  }
  return (-k * v * from * T * Math.sin((Math.PI * u) / from)) / Math.PI;
}

/** @param {boolean} bad */
function build(bad) {
  const feet = structuredClone(plants);
  if (bad) {
    // Both hind legs on the same frames.
    feet.hindL = plantsOf("hindL", 0.02);
    // One landing of the leading leg was keyed too high.
    for (const at of [2, 3, 4]) feet.foreL[at].at[1] = at === 3 ? 0.07 : 0;
  }
  const take = perform(rig, [1, END], (p, f) => {
    const rock = (/** @type {number} */ late) => Math.cos(turns(f - late) - 0.9);
    const side = (/** @type {number} */ late) => Math.sin(turns(f - late));
    const nod = bad ? 0 : 1;
    p.rot("hips", 1 - 4.6 * rock(0), 3 + 1.6 * side(0), 2 * side(1));
    p.rot("loin", 0.5 + 2.2 * rock(3), -0.5 - 1 * side(1), -0.8 * side(2));
    p.rot("chest", 0.5 + 1.6 * rock(1.5), -0.5 - 0.8 * side(2), -0.8 * side(2));
    p.rot("neck", 2 + nod * 6 * rock(1.5), nod * (1.5 - 0.6 * side(3)), 0);
    p.rot("head", 4 + nod * (-3.6 * rock(4) + 1.2 * Math.sin(f / 17)), nod * 2.4 * Math.sin(f / 23), 0);
    trail(p, ["tail1", "tail2", "tail3", "tail4"], f, 1.6, (t, i) => [
      [46, -6, -12, -10][i] + [6, 8, 9, 10][i] * Math.cos(turns(t - 3)),
      [3, 4, 5, 6][i] * Math.sin(turns(t) + Math.sin(t / 31)),
      0,
    ]);
    const legs = () =>
      fourLegs(p, f, feet, {
        hip: 1.28,
        lift: 0.2,
        hindLean: 8,
        fold: 52,
        lifts: { foreL: 0.26, foreR: 0.26 },
      });
    centreAt(
      p,
      [0.01 * side(2), 1.2 + arc(f, bad ? 0.12 : 1), V * f + 0.62 + 0.012 * Math.sin(turns(f) + 1)],
      legs,
    );
  });
  return makeDocument({
    name,
    fps: FPS,
    range: [1, END],
    bodies: [{ rig, name: n, curves: keyed(take, { how: "cubic", turn: 0.1, place: 0.00025 }) }],
  });
}

export const clean = () => build(false);
export function flawed() {
  const doc = build(true);
  // The root stands still for one frame.
  retime(doc, [n("hips")], "translation", 66, 70, (f) => (f === 68 ? 67 : f));
  return doc;
}
export const flaws = [
  {
    what: "No horse canters like that: both hind feet are set down together, it hops like a hare.",
    kind: "wrong motion for the animal",
    size: "strong",
    nodes: ["thighL", "shinL", "hockL", "hoofL", "hoofR"].map(n),
    frames: [1, END],
    order: 1,
  },
  {
    what: "Half a ton on rails: the body hardly rises into the moment in the air and does not sink on the legs.",
    kind: "weightless",
    size: "ordinary",
    nodes: ["hips", "loin", "chest"].map(n),
    frames: [1, END],
    order: 2,
  },
  {
    what: "Neck and head are held like a hobby-horse's, no nod answers the rocking of the body.",
    kind: "head stiff",
    size: "ordinary",
    nodes: ["neck", "head"].map(n),
    frames: [1, END],
    order: 3,
  },
  {
    what: "In one stride the leading forefoot bears on nothing, a hoof's height above the meadow.",
    kind: "foot floats",
    size: "ordinary",
    nodes: ["padL", "wristL"].map(n),
    frames: [Math.ceil(plants.foreL[3].from), Math.floor(plants.foreL[3].to)],
    order: 4,
  },
  {
    what: "A frame doubled in the root, at 67 and 68 the body waits for its legs.",
    kind: "doubled frame",
    size: "barely",
    nodes: [n("hips")],
    frames: [67, 69],
    order: 5,
  },
];
export const truth = {
  plants: Object.entries(plants).flatMap(([leg, list]) =>
    list
      .filter((q) => q.from >= 1 && q.to <= END)
      .map((q) => ({
        node: n(`${leg.startsWith("h") ? "hoof" : "pad"}${leg.slice(-1)}`),
        frames: /** @type {[number, number]} */ ([q.from, q.to]),
        limit: 0.01,
      })),
  ),
  air: [1, 2, 3, 4].map((k) => ({ frames: /** @type {[number, number]} */ ([T * (k - AIR), T * k - 0.3]) })),
  ground: { nodes: ["padL", "padR", "hoofL", "hoofR"].map(n), height: 0, under: 0.01 },
  masses: masses(rig, n),
};
