// @ts-check
/** jetty_0040: a heron courier flies in, lands on a jetty post and hauls a mooring rope. 24000/1001 frames per second. */
import { stateAt } from "../motion/biped.mjs";
import { draggedChain, seriesAt, trailing } from "../motion/drag.mjs";
import { keyCourse, keySolved, keyStepped } from "../motion/keying.mjs";
import { moves } from "../motion/moves.mjs";
import { nodeIn, poseOf } from "../motion/skeleton.mjs";
import { localTo, reach } from "../motion/two-bone.mjs";
import {
  add,
  cross,
  fromAngles,
  length,
  rotate,
  scale,
  subtract,
  toAngles,
  turn,
} from "../motion/vector.mjs";
import { curveNamed, flatten, hitch, pop, wrap } from "./faults.mjs";
import { flightPath, wingBeats } from "./heron-flight.mjs";
import { from, header, heronNodes, post, range, rate, to, touch } from "./heron-rig.mjs";

/**
 * Which faults a version has.
 * @typedef {object} HeronFaults
 * @property {boolean} [lateBeats] the body swoops up five frames before the braking beats begin
 * @property {boolean} [stiffTail] the tail does not trail the body
 * @property {boolean} [headPop] the head is off for one frame
 * @property {boolean} [wrapped] the head's heading is keyed on the wrong side of the circle
 * @property {boolean} [hitch] the haul stands still for a frame
 * @property {boolean} [slide] the left foot slides on the post while it hauls
 * @property {boolean} [stiffLegs] the legs do not give at the landing
 * @property {boolean} [blockNeck] body, neck and head lean into the haul as one
 * @property {boolean} [foldedFlat] both wings fold on straight lines between two keys
 */

/** @param {HeronFaults} faults */
export function heron(faults) {
  const nodes = heronNodes();
  const node = (/** @type {string} */ id) => nodes.find((one) => one.id === id) ?? nodes[0];
  const beats = wingBeats(faults);
  const flight = flightPath(faults);
  const bodyPitch = moves(
    -4,
    [1036, 1050, -5],
    [1048, 1064, -27],
    [touch - 1, touch + 8, 26],
    [touch + 6, touch + 20, -11],
    [1086, 1096, 16],
    [1097, 1112, -25],
    [1110, 1122, 3],
  );
  const bank = moves(
    3,
    [1004, 1022, -7],
    [1020, 1040, 6],
    [1040, 1056, -2],
    [1086, 1098, 4],
    [1098, 1113, -6],
    [1110, 1122, 1],
  );
  const heading_ = moves(
    5,
    [1003, 1028, -7],
    [1026, 1052, 2],
    [1088, 1100, 5],
    [1099, 1115, -13],
    [1112, 1122, 1.5],
  );
  const dip = moves(0, [1082, 1094, 1], [1097, 1113, -0.93], [1110, 1122, 0.05]);
  const straighten = moves(0, [1054, 1070, 1], [1074, 1090, -0.35]);
  const haul = moves(0, [1097, 1113, 1], [1111, 1122, -0.06]);
  const look = moves(
    2,
    [1006, 1020, -8],
    [1030, 1044, 10],
    [1072, 1082, 14],
    [1082, 1092, -16],
    [1100, 1116, 6],
  );
  const block = faults.blockNeck ? 0 : 1;
  const follow = trailing(bodyPitch, { ...range, lag: 2, gain: 0.5 });
  const steady = (/** @type {number} */ f) => -0.85 * bodyPitch(f) - 0.6 * block * follow(f);
  const stretchNeck = (/** @type {number} */ f, /** @type {number} */ late) =>
    dip(f - late) * block + (1 - block) * dip(f);
  const angles = (/** @type {number} */ f) => ({
    body: [bodyPitch(f), heading_(f), bank(f)],
    breast: [0.12 * steady(f) + 8 * dip(f - 1) * block, 0.2 * heading_(f - 1), -0.3 * bank(f - 1)],
    neck_1: [
      0.2 * steady(f) + 26 - 14 * straighten(f) + 34 * stretchNeck(f, 0),
      0.2 * look(f),
      -0.2 * bank(f - 2),
    ],
    neck_2: [0.15 * steady(f) + 14 - 8 * straighten(f - 1) + 30 * stretchNeck(f, 1.5), 0.2 * look(f - 1), 0],
    neck_3: [0.15 * steady(f) - 24 + 14 * straighten(f - 2) + 26 * stretchNeck(f, 2.5), 0.2 * look(f - 1), 0],
    neck_4: [
      0.15 * steady(f) - 14 + 8 * straighten(f - 2) + 12 * stretchNeck(f, 3.5),
      0.2 * look(f - 2),
      -0.2 * bank(f - 3),
    ],
    head: [
      0.2 * steady(f) + 4 - 10 * stretchNeck(f, 4),
      0.2 * look(f - 2) + 3 * haul(f - 2),
      -0.2 * bank(f - 3) + 7 * haul(f - 3),
    ],
    ...beats.angles(f),
  });
  const curves = keyCourse(node("body"), "translation", flight, { ...range, tolerance: 0.05, at: [touch] });
  for (const id of Object.keys(angles(from))) {
    const tolerance = /wing/.test(id) ? 0.6 : id === "body" ? 0.06 : 0.2;
    const one = (/** @type {number} */ f) => /** @type {Record<string, number[]>} */ (angles(f))[id];
    curves.push(...keyCourse(node(id), "rotation", one, { ...range, tolerance }));
  }
  if (faults.headPop) pop(curveNamed(curves, "head", "rotation.x"), 1031, 13);
  if (faults.wrapped) wrap(curveNamed(curves, "head", "rotation.y"), 1086, 360);
  if (faults.hitch)
    for (const id of ["body", "neck_1", "neck_2", "neck_3"]) hitch(curveNamed(curves, id, "rotation.x"), 1104);
  if (faults.foldedFlat)
    for (const side of ["l", "r"]) {
      flatten(curveNamed(curves, `wing_${side}`, "rotation.y"), touch + 8, touch + 17, "linear");
    }
  if (!faults.stiffTail) curves.push(...tail(nodes, curves));
  curves.push(...legs(nodes, curves, faults), ...rope(nodes, curves));
  curves.push(
    keyStepped("eyelid", "rotation.x", [
      [from, 0],
      [1024, 58],
      [1027, 0],
      [1076, 58],
      [1079, 0],
      [1099, 20],
    ]),
  );
  curves.push(
    keyStepped("beak", "rotation.x", [
      [from, 0],
      [1090, 12],
      [1096, 3],
    ]),
  );
  return { header: header(nodes), curves, report: {} };
}

/** @param {import("../motion/skeleton.mjs").Node[]} nodes @param {import("../motion/keys.mjs").KeyedCurve[]} curves */
function posedBy(nodes, curves) {
  return (/** @type {number} */ f) => {
    const { angles, places } = stateAt(nodes, curves, f);
    return poseOf(nodes, angles, places);
  };
}

/** @param {import("../motion/skeleton.mjs").Node[]} nodes @param {import("../motion/keys.mjs").KeyedCurve[]} curves */
function tail(nodes, curves) {
  const pose = posedBy(nodes, curves);
  const base = (/** @type {number} */ f) => {
    // Air that flows past steadily holds the tail in line; only turning makes it trail.
    return { position: [0, 0, 0], orientation: nodeIn(pose(f), "body").orientation };
  };
  const links = [
    [0, 0, -9],
    [0, 0, -9],
  ];
  const how = { from, to, rate, links, order: "yxz", stiffness: 900, damping: 22, gravity: 0 };
  return draggedChain(base, how, [0, 0, -14]).flatMap((series, n) => {
    const id = `tail_${n + 1}`;
    const one = nodes.find((each) => each.id === id) ?? nodes[0];
    return keyCourse(one, "rotation", seriesAt(series, from), { from, to, tolerance: 0.4 });
  });
}

/**
 * Legs trail in flight, reach for the post, and stand on it.
 * @param {import("../motion/skeleton.mjs").Node[]} nodes @param {import("../motion/keys.mjs").KeyedCurve[]} curves
 * @param {HeronFaults} faults
 */
function legs(nodes, curves, faults) {
  const pose = posedBy(nodes, curves);
  /** @type {Record<string, number[][]>} */
  const solved = {};
  const slip = faults.slide ? moves(0, [1096, 1108, 3.4]) : () => 0;
  for (let f = from; f <= to; f++) {
    const world = pose(f);
    const body = nodeIn(world, "body");
    for (const side of ["l", "r"]) {
      const out = side === "l" ? 1 : -1;
      const late = side === "l" ? 0 : 1.5;
      const forward = moves(0, [1046 + late, 1062 + late, 1])(f);
      const arrive = moves(0, [1054 + late, touch, 1])(f);
      const start = nodeIn(world, `thigh_${side}`).position;
      const trailing_ = rotate(body.orientation, [out * 5, -9 - 19 * forward, -36 + 52 * forward]);
      const stand = [out * 5 + slip(f) * (out > 0 ? 1 : 0), post + 2, side === "l" ? 3 : -3];
      const air = add(body.position, trailing_);
      const wanted = air.map((value, axis) => value + (stand[axis] - value) * arrive);
      const target = within(start, wanted, 42);
      // The hinge stays square to the body's middle plane, however far the leg swings.
      const hinge = rotate(body.orientation, [1, 0, out * -0.1]);
      const pole = scale(cross(subtract(target, start), hinge), -1);
      const leg = reach({ start, target, pole, upper: 22, lower: 20, bend: -1 });
      const names = ["thigh", "shin", "foot"].map((part) => `${part}_${side}`);
      const lists = names.map((id) => (solved[id] ??= []));
      lists[0].push(toAngles("xzy", localTo(leg.upper, body.orientation), lists[0].at(-1)));
      lists[1].push([leg.angle, 0, 0]);
      const { angles, places } = stateAt(nodes, curves, f);
      angles[names[0]] = lists[0].at(-1) ?? [];
      angles[names[1]] = [leg.angle, 0, 0];
      const shin = nodeIn(poseOf(nodes, angles, places), names[1]).orientation;
      const flat = turn(1, out * 12);
      const loose = fromAngles("yxz", [68 * (1 - arrive), out * 12 * arrive, 0]);
      lists[2].push(toAngles("xzy", localTo(arrive < 1 ? loose : flat, shin), lists[2].at(-1)));
    }
  }
  const toes = moves(-24, [touch - 8, touch, 24]);
  const curled = ["l", "r"].flatMap((side) => {
    const one = nodes.find((each) => each.id === `toe_${side}`) ?? nodes[0];
    return keyCourse(one, "rotation", (f) => [toes(f), 0, 0], { from, to, tolerance: 0.3 });
  });
  return [...Object.keys(solved).flatMap((id) => keySolved(id, solved[id], from)), ...curled];
}

/**
 * A point that a limb is to reach, drawn in softly where the limb would have to stretch to its full length.
 * @param {number[]} start @param {number[]} target @param {number} whole length of the straight limb
 */
function within(start, target, whole) {
  const way = subtract(target, start);
  const over = length(way) / whole - 0.9;
  if (over <= 0) return target;
  return add(start, scale(way, (0.9 + 0.08 * (1 - Math.exp(-over / 0.08))) / (0.9 + over)));
}

/**
 * The rope lies on the post until the beak has it; then its eye goes with the beak.
 * @param {import("../motion/skeleton.mjs").Node[]} nodes @param {import("../motion/keys.mjs").KeyedCurve[]} curves
 */
function rope(nodes, curves) {
  const pose = posedBy(nodes, curves);
  const rest = nodeIn(pose(1096), "beak_end").position;
  const place = (/** @type {number} */ f) => (f <= 1096 ? rest : nodeIn(pose(f), "beak_end").position);
  const swing = moves(0, [1098, 1108, -16], [1106, 1117, 22], [1114, 1122, -6]);
  const node = nodes.find((each) => each.id === "rope") ?? nodes[0];
  return [
    ...keyCourse(node, "translation", place, { from, to, tolerance: 0.08, at: [1096] }),
    ...keyCourse(node, "rotation", (f) => [swing(f), 0, 0.4 * swing(f - 2)], { from, to, tolerance: 0.4 }),
  ];
}
