// @ts-check
/** gate_0050: a lock keeper hears a bell, looks to it, and waves a barge to the other side. 24 frames per second, centimetres. */
import { bipedNodes } from "../motion/biped.mjs";
import { moves, sum, times } from "../motion/moves.mjs";
import { keyStance } from "../motion/standing.mjs";

const range = { from: 1, to: 132 };
/** The frame at which the bell rings. */
const rings = 34;

/**
 * Which faults a version has.
 * @typedef {object} SignallerFaults
 * @property {boolean} [early] the head turns to the bell before that rings
 * @property {boolean} [past] the head stops short of the bell
 * @property {boolean} [merged] the right hand is raised before the chest
 * @property {boolean} [atLens] the left arm points into the lens
 * @property {boolean} [flicker] the signal flickers
 * @property {boolean} [grey] the coat has the colour of the wall
 */

/** @param {SignallerFaults} faults */
export function signaller(faults) {
  const nodes = bipedNodes();
  const turns = rings + (faults.early ? -10 : 5);
  const breath = (/** @type {number} */ f) => 0.5 * Math.sin((f - 3) / 9.5);
  // The eyes lead the head, the head the chest, the chest the hips.
  const short = faults.past ? 17 : 0;
  const headYaw = moves(-1, [3, 22, -3], [turns, turns + 11, 42 - short], [88, 102, short - 36], [104, 132, -3]);
  const chestYaw = moves(-2, [turns + 3, turns + 17, 15], [91, 108, -21], [108, 132, -2]);
  const hipsYaw = moves(0, [turns + 6, turns + 22, 7], [93, 112, -12], [112, 132, -1]);
  const nod = moves(3, [4, 26, 2], [turns - 1, turns + 5, 5], [turns + 4, turns + 14, -17], [62, 76, 2], [86, 94, 5], [93, 105, 3], [106, 132, 2]);
  const across = moves(1.5, [4, 30, -1.4], [turns, turns + 20, 3.4], [62, 84, -1.2], [90, 112, -4.6], [112, 132, -0.8]);
  const bow = sum(3, breath, moves(0, [58, 66, 2.4], [65, 78, -3.6], [84, 92, 2.2], [91, 104, -2.6]));
  const tilt = times(across, 0.55);
  const right = arm(-1, faults.merged ? before : beside, [62, 104]);
  const left = arm(1, faults.atLens ? forwards : aside, [86, 126]);
  const angles = (/** @type {number} */ f) => ({
    hips: [1.5, hipsYaw(f), tilt(f)],
    spine: [0.5 * bow(f), 0.4 * (chestYaw(f) - hipsYaw(f)), -0.6 * tilt(f - 2)],
    chest: [0.5 * bow(f - 2), 0.6 * (chestYaw(f) - hipsYaw(f)), -0.5 * tilt(f - 3)],
    neck: [0.4 * nod(f) - 0.3 * bow(f - 2), 0.35 * headYaw(f + 1), 0.2 * tilt(f - 3)],
    head: [0.6 * nod(f) - 0.3 * bow(f - 3), 0.65 * headYaw(f), -0.05 * headYaw(f - 2) + 0.2 * tilt(f - 4)],
    ...right(f, breath),
    ...left(f, breath),
  });
  const { curves, stretch, massCentreAt } = keyStance({
    nodes,
    range,
    angles,
    massCentre: (f) => [across(f), 97 + 0.5 * breath(f + 2) - 0.25 * Math.abs(across(f)), 1 + 0.3 * breath(f)],
    feet: { l: [12, 0, -2], r: [-12, 0, 3] },
  });
  return { header: header(nodes, faults), curves, report: { stretch, massCentreAt } };
}

/**
 * Angles of a raised arm: outwards, forwards and about its own length at the upper arm, then the bend of elbow and wrist.
 * @typedef {readonly [out: number, fore: number, twist: number, bend: number, wrist: number]} Raised
 */
/** @type {Raised} */
const beside = [52, -22, -14, -74, -16];
/** @type {Raised} */
const before = [14, -34, 58, -92, -10];
/** @type {Raised} */
const aside = [68, -20, 0, -16, -8];
/** @type {Raised} */
const forwards = [12, -84, 0, -8, -6];

/**
 * An arm that hangs, is raised over the first third of its frames, held drifting, and let down over the last.
 * @param {1 | -1} out @param {Raised} raised @param {[from: number, to: number]} frames
 */
function arm(out, raised, [from, to]) {
  const side = out > 0 ? "l" : "r";
  const up = (/** @type {number} */ late, /** @type {number} */ by) =>
    moves(
      0,
      [from - 5 + late, from + 1 + late, -0.06 * by],
      [from + late, from + 13 + late, 1.1 * by],
      [from + 12 + late, from + 19 + late, -0.06 * by],
      [from + 16 + late, to - 10 + late, 0.05 * by],
      [to - 13 + late, to + 1 + late, -0.99 * by],
    );
  const [wide, fore, twist, bend, wrist] = raised;
  const tracks = [up(0, wide), up(0.5, fore), up(1, twist), up(2, bend), up(4.5, wrist), up(6.5, 14)];
  return (/** @type {number} */ f, /** @type {(frame: number) => number} */ breath) => {
    const [w, x, t, b, h, c] = tracks.map((track) => track(f));
    return {
      [`shoulder_${side}`]: [0, 0, out * (0.12 * Math.max(0, w) + 0.6 * breath(f - 2))],
      [`upper_arm_${side}`]: [x + 4 + 1.2 * breath(f - 4), -out * t, out * (w + 7 + breath(f - 3))],
      [`forearm_${side}`]: [b - 14 - 2.2 * breath(f - 6), 0, 0],
      [`hand_${side}`]: [h + 3 * breath(f - 8), 0, out * (4 - 0.3 * h)],
      [`fingers_${side}`]: [c - 22 + 3 * breath(f - 10), 0, 0],
    };
  };
}

/** @param {import("../motion/skeleton.mjs").Node[]} nodes @param {SignallerFaults} faults */
function header(nodes, faults) {
  // The lamp is lit for a while, or for a frame or two.
  const every = faults.flicker ? 2 : 9;
  const lamp = [];
  for (let f = 66, lit = false; f <= 120; f += every) {
    lit = !lit;
    lamp.push([f, lit ? "#f6ebb0" : "#4a4f45"]);
  }
  const coat = faults.grey ? "#8d948c" : "#27414f";
  const [hips, ...others] = nodes;
  return {
    format: "keyside.curves",
    version: 1,
    shot: { name: "gate_0050", frameRate: 24, range: [range.from, range.to] },
    space: { metresPerUnit: 0.01, up: "y", angle: "degrees" },
    nodes: [
      { ...hips, colour: coat },
      ...others,
      { id: "wall", colour: "#8a9189", shapes: [{ kind: "box", size: [460, 170, 8], centre: [0, 85, -130] }] },
      { id: "signal", translation: [-118, 205, -122], colour: [[range.from, "#4a4f45"], ...lamp], shapes: [{ kind: "box", size: [150, 60, 10] }] },
      { id: "bell", translation: [126, 166, 97], colour: "#b58a2c", shapes: [{ kind: "sphere", radius: 11 }, { kind: "capsule", radius: 3, from: [0, -165, 0], to: [0, -10, 0] }] },
      { id: "cam", translation: [0, 128, 470] , rotationOrder: "yxz", rotation: [-2.5, 0, 0] },
    ],
    figures: [{ id: "keeper", parts: { root: "hips" } }],
    cameras: [{ id: "shotcam", node: "cam", verticalFieldOfView: 30, aspect: 1.7778, background: "#d3dad6" }],
    surfaces: [{ id: "quay", normal: [0, 1, 0], height: 0, edges: [[-230, -130], [230, 140]] }],
    sounds: [{ file: "sound/bell.wav", frame: rings, node: "bell", label: "bell" }],
    gazes: [{ figure: "keeper", at: "bell", frames: [54, 86] }],
  };
}
