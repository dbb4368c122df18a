import { beast, masses, names } from "../../creatures/kit/bodies.mjs";
import { makeDocument } from "../../creatures/kit/document.mjs";
import { keyed } from "../../creatures/kit/take.mjs";
import { onFours, played, withMore } from "../kit/stage.mjs";

export const name = "fox_listens";
export const about =
  "Blocking in held poses: a vixen noses along the ground, hears something, throws her head up to one side, then shrinks and looks to the other, a forepaw lifted.";

const FPS = 25;
const RANGE = [1, 100];
const HIP = 0.36;
const BODY = 0.46;
const TAIL = ["tail1", "tail2", "tail3", "tail4", "tail5"];
const rig = withMore(
  beast({
    hip: HIP,
    body: BODY,
    mass: 6,
    wide: 0.05,
    neck: [0, 0.09, 0.11],
    head: [0, -0.03, 0.13],
    tail: [0, -0.015, -0.085],
    tails: 6,
    hind: [0.385, 0.405, 0.285],
    fore: [0.37, 0.39, 0.24],
  }),
  [
    ["earL", "head", [0.035, 0.05, 0.02]],
    ["earTipL", "earL", [0.01, 0.08, 0]],
    ["earR", "head", [-0.035, 0.05, 0.02]],
    ["earTipR", "earR", [-0.01, 0.08, 0]],
  ],
);
const n = names({
  L: "sol",
  R: "sag",
  hips: "Kalca",
  loin: "Bel",
  chest: "Gogus",
  neck: "Boyun",
  head: "Kafa",
  nose: "Burun",
  ...Object.fromEntries(TAIL.map((id, i) => [id, `Kuyruk${i + 1}`])),
  tail6: "KuyrukUcu",
  "thigh*": "Uyluk_*",
  "shin*": "Baldir_*",
  "hock*": "Topuk_*",
  "hoof*": "ArkaPati_*",
  "upper*": "UstKol_*",
  "lower*": "AltKol_*",
  "wrist*": "Bilek_*",
  "pad*": "OnPati_*",
  "ear*": "Kulak_*",
  "earTip*": "KulakUcu_*",
});
// One row a pose. Place of the hips aside, up and ahead in cm; turns in degrees.
const COLS =
  "f hx hy hz hp hyaw lp lyaw cp cyaw np nyaw ap ayaw aroll el elt er ert t tl t1 s1 s2 pawL pawZ".split(" ");
const POSES = [
  [1, 0, -2.5, 0, 5, 2, 3, -1, 6, -2, 56, -4, 20, -6, 3, 12, -10, 8, -14, 34, -6, 8, 4, 5, 0, 0],
  [7, 0.3, -2.7, 0.6, 6, 1, 3, 0, 7, 1, 62, 5, 24, 6, -3, 9, -12, 13, -8, 30, -4, 9, -2, 2, 0, 0],
  [13, -0.2, -2.4, 0.2, 5, 2, 3, -1, 6, -1, 55, -3, 18, -4, 2, 8, -18, 10, -12, 33, -6, 8, -5, -4, 0, 0],
  // Hears it: all stops, the ears go first.
  [19, -0.2, -2.4, 0.1, 5, 2, 3, -1, 6, -1, 54, -2, 16, -2, 1, -8, 26, 6, 12, 28, -8, 4, -4, -6, 0, 0],
  // Down before up.
  [25, -0.4, -3.2, -0.7, 6, 2, 4, -1, 8, -3, 58, -6, 20, -8, 3, -4, 20, 2, 16, 36, -6, 10, -2, -5, 0, 0],
  [28, 0.1, -1.6, 0.1, 3, 3, 1, 2, 1, 3, 14, 12, 8, 26, -4, -10, 30, 10, 20, 22, 2, 6, 2, -2, 0, 0],
  [31, -0.3, -0.8, 0.6, 1, 5, -1, 5, -4, 8, -20, 26, 4, 34, -7, -14, 34, -2, 30, 8, 10, -4, 8, 6, 0, 0],
  [34, -0.2, -1, 0.5, 1, 5, -1, 6, -3, 10, -17, 28, 3, 32, -5, -12, 30, -4, 34, 4, 12, -10, 10, 10, 0, 0],
  [44, -0.2, -1.1, 0.5, 1, 5, -1, 6, -3, 10, -16, 28, 2, 33, -5, -18, 22, 4, 28, 6, 12, -8, 5, 9, 0, 0],
  [51, 0.4, -1.2, 0.3, 1, 4, -1, 5, -3, 9, -15, 26, 3, 29, 4, -6, 34, -22, 8, 4, 10, -7, 2, 3, 0, 0],
  // Shrinks back on its haunches, and the head goes low across.
  [55, -0.2, -4.6, -2.2, -4, 2, 1, 1, 4, 2, 6, 6, 10, 4, 4, 24, 4, 26, 2, 30, 2, 16, -5, -6, 0, 0],
  [58, 1.2, -6.4, -3.6, -6, -2, 2, -4, 8, -6, 14, -16, 4, -22, 6, 34, -6, 30, -4, 44, -8, 22, -10, -14, 0, 0],
  [61, 1.1, -5.6, -3.3, -5, -4, 2, -6, 7, -9, 8, -24, 0, -34, 5, 30, 0, 20, 10, 48, -10, 26, -13, -20, 0, 0],
  [65, 1.2, -5, -3.1, -5, -4, 1, -6, 6, -9, 4, -25, -2, -32, 3, 16, 12, -8, 30, 44, -8, 22, -9, -15, 0, 0],
  // Weight to the right, and the near forepaw comes up.
  [
    75, 1.2, -4.6, -3.4, -5, -3, 1, -6, 5, -8, 2, -25, -2, -30, -3, -2, 26, -12, 32, 40, -4, 18, -3, -5, 3.2,
    1,
  ],
  [
    79, 0.6, -4.2, -3.6, -6, -3, 1, -6, 4, -8, -4, -26, 0, -31, -6, -10, 30, -14, 34, 36, -2, 14, 2, 2, 7.4,
    2.4,
  ],
  [
    83, 0.7, -4.3, -3.5, -6, -3, 1, -6, 4, -8, -3, -26, 0, -30, -5, -9, 28, -12, 33, 34, -2, 12, 5, 7, 6.8,
    2.2,
  ],
  [
    93, 0.7, -4.4, -3.5, -6, -3, 1, -6, 4, -8, -2, -26, -1, -31, -6, -12, 32, -4, 26, 35, -3, 13, 1, 5, 6.9,
    2.2,
  ],
].map((row) => Object.fromEntries(row.map((v, i) => [COLS[i], v])));
const FRAMES = POSES.map((p) => p.f);
const FEET = { hindL: [0.055, -0.02], hindR: [-0.05, 0.05], foreL: [0.05, 0.365], foreR: [-0.045, 0.42] };

function poseAt(f, bad) {
  const i = FRAMES.filter((a) => a <= f).length - 1;
  const q = { ...POSES[i] };
  if (!bad) return q;
  const take = (other, cols) => {
    const from = POSES.find((p) => p.f === other);
    for (const c of cols.split(" ")) q[c] = from[c];
  };
  // The head's way up was given to the whole body on one pose.
  if (q.f === 28) take(34, "hx hy hz hp hyaw lp lyaw cp cyaw np nyaw ap ayaw aroll");
  if (q.f === 31) take(34, "hx hy hz hp hyaw lp lyaw cp cyaw np nyaw ap ayaw aroll");
  if (q.f === 25) take(19, "hx hy hz hp lp cp np nyaw ap ayaw aroll");
  // The tail was keyed up to the first look, and no further.
  if (q.f >= 44) take(34, "t tl t1 s1 s2");
  if (q.f === 55 || q.f === 58 || q.f === 61 || q.f === 65) take(51, "hy hz");
  if (q.f >= 75) q.hx = 4.6;
  if (q.f === 51)
    for (const [a, b] of [
      ["er", "el"],
      ["ert", "elt"],
    ])
      q[a] = q[b];
  return q;
}
function build(bad) {
  const take = played(rig, RANGE, (p, f) => {
    const q = poseAt(f, bad);
    p.move("hips", q.hx / 100, HIP * 0.97 + q.hy / 100, q.hz / 100);
    p.rot("hips", q.hp, q.hyaw, 0);
    p.rot("loin", q.lp, q.lyaw, 0);
    p.rot("chest", q.cp, q.cyaw, 0);
    p.rot("neck", q.np, q.nyaw, 0.4 * q.aroll);
    p.rot("head", q.ap, q.ayaw, q.aroll);
    for (const [s, m] of [
      ["L", 1],
      ["R", -1],
    ]) {
      p.rot(`ear${s}`, -(s === "L" ? q.el : q.er), m * (s === "L" ? q.elt : q.ert), 0);
      p.rot(`earTip${s}`, -0.4 * (s === "L" ? q.el : q.er), 0, 0);
    }
    for (const [i, id] of TAIL.entries()) {
      const lift = [-q.t, -q.t1 * 0.7, q.t1 * 0.4, q.t1 * 0.8, q.t1][i];
      p.rot(id, lift, [q.s1, q.s1, 0.6 * q.s1 + 0.4 * q.s2, q.s2, q.s2 * 1.1][i] + q.tl * 0.3, 0);
    }
    const feet = Object.fromEntries(
      Object.entries(FEET).map(([leg, [x, z]]) => {
        const slip = bad && leg === "hindR" && q.f >= 55 && q.f <= 61 ? 0.06 : 0;
        const up = leg === "foreL" ? q.pawL / 100 : 0;
        return [leg, [{ from: -99, to: 999, at: [x, up, z - slip + (leg === "foreL" ? q.pawZ / 100 : 0)] }]];
      }),
    );
    onFours(p, f, feet, { hip: HIP, lift: 0, ramp: 0.3, hindLean: 8, foreLean: 0, swing: 25, fold: 0 });
  });
  return makeDocument({
    name,
    fps: FPS,
    range: RANGE,
    up: "z",
    unit: 0.01,
    shot: { stage: "blocking" },
    bodies: [{ rig, name: n, curves: keyed(take, { how: "step", poses: FRAMES }) }],
    more: {
      surfaces: [{ id: "toprak", height: 0 }],
      contacts: ["padR", "hoofL", "hoofR"].map((id) => ({ node: n(id), with: "toprak", frames: RANGE })),
    },
  });
}
export const clean = () => build(false);
export const flawed = () => build(true);
const all = (...ids) => ids.map(n);
export const flaws = [
  {
    what: "Ears, head, chest and hips all get to the left on the same pose; nose and ears lead, the body is pulled round after.",
    kind: "all at once",
    size: "strong",
    nodes: all("hips", "loin", "chest", "neck", "head"),
    frames: [28, 33],
    order: 1,
  },
  {
    what: "No dip before she throws the head up, the down pose at 25 isn't there.",
    kind: "no anticipation",
    size: "ordinary",
    nodes: all("neck", "head", "hips"),
    frames: [25, 27],
    order: 3,
  },
  {
    what: "The off hind foot jumps back six centimetres when she shrinks and is back later, it never stepped.",
    kind: "foot jumps",
    size: "strong",
    nodes: all("thighR", "shinR", "hockR", "hoofR"),
    frames: [55, 64],
    order: 2,
  },
  {
    what: "She is frightened in the neck only, the haunches don't go down and back with it.",
    kind: "crouch without body",
    size: "ordinary",
    nodes: all("hips"),
    frames: [55, 74],
    order: 4,
  },
  {
    what: "After 44 nobody touched the tail, one pose to the end while the rest of her is afraid.",
    kind: "tail forgotten",
    size: "ordinary",
    nodes: TAIL.map(n),
    frames: [44, 100],
    order: 5,
  },
  {
    what: "She leans onto the very paw that she is lifting.",
    kind: "weight on lifted foot",
    size: "ordinary",
    nodes: all("hips", "padL"),
    frames: [75, 100],
    order: 6,
  },
  {
    what: "Both ears go the same way at 51, I liked them apart.",
    kind: "ears twinned",
    size: "barely",
    nodes: all("earR", "earTipR"),
    frames: [51, 54],
    order: 7,
  },
];
export const truth = {
  plants: ["padR", "hoofL", "hoofR"].map((id) => ({ node: n(id), frames: RANGE, limit: 0.002 })),
  ground: { nodes: all("padL", "padR", "hoofL", "hoofR", "nose"), height: 0 },
  spikes: { ratio: 1e9 },
  masses: masses(rig, n),
};
