// @ts-check
import { versions } from "../kit/declare.mjs";
import { makeShot } from "../kit/shot.mjs";
import { skeleton } from "../kit/skeleton.mjs";

export const name = "kid_puddle";
export const about =
  "Blocked in step keys: a small child looks at a puddle, crouches, jumps into it with both feet, gives in the knees, comes up cheering and leans over to see how far it splashed.";

const P = [1, 11, 19, 25, 29, 33, 38, 46, 56, 68, 80];

/** @param {boolean} bad */
export function build(bad) {
  const sk = skeleton({
    id: "barn",
    stature: 1.06,
    spines: 1,
    clav: false,
    words: {
      root: "Hofte",
      spine: ["Bryst"],
      neck: "Hals",
      head: "Hode",
      end: "HodeTopp",
      up: "Overarm",
      fore: "Underarm",
      hand: "Haand",
      fing: "Fingre",
      thigh: "Laar",
      shin: "Legg",
      foot: "Fot",
      toe: "Taa",
      tip: "TaaTupp",
    },
    side: (w, s) => `${s === "L" ? "V" : "H"}_${w}`,
    orders: { root: "yxz", all: "yxz" },
    build: { head: 0.2, shoulder: 0.1, hip: 0.06, thigh: 0.19, shin: 0.19, back: 0.29, up: 0.145, fore: 0.125 },
  });
  const key = (/** @type {any[]} */ ...v) => Object.fromEntries(P.map((f, i) => [f, v[i]]));
  const z = 0.62;
  const perf = /** @type {any} */ ({
    alive: 0,
    hips: key(
      [0.012, -0.014, 0], [-0.018, -0.02, -0.01], bad ? [-0.012, -0.02, 0] : [0, -0.125, -0.03], [0, -0.008, 0.1], [0, 0.15, 0.31], [0.004, 0.11, 0.5],
      bad ? [0.002, -0.02, z - 0.02] : [0.002, -0.15, z - 0.03], [0.02, -0.012, z], bad ? [0.028, -0.022, z + 0.1] : [-0.034, -0.022, z], [0.01, -0.07, z - 0.05], [0.012, -0.024, z - 0.01],
    ),
    hipsRot: key([1, 3, 0], [6, -3, 2], bad ? [6, 0, 0] : [26, 3, 0], [13, 2, 0], [-3, -4, -2], [-8, 3, 2], bad ? [3, 4, 1] : [24, 6, 2], [-3, -5, -3], [-4, 8, 4], [28, 6, 0], [4, 3, -1]),
    spine: key([3, 3, 0], [11, -5, 2], bad ? [10, 0, 0] : [25, 4, 0], [4, 2, 0], [-4, -5, -2], [8, 4, 2], bad ? [6, 5, 1] : [23, 5, 2], [-8, -6, -3], [-6, 9, 6], [22, 10, -3], [6, 4, -2]),
    neck: key([6, 0, 0], [10, -4, 0], [-14, 0, 0], [-10, 0, 0], [4, 2, 0], [10, 0, 0], [-10, 0, 0], [-4, 3, 0], [-4, -6, 3], [8, 5, 0], [-4, -4, 2]),
    head: key([16, 8, 2], [22, -9, 4], [-8, 4, 0], [-9, 0, 2], [6, 4, 0], [20, 0, 0], [2, 6, -3], [-10, 6, -4], [-12, -12, 7], [14, 16, -4], [-8, -10, 6]),
    footL: key(
      [0.075, 0, 0, 12], [0.075, 0, 0, 12], [0.075, 0, 0, 12], [0.075, 0, 0, 12], [0.08, 0.17, 0.28, 12], [0.085, 0.14, 0.56, 12],
      [0.09, 0, z, 15], [0.09, 0, z, 15], bad ? [0.15, 0, z + 0.05, 15] : [0.09, 0, z, 15], bad ? [0.18, 0, z + 0.02, 15] : [0.09, 0, z, 15], bad ? [0.13, 0, z, 15] : [0.09, 0, z, 15],
    ),
    footR: key(
      [-0.07, 0, -0.01, -13], [-0.07, 0, -0.01, -13], [-0.07, 0, -0.01, -13], [-0.07, 0, -0.01, -13], [-0.075, 0.21, 0.2, -13], [-0.08, 0.12, 0.53, -13],
      [-0.085, 0, z - 0.03, -14], [-0.085, 0, z - 0.03, -14], [-0.085, 0, z - 0.03, -14], [-0.085, 0, z - 0.03, -14], [-0.085, 0, z - 0.03, -14],
    ),
    rollL: key(0, 0, 0, 34, 40, -6, 0, 0, 0, 0, 0),
    rollR: key(0, 0, 0, 34, 48, 4, 0, 0, 0, 0, 0),
    kneeL: { 1: 10 },
    kneeR: { 1: 12 },
    armL: key([8, 12, 0, 34], [16, 20, -10, 60], [-44, 26, 0, 24], [30, 36, 0, 30], [96, 58, 0, 36], [84, 80, 0, 20], [38, 56, 0, 44], [152, 30, 0, 30], [166, 26, 0, 12], [-24, 36, 0, 40], [12, 20, 0, 40]),
    armR: key([4, 10, 0, 26], [4, 14, 0, 26], [-52, 22, 0, 32], [20, 30, 0, 44], [76, 74, 0, 30], [64, 88, 0, 34], [24, 62, 0, 30], [120, 48, 0, 64], [104, 70, 0, 84], [34, 22, 0, 70], [6, 14, 0, 26]),
    wristL: key([4, 0, 0], [12, 0, 0], [20, 0, 0], [10, 0, 0], [-18, 0, 0], [-12, 0, 0], [-26, 0, 0], [-10, 0, 0], [-30, 0, 0], [10, 0, 0], [14, 0, 0]),
    wristR: key([8, 0, 0], [4, 0, 0], [14, 0, 0], [16, 0, 0], [-10, 0, 0], [-20, 0, 0], [-20, 0, 0], [4, 0, 0], [-14, 0, 0], [20, 0, 0], [6, 0, 0]),
    fingL: key(20, 30, 40, 30, 8, 4, 6, 8, 4, 24, 30),
    fingR: key(24, 20, 36, 34, 10, 6, 8, 50, 56, 30, 22),
  });
  if (bad)
    // The right arm is the left one, mirrored, in each pose from the crouch on.
    for (const k of ["arm", "wrist", "fing"]) for (const f of P) if (f > 11) perf[`${k}R`][f] = perf[`${k}L`][f];
  return makeShot({
    name,
    fps: 24,
    last: 90,
    unit: 0.01,
    poses: P,
    shot: { stage: "blocking" },
    items: [
      { skel: sk, perf },
      { id: "Pytt", still: [0, 0, z], shapes: [{ kind: "box", size: [0.8, 0.004, 0.7], centre: [0, 0, 0] }] },
    ],
  });
}
export const { clean, flawed } = versions(build);

export const flaws = [
  {
    what: "In the pose at 56 the child has its weight in front of both feet; nobody can stand like that.",
    kind: "off-balance",
    size: "strong",
    nodes: ["Hofte", "Bryst"],
    frames: [56, 67],
    order: 2,
  },
  {
    what: "There is no crouch before the jump: it goes up from straight legs.",
    kind: "no anticipation",
    size: "strong",
    nodes: ["Hofte", "V_Laar", "V_Legg", "H_Laar", "H_Legg"],
    frames: [19, 28],
    order: 1,
  },
  {
    what: "Both arms are mirrored in each pose from the take-off to the end.",
    kind: "twinning",
    size: "ordinary",
    nodes: ["V_Overarm", "V_Underarm", "H_Overarm", "H_Underarm"],
    frames: [19, 90],
    order: 3,
  },
  {
    what: "It lands with straight legs, the landing has no give.",
    kind: "no-give",
    size: "ordinary",
    nodes: ["Hofte", "V_Laar", "V_Legg", "H_Laar", "H_Legg"],
    frames: [33, 45],
    order: 4,
  },
  {
    what: "The left foot is in another place in each of the last poses, though it never lifts.",
    kind: "foot-slide",
    size: "ordinary",
    nodes: ["V_Fot", "V_Taa"],
    frames: [46, 80],
    order: 5,
  },
];
