// @ts-check
import { track } from "../../people/kit/curve.mjs";
import { full, versions } from "../../people/kit/declare.mjs";
import { turn, about as turnBy } from "../../people/kit/math.mjs";
import { makeShot } from "../../people/kit/shot.mjs";
import { skeleton } from "../../people/kit/skeleton.mjs";
import { tick } from "../kit/edits.mjs";

export const name = "single_turn";
export const about =
  "A dancer sinks, rises onto the ball of her left foot, turns once to her right with the other foot at the knee, sets it down behind and opens her arms.";

/** @param {boolean} bad */
export function build(bad) {
  const sk = skeleton({
    id: "dancer",
    stature: 1.66,
    spines: 3,
    words: {
      root: "Cadera",
      spine: ["Columna", "Columna", "Columna"].map((w, i) => `${w}${"ABC"[i]}`),
      neck: "Cuello",
      head: "Cabeza",
      end: "Cabeza_Fin",
      clav: "Clavicula",
      up: "Brazo",
      fore: "Antebrazo",
      hand: "Mano",
      fing: "Dedos",
      thigh: "Muslo",
      shin: "Pantorrilla",
      foot: "Pie",
      toe: "Empeine",
      tip: "Empeine_Fin",
    },
    side: (w, s) => `${s === "L" ? "Izq" : "Der"}_${w}`,
    orders: { root: "yxz", neck: "yxz", spine: "yxz" },
    armRest: 40,
  });
  const ball = sk.size.ball;
  const yaw = track(
    bad
      ? {
          1: 0,
          12: 0,
          30: 14,
          34: { v: 8, s: -4 },
          40: { v: -34, s: -10 },
          64: { v: -360, in: -14.5, out: 0 },
          110: -360,
        }
      : {
          1: 0,
          12: 0,
          30: 14,
          34: { v: 8, s: -4 },
          40: { v: -34, s: -10 },
          60: { v: -310, s: -11 },
          72: -362,
          80: -360,
        },
  );
  // Where the ball of the standing foot is; the flawed one wanders.
  const mark = [0.103, 0.174];
  const wander = track(bad ? { 42: 0, 62: 0.075 } : { 42: 0, 62: 0 });
  const spot = (/** @type {number} */ f) => [mark[0] + wander(f), mark[1] - wander(f) * 0.6];
  const footYaw = track({
    1: 25,
    37: 25,
    44: { v: yaw(44) + 30, s: -13 },
    58: { v: yaw(58) + 30, s: -12 },
    69: -336,
    110: -336,
  });
  const footL = (/** @type {number} */ f) => {
    const y = footYaw(f);
    const out = turn(turnBy(1, y), [0, 0, ball]);
    const [x, z] = spot(f);
    return [x - out[0], 0, z - out[2], y];
  };
  const from = [-0.08, 0, -0.15];
  const to = [-0.07, 0, -0.14];
  const back = (/** @type {number[]} */ p, /** @type {number} */ a) =>
    turn(turnBy(1, -a), [p[0] - mark[0], p[1], p[2] - mark[1]]);
  const angle = track({
    37: { v: yaw(37), s: -2 },
    47: { v: yaw(47) + 4, s: -13 },
    58: { v: yaw(58), s: -11 },
    69: -360,
    110: -360,
  });
  const start = back(from, angle(37));
  const end = back(to, -360);
  const local = track({
    37: { v: start, s: [0, 0.012, 0] },
    49: [-0.11, 0.42, 0.1],
    57: [-0.11, 0.42, 0.1],
    69: { v: end, in: [0, -0.02, 0], out: [0, 0, 0] },
  });
  const yawR = track({
    1: -40,
    37: { v: -40, s: 0 },
    49: { v: yaw(49) - 40, s: -13 },
    58: { v: yaw(58) - 40, s: -11 },
    69: -400,
    110: -400,
  });
  const footR = (/** @type {number} */ f) => {
    if (f <= 37) return [...from, -40];
    if (f >= 69) return [...to, -400];
    const p = turn(turnBy(1, angle(f)), local(f));
    return [mark[0] + p[0], p[1], mark[1] + p[2], yawR(f)];
  };
  const over = track({ 1: 0, 26: 0.1, 42: 1, 62: 1, 74: 0.25, 90: 0.2 });
  const high = track({
    1: -0.022,
    12: -0.028,
    28: -0.13,
    31: -0.13,
    43: 0.048,
    60: 0.046,
    64: 0.026,
    76: -0.13,
    92: -0.03,
    110: -0.028,
  });
  // What brings the centre of mass over the ball of the foot while the other leg is up.
  const lean = [0.035, -0.02];
  const hips = (/** @type {number} */ f) => {
    const w = over(f);
    const o = turn(turnBy(1, yaw(f)), [lean[0], 0, lean[1]]);
    const [x, z] = bad ? [mark[0] - 0.1, mark[1] - 0.06] : spot(f);
    return [0.005 + (x + o[0] - 0.005) * w, high(f) - (bad ? 0.02 * w : 0), 0.0 + (z + o[2]) * w];
  };
  const perf = /** @type {any} */ ({
    hips: Object.assign(hips, { frames: [1, 12, 28, 42, 60, 76, 92] }),
    hipsRot: Object.assign((/** @type {number} */ f) => [0, yaw(f), 0], { frames: [12, 30, 40, 60, 72, 80] }),
    spine: {
      1: [-2, 0, 0],
      30: [2, 6, 0],
      40: [-2, -6, 0],
      52: [-3, -2, 0],
      66: [-2, 4, 0],
      78: [2, -4, 0],
      94: [-5, 6, -2],
      110: [-5, 6, -2],
    },
    chest: {
      1: [-2, 0, 0],
      31: [2, 8, 0],
      41: [-2, -8, 0],
      53: [-3, -2, 0],
      67: [-2, 5, 0],
      79: [2, -5, 0],
      96: [-7, 8, -3],
      110: [-7, 8, -3],
    },
    neck: {
      1: [0, 0, 0],
      30: [0, -10, 0],
      35: [0, 2, 0],
      44: { v: [-2, 40, 0], s: [0, 2, 0] },
      47: [-2, 42, 0],
      55: [-2, -38, 0],
      62: [-1, -26, 0],
      74: [0, 2, 0],
      96: [-4, 10, 0],
    },
    head: {
      1: [-2, 0, 0],
      30: [-2, -12, 0],
      35: [-2, 2, 0],
      44: { v: [-2, 42, 0], s: [0, 2, 0] },
      47: [-2, 44, 0],
      55: [-2, -40, 0],
      62: [-2, -28, 0],
      74: [-2, 2, 0],
      97: [-6, 14, 3],
    },
    footL: Object.assign(footL, { frames: [37, 44, 58, 69] }),
    footR: Object.assign(footR, { frames: [37, 49, 57, 69] }),
    rollL: { 1: 0, 32: 0, 42: 46, 60: 46, 70: 0, 110: 0 },
    rollR: { 1: 0, 26: 2, 32: 16, 37: 40, 45: 62, 58: 60, 69: 22, 75: 8, 88: 20, 110: 20 },
    kneeL: { 1: 4, 28: 10, 42: 0 },
    kneeR: { 1: 4, 37: 6, 50: 42, 57: 42, 69: 6 },
    clavL: { 1: [0, 0], 44: [0, 5], 60: [0, 5], 80: [2, 0], 96: [4, 0] },
    clavR: { 1: [0, 0], 28: [0, 5], 44: [0, 5], 60: [0, 5], 80: [2, 0], 96: [3, 0] },
    armL: {
      1: [14, 14, 10, 34],
      14: [16, 20, 8, 34],
      29: [26, 66, 0, 24],
      36: [34, 62, 4, 28],
      46: [44, 26, 38, 66],
      60: [46, 25, 38, 64],
      76: [36, 54, 8, 30],
      94: [66, 70, 0, 18],
      110: [67, 71, 0, 18],
    },
    armR: {
      1: [14, 14, 10, 38],
      14: [24, 16, 20, 42],
      29: [56, 14, 34, 48],
      37: [42, 44, 8, 34],
      46: [50, 28, 36, 62],
      60: [52, 27, 36, 60],
      78: [24, 56, 4, 30],
      97: [-4, 62, 0, 16],
      110: [-5, 63, 0, 16],
    },
    wristL: {
      1: [8, 0, 0],
      29: [-8, 0, 0],
      38: [14, 0, 0],
      48: [10, 0, 0],
      62: [10, 0, 0],
      80: [18, 0, 0],
      98: [-10, 0, 0],
    },
    wristR: {
      1: [8, 0, 0],
      29: [10, 0, 0],
      39: [12, 0, 0],
      48: [12, 0, 0],
      62: [11, 0, 0],
      82: [16, 0, 0],
      101: [-12, 0, 0],
    },
    fingL: { 1: 14, 48: 20, 98: 4 },
    fingR: { 1: 14, 48: 22, 101: 6 },
  });
  if (bad) {
    // The head's keys for the turn were set on x alone.
    for (const k of ["neck", "head"]) for (const f of [35, 44, 47, 55, 62]) perf[k][f] = [-2, 0, 0];
  }
  return full(
    makeShot({
      name,
      fps: 30,
      last: 110,
      shot: { stage: "polish" },
      items: [{ skel: sk, perf, body: true }],
    }),
  );
}
const both = versions(build);
export const { clean } = both;
export function flawed() {
  const doc = both.flawed();
  return tick(doc, "Der_Antebrazo", "rotation.x", 101, 6);
}
export const flaws = [
  {
    what: "On the ball of one foot her weight hangs more than ten centimetres beside and behind it; nobody turns like that, she falls.",
    kind: "off-balance",
    size: "strong",
    nodes: ["Cadera"],
    frames: [38, 66],
    order: 1,
  },
  {
    what: "The turn stops dead at 64 at full speed, no slowing down into the landing.",
    kind: "hard-stop",
    size: "ordinary",
    nodes: ["Cadera"],
    frames: [61, 67],
    order: 2,
  },
  {
    what: "She turns like a block: the head is carried round with the body, it neither waits in front nor comes round first.",
    kind: "one-block",
    size: "ordinary",
    nodes: ["Cuello", "Cabeza"],
    frames: [34, 70],
    order: 3,
  },
  {
    what: "The toe she turns on wanders nearly a hand's length over the floor.",
    kind: "foot-slide",
    size: "ordinary",
    nodes: ["Izq_Pie", "Izq_Empeine"],
    frames: [42, 62],
    order: 4,
  },
  {
    what: "A tick of the right elbow while the pose at the end is held.",
    kind: "pop",
    size: "barely",
    nodes: ["Der_Antebrazo"],
    frames: [100, 102],
    order: 5,
  },
];
