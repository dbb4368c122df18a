// @ts-check
import { pop } from "../../slips.mjs";
import { versions } from "../kit/declare.mjs";
import { straighten } from "../kit/flaws.mjs";
import { makeShot } from "../kit/shot.mjs";
import { skeleton } from "../kit/skeleton.mjs";

export const name = "no_you_go";
export const about =
  "A woman in talk shakes her head, waves a request away with her right hand, and shows the other one to the door with her left; then her arms sink and she waits.";

/** @param {boolean} bad */
export function build(bad) {
  const sk = skeleton({
    id: "moca",
    stature: 1.68,
    spines: 3,
    words: {
      root: "quadril",
      spine: ["coluna_baixa", "coluna_alta", "peito"],
      neck: "pescoco",
      head: "cabeca",
      end: "topo",
      clav: "ombro",
      up: "braco",
      fore: "antebraco",
      hand: "mao",
      fing: "dedos",
      thigh: "coxa",
      shin: "perna",
      foot: "pe",
      toe: "pontape",
      tip: "pontape_fim",
    },
    side: (w, s) => `${w}_${s === "L" ? "E" : "D"}`,
    orders: { root: "yxz", spine: "yxz", neck: "yxz", arm: "zyx" },
    armRest: 42,
  });
  const perf = /** @type {any} */ ({
    hips: {
      1: [0.03, -0.016, 0],
      14: [0.032, -0.017, 0],
      24: [0.036, -0.025, 0.004],
      36: [0.02, -0.013, -0.024],
      52: [0.014, -0.016, -0.02],
      60: [-0.008, -0.024, -0.01],
      74: [0.046, -0.018, 0.004],
      96: [0.05, -0.02, 0.004],
      112: [-0.026, -0.022, -0.004],
      124: [-0.031, -0.026, -0.002],
      144: [-0.031, -0.026, -0.002],
    },
    hipsRot: {
      1: [1, 3, 1.5],
      26: [2, 2, 1.5],
      38: [-1, -5, 0],
      58: [0, -7, 0],
      75: [1, 13, 1],
      98: [1, 12, 1],
      114: [1, 0, -2],
      144: [1, 0, -2],
    },
    spine: {
      1: [2, 2, -1],
      20: [3, 2, -1],
      37: [-4, -5, 0],
      57: [-2, -6, 0],
      76: [2, 8, -2],
      98: [2, 8, -2],
      116: [1, -1, 2],
      128: [2, -1, 2],
      144: [2, -1, 2],
    },
    chest: {
      1: [3, 3, -1],
      21: [4, 3, -1],
      39: [-6, -8, 1],
      58: [-3, -10, 1],
      78: [3, 14, -3],
      100: [3, 13, -3],
      118: [1, -2, 2],
      131: [3, -2, 2],
      144: [3, -2, 2],
    },
    neck: {
      1: [-1, -3, 0],
      9: [2, 4, 0],
      15: [3, -6, 0],
      21: [2, 5, 0],
      35: [-2, 4, 0],
      55: [-1, 6, 0],
      66: [0, 24, 0],
      80: [0, 12, 0],
      95: [-2, -10, 0],
      118: [0, 2, 0],
      144: [0, 2, 0],
    },
    head: {
      1: [-2, -5, 2],
      7: [4, 9, 0],
      13: [5, -13, 0],
      19: [4, 10, 0],
      26: [2, -4, 1],
      36: [-4, 5, -3],
      53: [-2, 8, -3],
      63: [2, 36, -2],
      78: [0, 17, -2],
      91: [-4, -16, 3],
      104: [-2, -13, 4],
      116: [4, 1, 4],
      124: [6, 2, 5],
      144: [4, 2, 5],
    },
    footL: { 1: [0.11, 0, 0.03, 16] },
    footR: { 1: [-0.11, 0, -0.01, -10] },
    kneeL: { 1: 7 },
    kneeR: { 1: 6 },
    clavR: { 1: [0, 0], 22: [-3, 0], 36: [9, 7], 54: [7, 6], 72: [0, 0], 144: [0, 0] },
    clavL: { 1: [0, 0], 58: [-2, 3], 76: [10, -8], 98: [9, -8], 118: [0, 0], 144: [0, 1] },
    armR: {
      1: [6, 14, -8, 34],
      20: [4, 13, -8, 32],
      26: [8, 18, -10, 44],
      36: [44, 40, -6, 98],
      42: [40, 32, -20, 92],
      48: [45, 42, 0, 96],
      54: [40, 33, -18, 92],
      64: [24, 26, -8, 70],
      76: [2, 12, 0, 24],
      84: [6, 13, -2, 30],
      106: [5, 12, -2, 26],
      118: [3, 10, -4, 22],
      144: [3, 10, -4, 22],
    },
    wristR: {
      1: [6, 0, 0],
      22: [4, 0, 0],
      30: [24, 0, 0],
      39: [-36, 0, 30],
      45: [-22, -6, 30],
      51: [-38, 6, 30],
      58: [-16, 0, 24],
      69: [18, 0, 4],
      82: [-6, 0, 0],
      92: [5, 0, 0],
      144: [5, 0, 0],
    },
    fingR: { 1: 26, 26: 34, 40: 2, 54: 6, 72: 20, 90: 28, 144: 26 },
    armL: {
      1: [4, 10, 0, 18],
      36: [0, 12, 0, 22],
      52: [4, 10, 0, 24],
      60: [26, 6, -24, 66],
      76: [34, 64, 22, 22],
      83: [32, 60, 20, 28],
      98: [32, 61, 20, 27],
      109: [12, 24, 0, 44],
      121: [-2, 9, 0, 14],
      130: [3, 11, -4, 20],
      144: [3, 11, -4, 19],
    },
    wristL: {
      1: [4, 0, 0],
      38: [6, 0, 0],
      54: [12, 0, 0],
      64: [30, 0, 20],
      80: [-26, 0, 60],
      90: [-14, 0, 56],
      100: [-16, 0, 54],
      113: [22, 0, 10],
      125: [-8, 0, 0],
      136: [5, 0, 0],
      144: [4, 0, 0],
    },
    fingL: { 1: 22, 58: 40, 82: 2, 100: 6, 120: 30, 144: 24 },
    opts: { kind: "bezier" },
  });
  if (bad) {
    // The right arm's keys were copied on the left, for the whole of the wave.
    for (const k of ["arm", "wrist", "fing"]) {
      for (const f of Object.keys(perf[`${k}L`]).map(Number)) if (f > 1 && f < 58) delete perf[`${k}L`][f];
      for (const f of Object.keys(perf[`${k}R`]).map(Number)) if (f < 56) perf[`${k}L`][f] = perf[`${k}R`][f];
    }
    delete perf.armL[60];
    delete perf.wristL[64];
    perf.armL[58] = [34, 26, -14, 80];
    // Nothing in the right wrist while the forearm waves.
    for (const f of Object.keys(perf.wristR).map(Number)) if (f > 22 && f < 92) delete perf.wristR[f];
    for (const f of Object.keys(perf.wristL).map(Number)) if (f > 22 && f < 58) delete perf.wristL[f];
    // The hips were keyed once.
    perf.hips = { 1: [0.03, -0.016, 0] };
    perf.hipsRot = { 1: [1, 3, 1.5] };
  }
  const b = makeShot({
    name,
    fps: 24,
    last: 144,
    unit: 0.01,
    shot: { stage: "splining" },
    items: [{ skel: sk, perf, body: true }],
    cameras: [{ id: "medio", eye: [-0.7, 1.3, 3.3], at: [0.04, 1.12, 0], fov: 34 }],
  });
  if (bad) {
    pop(b.doc, "cabeca", "rotation.y", 99, 12);
    for (const n of ["braco_E", "antebraco_E", "mao_E"]) {
      for (const c of b.doc.curves.filter((q) => q.node === n && q.channel.startsWith("rotation")))
        c.keys = c.keys.filter((k) => k[0] <= 98 || k[0] >= 130 || k[0] === 121);
      straighten(b.doc, n, "rotation", [96, 128]);
    }
  }
  b.doc.figures = [{ id: "moca", stature: 1.68, parts: sk.parts }];
  return b;
}
export const { clean, flawed } = versions(build);

export const flaws = [
  {
    what: "Both arms do the same wave on the same frames; the left was copied from the right and the pose twins.",
    kind: "twinning",
    size: "strong",
    nodes: ["braco_E", "antebraco_E", "braco_D", "antebraco_D"],
    frames: [22, 58],
    order: 1,
  },
  {
    what: "For one frame, 99, the head turns aside and back.",
    kind: "pop",
    size: "ordinary",
    nodes: ["cabeca"],
    frames: [98, 100],
    order: 2,
  },
  {
    what: "She stands as if nailed down: the hips do not take part in anything that she says.",
    kind: "freeze of a part",
    size: "ordinary",
    nodes: ["quadril"],
    frames: [1, 144],
    order: 3,
  },
  {
    what: "The wrist ignores the arm: in the wave the hands are boards at the ends of the forearms.",
    kind: "dead-wrist",
    size: "ordinary",
    nodes: ["mao_D", "mao_E"],
    frames: [24, 66],
    order: 4,
  },
  {
    what: "The left arm comes down at one even speed, without a start or an end to it.",
    kind: "even spacing",
    size: "ordinary",
    nodes: ["braco_E", "antebraco_E", "mao_E"],
    frames: [98, 130],
    order: 5,
  },
];
