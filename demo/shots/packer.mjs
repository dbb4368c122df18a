// @ts-check
/** depot_0030: a packer lifts a heavy parcel off a pallet and puts it on a bench. 24 frames per second, centimetres. */
import { bipedNodes } from "../motion/biped.mjs";
import { keyCourse } from "../motion/keying.mjs";
import { moves, sum, times } from "../motion/moves.mjs";
import { nodeIn, poseOf } from "../motion/skeleton.mjs";
import { keyHoldingArms, keyStance } from "../motion/standing.mjs";
import { stateAt } from "../motion/biped.mjs";
import { add, rotate } from "../motion/vector.mjs";

const range = { from: 1, to: 126 };

/**
 * Which faults a version has.
 * @typedef {object} PackerFaults
 * @property {boolean} [weightless] the parcel goes up before the body that lifts it
 * @property {boolean} [slips] the right hand slides along the parcel
 * @property {boolean} [tight] the camera is so near that the edge cuts the head
 * @property {boolean} [drab] the parcel has the colour of the overall
 */

/** @param {PackerFaults} faults */
export function packer(faults) {
  const nodes = [...bipedNodes(), { id: "parcel", translation: [0, 56, 42], rotationOrder: "yxz" }];
  const breath = (/** @type {number} */ f) => 0.4 * Math.sin((f - 2) / 9);
  // Share of the stoop: settles, takes the load, comes up, and goes on drifting.
  const stoop = moves(1, [4, 18, 0.035], [17, 48, -1.02], [49, 62, 0.03], [82, 104, 0.3], [106, 126, -0.03]);
  const turnTo = moves(0, [52, 58, -2], [57, 80, 40], [82, 112, 2], [112, 126, -0.8]);
  const late = (/** @type {number} */ f) => turnTo(f - 3);
  const across = moves(0, [3, 18, 0.6], [22, 44, -1.2], [56, 80, -3.2], [84, 108, 4.5], [108, 126, -0.5]);
  // The body leans away from what it carries.
  const back = moves(-3.5, [18, 40, -1], [56, 82, 2.4], [86, 106, 4]);
  const lookDown = moves(14, [22, 46, -9], [48, 60, 2], [80, 94, 8], [104, 120, -3]);
  const angles = (/** @type {number} */ f) => ({
    hips: [4 + 34 * stoop(f), 0.3 * turnTo(f), 0.25 * across(f)],
    spine: [2 + 20 * stoop(f + 0.7) + breath(f), 0.32 * late(f), -0.12 * across(f - 2)],
    chest: [1 + 12 * stoop(f - 0.6) + breath(f - 2), 0.38 * turnTo(f - 5), -0.1 * across(f - 3)],
    neck: [0.4 * lookDown(f) - 16 * stoop(f - 1), 0.12 * turnTo(f + 4), 0],
    head: [0.6 * lookDown(f - 1) - 18 * stoop(f - 2), 0.2 * turnTo(f + 3), 0.06 * across(f - 4)],
    shoulder_l: [0, 5 + 5 * stoop(f), 1 - 2.2 * stoop(f - 1)],
    shoulder_r: [0, -5 - 5 * stoop(f), -1 + 2.2 * stoop(f - 2)],
    fingers_l: [-34 - 9 * moves(0, [14, 24, 1], [96, 108, -0.8])(f) + 3 * breath(f - 5), 0, 0],
    fingers_r: [-36 - 9 * moves(0, [15, 26, 1], [98, 110, -0.8])(f) + 3 * breath(f - 7), 0, 0],
  });
  const body = keyStance({
    nodes,
    range,
    angles,
    massCentre: (f) => [across(f), 96.5 - 25 * stoop(f) + 0.3 * breath(f), back(f)],
    feet: { l: [17, 0, 3], r: [-17, 0, -4] },
    turned: { l: 16, r: -14 },
  });
  const { curves } = body;
  const course = parcelCourse(nodes, curves, stoop, faults);
  const parcel = nodes[nodes.length - 1];
  curves.push(...keyCourse(parcel, "translation", course.place, { ...range, tolerance: 0.05 }));
  curves.push(...keyCourse(parcel, "rotation", course.turned, { ...range, tolerance: 0.1 }));
  const slip = faults.slips ? moves(0, [60, 74, 1]) : () => 0;
  const arms = keyHoldingArms(nodes, curves, range, (side, f, world) => {
    const held = nodeIn(world, "parcel");
    const grip = side === "l" ? [20.5, 2, -6] : [-20.5, 1 - 2 * slip(f), -7 + 7 * slip(f)];
    return { wrist: add(held.position, rotate(held.orientation, grip)), turned: held.orientation };
  });
  curves.push(...arms.curves);
  return {
    header: header(nodes, faults),
    curves,
    report: { stretch: body.stretch, armStretch: arms.stretch, massCentreAt: body.massCentreAt },
  };
}

/**
 * The parcel comes up with the shoulders, a little late, is drawn to the belly, turned, and put down.
 * @param {import("../motion/skeleton.mjs").Node[]} nodes @param {import("../motion/keys.mjs").KeyedCurve[]} curves
 * @param {import("../motion/moves.mjs").Track} stoop @param {PackerFaults} faults
 */
function parcelCourse(nodes, curves, stoop, faults) {
  const lead = faults.weightless ? -7 : 1.5;
  const lift = faults.weightless ? moves(0, [19, 33, 52], [36, 60, 1.2]) : (/** @type {number} */ f) => 51 * moves(0, [18.5, 48.5, 1])(f);
  const near = moves(40, [20, 46, -7], [80, 102, 1]);
  const down = moves(0, [84, 104, -16.6]);
  const swing = moves(0, [57, 82, 34], [84, 110, 2]);
  const middle = (/** @type {number} */ f) => {
    const { angles, places } = stateAt(nodes, curves, Math.max(range.from, f - 1));
    return nodeIn(poseOf(nodes, angles, places), "hips").position;
  };
  const held = (/** @type {number} */ f) => sum(times(moves(0, [20, 46, 1], [86, 104, -1]), 1))(f);
  const place = (/** @type {number} */ f) => {
    const angle = (swing(f) * Math.PI) / 180;
    const carried = held(f) * 0.6;
    const at = middle(f);
    return [
      carried * at[0] + near(f) * Math.sin(angle),
      54 + lift(f) + down(f),
      near(f) * Math.cos(angle) - 4,
    ];
  };
  const turned = (/** @type {number} */ f) => [
    moves(0, [20, 32, -3], [34, 50, 2], [92, 104, 1])(f),
    swing(f - 0.5),
    moves(0, [56, 70, 2.4], [72, 92, -2.4])(f),
  ];
  return { place, turned };
}

/** @param {import("../motion/skeleton.mjs").Node[]} nodes @param {PackerFaults} faults */
function header(nodes, faults) {
  const overall = "#44584f";
  const [hips, ...others] = nodes;
  const parcel = { kind: "box", size: [38, 26, 30] };
  return {
    format: "keyside.curves",
    version: 1,
    shot: { name: "depot_0030", frameRate: 24, range: [range.from, range.to] },
    space: { metresPerUnit: 0.01, up: "y", angle: "degrees" },
    nodes: [
      { ...hips, colour: overall },
      ...others.map((node) =>
        node.id === "parcel" ? { ...node, colour: faults.drab ? "#475b52" : "#c08a4e", shapes: [parcel] } : node,
      ),
      { id: "pallet", colour: "#8f877a", shapes: [{ kind: "box", size: [90, 40, 50], centre: [0, 20, 48] }] },
      { id: "bench", colour: "#9c9890", shapes: [{ kind: "box", size: [76, 6, 60], centre: [58, 73, 24] }] },
      {
        id: "cam",
        translation: [-190, 128, 330],
        rotationOrder: "yxz",
        rotation: faults.tight ? [-7.5, -31, 0] : [-4, -31, 0],
      },
    ],
    cameras: [
      { id: "shotcam", node: "cam", verticalFieldOfView: faults.tight ? 25 : 36, aspect: 1.7778, background: "#d9d4c8" },
    ],
    surfaces: [
      { id: "floor", normal: [0, 1, 0], height: 0 },
      { id: "bench_top", height: 76, edges: [[20, -6], [96, 54]] },
    ],
    props: [
      {
        node: "parcel",
        mass: 14,
        heldBy: [
          { node: "hand_l", frames: [range.from, range.to] },
          { node: "hand_r", frames: [range.from, range.to] },
        ],
      },
    ],
  };
}
