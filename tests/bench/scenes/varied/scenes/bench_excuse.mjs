// @ts-check
import { heldThen } from "../../mixed/kit/edits.mjs";
import { turnTrack } from "../../mixed/kit/turns.mjs";
import { full, versions } from "../../people/kit/declare.mjs";
import { handTurn } from "../../people/kit/pose.mjs";
import { makeShot, track } from "../../people/kit/shot.mjs";
import { raise } from "../../slips.mjs";
import { ease, has, keys, person } from "../kit/parts.mjs";

export const name = "bench_excuse";
export const about =
  "On a bench a woman looks up from her lap and excuses herself: two beats of the right hand, both hands thrown open with a shrug, and back into the lap.";

const Z = 1000;
const rest = { L: [0.1, 0.528, 0.235], R: [-0.095, 0.528, 0.215] };
/** Keys in the shot's own frames. @param {Record<number, any>} k */
const at = (k) => Object.fromEntries(Object.entries(k).map(([f, v]) => [Number(f) + Z, v]));

/** @param {import("../kit/parts.mjs").Bad} bad */
export function build(bad) {
  const sk = person(
    "vizinha",
    1.64,
    "quadril abdomen/peito pescoco cabeca topo ombro braco antebraco mao dedos coxa canela pe ponta fim",
    {
      side: (/** @type {string} */ w, /** @type {string} */ s) => `${w}_${s === "L" ? "esq" : "dir"}`,
      orders: { root: "yxz", spine: "yxz", neck: "yxz", arm: "xzy" },
    },
  );
  const drop = has(bad, 2) ? -0.06 : 0;
  const right = track(
    at({
      1: rest.R,
      24: rest.R,
      28: [-0.1, 0.545, 0.2],
      36: [-0.25, 0.83, 0.27],
      42: { v: [-0.235, 0.985, 0.35], s: [0.003, 0.004, 0.004] },
      46: [-0.225, 0.89, 0.41],
      54: [-0.245, 0.96, 0.385],
      58: [-0.25, 0.875, 0.425],
      66: [-0.22, 0.91, 0.36],
      76: [-0.42, 0.97, 0.32],
      81: [-0.45, 0.985, 0.315],
      92: [-0.455, 1.0, 0.31],
      98: [-0.455, 0.98, 0.31],
      108: [-0.3, 0.78, 0.33],
      115: {
        v: [rest.R[0], rest.R[1] + drop, rest.R[2] + 0.01],
        in: [0.005, -0.012, -0.006],
        out: [0, 0, 0],
      },
      118: [rest.R[0] + 0.004, rest.R[1] + 0.008 + drop, rest.R[2] + 0.005],
      123: [rest.R[0] + 0.004, rest.R[1] + drop, rest.R[2] + 0.004],
      150: [rest.R[0] + 0.004, rest.R[1] + (has(bad, 2) ? drop : 0), rest.R[2] + 0.004],
    }),
  );
  const left = track(
    at({
      1: rest.L,
      58: rest.L,
      63: [0.105, 0.542, 0.22],
      71: [0.26, 0.78, 0.3],
      79: [0.38, 0.9, 0.31],
      85: [0.395, 0.915, 0.3],
      95: [0.4, 0.925, 0.295],
      101: [0.395, 0.905, 0.3],
      112: [0.23, 0.72, 0.3],
      120: {
        v: [rest.L[0] + 0.02, rest.L[1], rest.L[2] - 0.02],
        in: [-0.005, -0.01, -0.004],
        out: [0, 0, 0],
      },
      123: [rest.L[0] + 0.02, rest.L[1] + 0.006, rest.L[2] - 0.022],
      127: [rest.L[0] + 0.02, rest.L[1], rest.L[2] - 0.022],
      150: [rest.L[0] + 0.02, rest.L[1], rest.L[2] - 0.022],
    }),
  );
  const hands = {
    R: turnTrack(
      at({
        1: handTurn("R", [0.35, -0.1, 1], [0.1, -1, 0]),
        28: handTurn("R", [0.35, -0.1, 1], [0.1, -1, 0]),
        38: handTurn("R", [0.2, -0.5, 0.9], [0.8, -0.3, 0.1]),
        44: handTurn("R", [-0.1, 0.55, 0.85], [0.75, 0.5, 0]),
        49: handTurn("R", [0.05, 0.0, 1], [0.7, 0.7, 0.1]),
        56: handTurn("R", [-0.1, 0.4, 0.9], [0.75, 0.55, 0]),
        61: handTurn("R", [0.0, -0.08, 1], [0.7, 0.7, 0.1]),
        68: handTurn("R", [0.1, -0.25, 1], [0.9, 0.1, 0.1]),
        80: handTurn("R", [-0.65, 0.1, 0.75], [0.25, 0.95, 0.1]),
        96: handTurn("R", [-0.7, 0.0, 0.7], [0.2, 0.98, 0.1]),
        110: handTurn("R", [0.2, -0.1, 1], [0.75, -0.5, 0]),
        117: handTurn("R", [0.4, -0.1, 1], [0.1, -1, 0]),
        150: handTurn("R", [0.4, -0.1, 1], [0.1, -1, 0]),
      }),
    ),
    L: turnTrack(
      at({
        1: handTurn("L", [-0.4, -0.1, 1], [-0.1, -1, 0]),
        63: handTurn("L", [-0.4, -0.1, 1], [-0.1, -1, 0]),
        73: handTurn("L", [0.1, -0.4, 1], [-0.9, 0, 0.2]),
        84: handTurn("L", [0.6, 0.05, 0.8], [-0.25, 0.95, 0.1]),
        99: handTurn("L", [0.65, -0.05, 0.75], [-0.2, 0.98, 0.1]),
        114: handTurn("L", [-0.1, -0.15, 1], [-0.8, -0.45, 0]),
        122: handTurn("L", [-0.45, -0.1, 1], [-0.1, -1, 0]),
        150: handTurn("L", [-0.45, -0.1, 1], [-0.1, -1, 0]),
      }),
    ),
  };
  // Twins: the left hand does what the right one does, at the same time.
  const twin = has(bad, 1);
  const mix = (/** @type {number} */ f) => ease(f, Z + 26, Z + 32) * (1 - ease(f, Z + 114, Z + 121));
  const leftAt = (/** @type {number} */ f) =>
    left(f).map(
      (/** @type {number} */ v, /** @type {number} */ i) =>
        v + (twin ? mix(f) * ((i === 0 ? -1 : 1) * right(f)[i] - v) : 0),
    );
  const leftTurn = (/** @type {number} */ f) => {
    const q = hands.R(f);
    return twin && mix(f) > 0.5 ? [q[0], -q[1], -q[2], q[3]] : hands.L(f);
  };
  const mate = [0.35, 1.16, 1.5];
  const gaze = track(
    keys(
      `1: 0.02 0.62 0.42 | 16: 0.02 0.62 0.42 | 27: ${mate.join(" ")} | 121: ${mate.join(" ")} | 134: -0.3 0.62 0.85 | 150: -0.3 0.62 0.85`,
      Z,
    ),
  );
  const off = (/** @type {number} */ f) =>
    has(bad, 4) ? 0.42 * ease(f, Z + 40, Z + 50) * (1 - ease(f, Z + 70, Z + 78)) : 0;
  const shrug = has(bad, 6) ? 0 : 1;
  const perf = /** @type {any} */ ({
    alive: 0.8,
    leans: () => true,
    opts: { kind: "bezier" },
    hips: keys(
      "1: 0 -0.365 -0.02 | 26: 0 -0.362 -0.02 | 44: -0.004 -0.364 -0.01 | 80: 0.004 -0.362 -0.012 | 126: 0 -0.366 -0.022 | 150: 0 -0.366 -0.022",
      Z,
    ),
    hipsRot: keys(
      "1: -7 0 0 | 20: -7 0 0 | 32: -3 2 0 | 46: 2 4 0 | 70: 0 4 0 | 82: -3 6 0 | 120: -7 3 0 | 150: -8 0 0",
      Z,
    ),
    spine: keys(
      "1: 13 0 0 | 19: 14 0 0 | 31: 5 2 0 | 47: 9 5 1 | 56: 7 5 1 | 61: 9 5 1 | 71: 8 5 0 | 83: 4 5 -1 | 98: 5 5 -1 | 122: 12 1 0 | 150: 13 -2 0",
      Z,
    ),
    chest: keys(
      "1: 14 0 0 | 20: 15 0 0 | 33: 2 3 0 | 48: 9 8 2 | 56: 5 8 1 | 62: 9 8 2 | 72: 8 7 0 | 85: -1 8 -2 | 99: 1 8 -2 | 110: 7 5 0 | 124: 15 0 0 | 134: 13 -2 0 | 150: 14 -3 0",
      Z,
    ),
    head: keys(
      "1: 0 0 2 | 18: 0 0 2 | 36: -2 0 0 | 44: -4 0 3 | 49: 4 0 3 | 56: -2 0 3 | 62: 5 0 2 | 74: 0 0 0 | 86: -3 0 -9 | 100: -3 0 -9 | 116: 2 0 -2 | 150: 2 0 2",
      Z,
    ),
    look: {
      w: keys("1: 0.85 | 150: 0.85", Z),
      at: (/** @type {number} */ f) =>
        gaze(f).map(
          (/** @type {number} */ v, /** @type {number} */ i) =>
            v + (i === 1 ? off(f) : i === 0 ? 0.5 * off(f) : 0),
        ),
    },
    clavL: keys(
      `1: 0 2 | 74: 0 2 | 84: ${11 * shrug} 0 | 98: ${9 * shrug} 0 | 112: -1 3 | 122: 0 2 | 150: 0 2`,
      Z,
    ),
    clavR: keys(
      `1: 0 2 | 32: 0 2 | 42: 4 5 | 60: 3 5 | 71: 1 3 | 81: ${12 * shrug} 0 | 96: ${10 * shrug} 0 | 109: -1 3 | 120: 0 2 | 150: 0 2`,
      Z,
    ),
    footL: at({ 1: [0.1, 0, 0.36, 8] }),
    footR: at({ 1: [-0.1, 0, 0.27, -9] }),
    handR: { w: at({ 1: 1 }), pole: [-0.75, -0.75, -0.35], at: right, rot: hands.R },
    handL: { w: at({ 1: 1 }), pole: [0.75, -0.75, -0.35], at: leftAt, rot: leftTurn },
    fingR: keys(
      "1: 16 | 28: 16 | 40: 34 | 47: 8 | 55: 16 | 60: 6 | 68: 26 | 82: 4 | 98: 8 | 110: 30 | 118: 16 | 150: 18",
      Z,
    ),
    fingL: keys("1: 18 | 62: 18 | 72: 32 | 86: 5 | 100: 9 | 114: 30 | 123: 18 | 150: 20", Z),
  });
  const b = makeShot({
    name,
    fps: 25,
    first: Z + 1,
    last: Z + 150,
    shot: { stage: "polish" },
    items: [
      {
        id: "banco",
        still: [0, 0.395, -0.05],
        shapes: [{ kind: "box", size: [1.4, 0.05, 0.42] }],
        colour: "#6b4a2c",
      },
      { id: "vizinho", still: mate, shapes: [{ kind: "sphere", radius: 0.11 }] },
      { skel: sk, perf, body: true },
    ],
    cameras: [{ id: "medio", eye: [1.5, 1.25, 3.1], at: [-0.02, 0.9, 0.15], fov: 30 }],
  });
  full(b, {
    contacts: [
      { node: "quadril", with: "banco", frames: [Z + 1, Z + 150] },
      { node: "mao_dir", with: "coxa_dir", frames: [Z + 1, Z + 24] },
      { node: "mao_dir", with: "coxa_dir", frames: [Z + 123, Z + 150] },
      { node: "mao_esq", with: "coxa_esq", frames: [Z + 1, Z + 58] },
      { node: "mao_esq", with: "coxa_esq", frames: [Z + 127, Z + 150] },
    ],
    gazes: [{ figure: "vizinha", at: "vizinho", frames: [Z + 36, Z + 82] }],
  });
  if (has(bad, 3)) {
    heldThen(b.doc, "pescoco", "rotation", Z + 80, Z + 118, Z + 128);
    heldThen(b.doc, "cabeca", "rotation", Z + 80, Z + 118, Z + 128);
  }
  if (has(bad, 5)) raise(b.doc, ["dedos_dir"], "rotation.z", Z + 40, Z + 62, 60);
  return b;
}
export const { clean, flawed } = versions(build);

export const flaws = [
  {
    what: "Both hands do the very same thing on the same frames through the whole line; break up the twins, let one lead.",
    kind: "twinning",
    size: "strong",
    nodes: ["mao_esq", "antebraco_esq", "braco_esq"],
    frames: [1027, 1120],
    order: 1,
  },
  {
    what: "When she drops her hands, the right one lands inside her thigh and stays there.",
    kind: "through-the-leg",
    size: "ordinary",
    nodes: ["mao_dir", "antebraco_dir", "braco_dir", "coxa_dir"],
    frames: [1103, 1150],
    order: 2,
  },
  {
    what: "The head goes dead in the shrug: it is carried by the chest like a bust, right when she should plead.",
    kind: "dead-head",
    size: "ordinary",
    nodes: ["cabeca", "pescoco"],
    frames: [1080, 1128],
    order: 3,
  },
  {
    what: "On the two beats she talks over the top of the neighbour's head, the look has drifted off.",
    kind: "off-eyeline",
    size: "ordinary",
    nodes: ["cabeca", "pescoco"],
    frames: [1041, 1077],
    order: 4,
  },
  {
    what: "The shrug is in the hands alone, her shoulders don't know of it.",
    kind: "no-shrug",
    size: "barely",
    nodes: ["ombro_esq", "ombro_dir", "braco_esq", "braco_dir"],
    frames: [1074, 1110],
    order: 6,
  },
  {
    what: "The fingers of the right hand are balled to a fist on what should be the open hand of an excuse.",
    kind: "wrong-hand-pose",
    size: "ordinary",
    nodes: ["dedos_dir"],
    frames: [1029, 1067],
    order: 5,
  },
];
