// @ts-check
import { beast, masses, names } from "../../creatures/kit/bodies.mjs";
import { makeDocument } from "../../creatures/kit/document.mjs";
import { centreAt } from "../../creatures/kit/rig.mjs";
import { cycle } from "../../creatures/kit/steps.mjs";
import { keyed } from "../../creatures/kit/take.mjs";
import { leaveOut, pop, retime } from "../../slips.mjs";
import { bounce, chain, loose, onFours, played, wave, withMore } from "../kit/stage.mjs";

export const name = "hound_gallops";
export const about =
  "A hunting hound gallops flat out along a dike, twice off the ground in each stride, ears and tail flying.";

const FPS = 60;
const RANGE = /** @type {[number, number]} */ ([1001, 1084]);
const T = 24;
const STRIDE = 2.3;
const V = STRIDE / T;
const DUTY = 0.19;
const PHASE = { hindL: 0, hindR: 0.08, foreR: 0.44, foreL: 0.54 };
const BODY = 0.7;
const rig = withMore(
  beast({
    hip: 0.62,
    body: BODY,
    mass: 30,
    wide: 0.085,
    neck: [0, 0.15, 0.19],
    head: [0, -0.05, 0.2],
    tail: [0, -0.015, -0.1],
    tails: 5,
    hind: [0.39, 0.41, 0.29],
    fore: [0.37, 0.41, 0.26],
  }),
  [
    ["earL", "head", [0.05, 0.03, 0.01]],
    ["earTipL", "earL", [0.03, -0.09, -0.01]],
    ["earR", "head", [-0.05, 0.03, 0.01]],
    ["earTipR", "earR", [-0.03, -0.09, -0.01]],
  ],
);
const n = names({
  L: "vas",
  R: "oik",
  hips: "lantio",
  loin: "lanne",
  chest: "rinta",
  neck: "kaula",
  head: "paa",
  nose: "kuono",
  tail1: "hanta_1",
  tail2: "hanta_2",
  tail3: "hanta_3",
  tail4: "hanta_4",
  tail5: "hanta_karki",
  "thigh*": "reisi_*",
  "shin*": "saari_*",
  "hock*": "kinner_*",
  "hoof*": "takakapala_*",
  "upper*": "olkavarsi_*",
  "lower*": "kyynarvarsi_*",
  "wrist*": "ranne_*",
  "pad*": "etukapala_*",
  "ear*": "korva_*",
  "earTip*": "korvankarki_*",
});
/** @param {"hindL" | "foreL" | "hindR" | "foreR"} leg @param {number} [phase] */
const plantsOf = (leg, phase = PHASE[leg]) =>
  cycle({
    period: T,
    stride: STRIDE,
    duty: DUTY,
    phase,
    cycles: 8,
    start: 1000,
    x: (leg.endsWith("L") ? 1 : -1) * 0.06,
    z0: (STRIDE * DUTY) / 2 + (leg.startsWith("h") ? -0.04 : BODY * 0.82 - 0.09),
  });
const plants = {
  hindL: plantsOf("hindL"),
  hindR: plantsOf("hindR"),
  foreR: plantsOf("foreR"),
  foreL: plantsOf("foreL"),
};
const height = bounce(T, FPS, [
  [0, 0.27],
  [0.44, 0.73],
]);
/** How far the back is bent: 1 when the legs are gathered under it. @param {number} f */
const bend = (f) => wave(f - 1000, T, 0.89) + 0.16 * wave(f - 1000, T / 2, 0.4);

/** @param {boolean} bad */
function build(bad) {
  const feet = bad ? { ...plants, foreL: plantsOf("foreL", PHASE.foreR + 0.005) } : plants;
  const flap = loose(RANGE, FPS, (f) => 34 * wave(f - 1000, T, 0.28), 3.4, 0.35);
  const flop = loose(RANGE, FPS, flap, 3.1, 0.4);
  const whip = chain(RANGE, FPS, (f) => 9 * bend(f), 5, 6, 0.5);
  const take = played(rig, RANGE, (p, f) => {
    const k = bad && f > 1044 ? 0.12 : 1;
    const b = (bad && f > 1044 ? (f < 1050 ? 1 - ((1 - k) * (f - 1044)) / 6 : k) : 1) * bend(f);
    const side = wave(f - 1000, T, 0.1);
    p.rot("hips", -1 - 13 * b, 2.2 * side, 2 * side);
    p.rot("loin", 1 + 11 * b, -1.4 * side, -1 * side);
    p.rot("chest", 12 * b, -1.6 * side, -1.4 * side);
    p.rot("neck", 14 - 5 * bend(f - 1.5), 0, 0.4 * side);
    p.rot("head", -8 - 4 * bend(f - 2.5), 1.2 * Math.sin(f / 19), 0);
    for (let i = 0; i < 4; i++)
      p.rot(
        `tail${i + 1}`,
        [10, -8, -7, -6][i] + whip[i + 1](f) * (0.8 + 0.2 * i),
        0.8 * wave(f - 1000 - 4 * i, T * 2),
        0,
      );
    for (const [s, m] of /** @type {[string, number][]} */ ([
      ["L", 1],
      ["R", -1],
    ]))
      p.rot(`ear${s}`, 26 + 0.5 * flop(f), 0, m * (34 + flap(f + (m > 0 ? 0 : -0.8))));
    const legs = () =>
      onFours(p, f, feet, {
        hip: 0.62,
        lift: 0.17,
        ramp: 0.34,
        arrive: 0.3,
        hindLean: 14,
        foreLean: -4,
        swing: 30,
        fold: 62,
        lifts: { foreL: 0.2, foreR: 0.2 },
      });
    centreAt(p, [0.004 * side, 0.568 + height(f - 1000), V * (f - 1000) + 0.32], legs);
  });
  return makeDocument({
    name,
    fps: FPS,
    range: RANGE,
    up: "z",
    unit: 0.01,
    bodies: [{ rig, name: n, curves: keyed(take, { how: "every" }) }],
    more: { surfaces: [{ id: "vallitie", normal: [0, 0, 1], height: 0 }] },
  });
}
export const clean = () => build(false);
export function flawed() {
  const doc = build(true);
  leaveOut(doc, [n("earR")], "rotation");
  pop(doc, n("head"), "rotation.y", 1031, 7);
  // The root's keys of a stretch were spread by hand: it hangs, and hurries after.
  retime(doc, [n("hips")], "translation", 1016, 1024, (f) => 1016 + 8 * ((f - 1016) / 8) ** 1.7);
  return doc;
}
const all = (/** @type {string[]} */ ...ids) => ids.map(n);
export const flaws = [
  {
    what: "From 1045 on the back goes stiff, it gallops like a table with legs; the spine has to fold and fling.",
    kind: "spine stiff",
    size: "strong",
    nodes: all("hips", "loin", "chest"),
    frames: [1045, 1084],
    order: 1,
  },
  {
    what: "Both forefeet come down together all the way through, that's a rocking horse; give me lead and trail.",
    kind: "footfall together",
    size: "strong",
    nodes: all("upperL", "lowerL", "wristL", "padL"),
    frames: [1001, 1084],
    order: 2,
  },
  {
    what: "The body drags behind its own legs at 1019 and then hurries, the run loses its beat there.",
    kind: "speed hitch",
    size: "ordinary",
    nodes: all("hips"),
    frames: [1016, 1024],
    order: 3,
  },
  {
    what: "The off ear is glued to the skull while the near one flies.",
    kind: "ear forgotten",
    size: "ordinary",
    nodes: all("earR", "earTipR"),
    frames: [1001, 1084],
    order: 4,
  },
  {
    what: "A twitch of the head for one frame, 1031.",
    kind: "one-frame twitch",
    size: "barely",
    nodes: all("head", "nose"),
    frames: [1030, 1032],
    order: 5,
  },
];
export const truth = {
  plants: Object.entries(plants).flatMap(([leg, list]) =>
    list
      .filter((q) => q.from >= RANGE[0] && q.to <= RANGE[1])
      .map((q) => ({
        node: n(`${leg.startsWith("h") ? "hoof" : "pad"}${leg.slice(-1)}`),
        frames: /** @type {[number, number]} */ ([Math.ceil(q.from), Math.floor(q.to)]),
        limit: 0.01,
      })),
  ),
  air: [0, 1, 2].flatMap((c) => [
    {
      frames: /** @type {[number, number]} */ ([1000 + T * (c + 0.3), 1000 + T * (c + 0.44)].map(Math.round)),
    },
    { frames: /** @type {[number, number]} */ ([1000 + T * (c + 0.76), 1000 + T * (c + 1)].map(Math.round)) },
  ]),
  ground: { nodes: ["padL", "padR", "hoofL", "hoofR"].map(n), height: 0, under: 0.008 },
  masses: masses(rig, n),
};
