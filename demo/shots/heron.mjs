// @ts-check
/** jetty_0040: a heron courier flies in, lands on a jetty post and hauls a mooring rope. 24000/1001 frames per second. */
import { stateAt } from "../motion/biped.mjs";
import { draggedChain, seriesAt, trailing } from "../motion/drag.mjs";
import { keyCourse, keySolved, keyStepped } from "../motion/keying.mjs";
import { moves, pathThrough, sum, wave } from "../motion/moves.mjs";
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

const rate = 24000 / 1001;
const from = 1001;
const to = 1122;
const range = { from, to };
/** Top of the post, and the frame of touch-down. */
const post = 120;
const touch = 1068;

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

/** @returns {import("../motion/skeleton.mjs").Node[]} */
function heronNodes() {
  /** @type {import("../motion/skeleton.mjs").Node[]} */
  const nodes = [
    { id: "body", offset: [0, post + 46, 0], rotationOrder: "yxz" },
    { id: "breast", parent: "body", offset: [0, 4, 16], rotationOrder: "yxz" },
    { id: "neck_1", parent: "breast", offset: [0, 5, 10], rotationOrder: "yxz" },
    { id: "neck_2", parent: "neck_1", offset: [0, 9, 5], rotationOrder: "yxz" },
    { id: "neck_3", parent: "neck_2", offset: [0, 11, 0], rotationOrder: "yxz" },
    { id: "neck_4", parent: "neck_3", offset: [0, 10, 2], rotationOrder: "yxz" },
    { id: "head", parent: "neck_4", offset: [0, 8, 2], rotationOrder: "yxz" },
    { id: "beak", parent: "head", offset: [0, -1, 5] },
    { id: "beak_end", parent: "beak", offset: [0, -1, 13] },
    { id: "eyelid", parent: "head", offset: [0, 2, 3] },
    { id: "tail_1", parent: "body", offset: [0, 0, -14], rotationOrder: "yxz" },
    { id: "tail_2", parent: "tail_1", offset: [0, 0, -9], rotationOrder: "yxz" },
    { id: "tail_end", parent: "tail_2", offset: [0, 0, -9] },
  ];
  for (const side of ["l", "r"]) {
    const out = side === "l" ? 1 : -1;
    nodes.push(
      { id: `wing_${side}`, parent: "breast", offset: [out * 6, 4, -2], rotationOrder: "zyx" },
      { id: `wing_mid_${side}`, parent: `wing_${side}`, offset: [out * 24, 0, 0], rotationOrder: "zyx" },
      { id: `wing_tip_${side}`, parent: `wing_mid_${side}`, offset: [out * 28, 0, 0], rotationOrder: "zyx" },
      { id: `wing_end_${side}`, parent: `wing_tip_${side}`, offset: [out * 34, 0, -4] },
      { id: `thigh_${side}`, parent: "body", offset: [out * 5, -4, 2], rotationOrder: "xzy" },
      { id: `shin_${side}`, parent: `thigh_${side}`, offset: [0, -22, 0] },
      { id: `foot_${side}`, parent: `shin_${side}`, offset: [0, -20, 0], rotationOrder: "xzy" },
      { id: `toe_${side}`, parent: `foot_${side}`, offset: [0, -2, 5] },
      { id: `toe_end_${side}`, parent: `toe_${side}`, offset: [0, 0, 5] },
    );
  }
  nodes.push(
    { id: "rope", offset: [0, post + 2, 52], rotationOrder: "yxz" },
    { id: "rope_end", parent: "rope", offset: [0, -14, 6] },
  );
  return nodes;
}

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
  const curves = keyCourse(node("body"), "translate", flight, { ...range, tolerance: 0.05, at: [touch] });
  for (const id of Object.keys(angles(from))) {
    const tolerance = /wing/.test(id) ? 0.6 : id === "body" ? 0.06 : 0.2;
    const one = (/** @type {number} */ f) => /** @type {Record<string, number[]>} */ (angles(f))[id];
    curves.push(...keyCourse(node(id), "rotate", one, { ...range, tolerance }));
  }
  if (faults.headPop) pop(curveNamed(curves, "head", "rotate.x"), 1031, 13);
  if (faults.wrapped) wrap(curveNamed(curves, "head", "rotate.y"), 1086, 360);
  if (faults.hitch)
    for (const id of ["body", "neck_1", "neck_2", "neck_3"]) hitch(curveNamed(curves, id, "rotate.x"), 1104);
  if (faults.foldedFlat)
    for (const side of ["l", "r"]) {
      flatten(curveNamed(curves, `wing_${side}`, "rotate.y"), touch + 8, touch + 17, "linear");
    }
  if (!faults.stiffTail) curves.push(...tail(nodes, curves));
  curves.push(...legs(nodes, curves, faults), ...rope(nodes, curves));
  curves.push(
    keyStepped("eyelid", "rotate.x", [
      [from, 0],
      [1024, 58],
      [1027, 0],
      [1076, 58],
      [1079, 0],
      [1099, 20],
    ]),
  );
  curves.push(
    keyStepped("beak", "rotate.x", [
      [from, 0],
      [1090, 12],
      [1096, 3],
    ]),
  );
  return { header: header(nodes), curves, report: {} };
}

/**
 * The beat: three strokes on the way in, a glide, three braking strokes, then the fold, one wing after the other.
 * @param {HeronFaults} faults
 */
function wingBeats(faults) {
  const wait = faults.lateBeats ? 5 : 0;
  const perBeat = 10;
  const phase = (/** @type {number} */ f) => ((f - 1002) / perBeat) * 2 * Math.PI;
  const brake = (/** @type {number} */ f) => ((f - 1049 - wait) / 8) * 2 * Math.PI;
  const cruise = moves(34, [1026, 1036, -34]);
  const braking = moves(0, [1047 + wait, 1053 + wait, 42], [1061 + wait, touch + 3 + wait, -42]);
  const stroke = sum(wave(cruise, phase), wave(braking, brake));
  const parts = (/** @type {number} */ f, /** @type {string} */ side) => {
    const out = side === "l" ? 1 : -1;
    const late = side === "l" ? 0 : 2.5;
    const fold = moves(
      0,
      [touch + 5 + late, touch + 18 + late, 1],
      [touch + 24, touch + 34, -0.04],
      [1096, 1110, 0.1],
      [1108, 1122, -0.05],
    );
    const spread = 1 - fold(f);
    const beat = stroke(f);
    const tipBeat = stroke(f - 1.6);
    const twist = stroke(f + perBeat / 4) * 0.35;
    const glide = 5 + (side === "l" ? 0 : 1.5) + moves(0, [1034, 1042, 7], [1043, 1050, -4])(f);
    return {
      [`wing_${side}`]: [
        twist * spread - 6 * fold(f),
        out * (8 * spread + 62 * fold(f) - 0.2 * braking(f)),
        out * ((beat + glide) * spread - 30 * fold(f)),
      ],
      [`wing_mid_${side}`]: [
        0,
        out * (-10 - 112 * fold(f - 1) - 0.25 * (beat - tipBeat)),
        out * ((0.42 * stroke(f - 1) - 4) * spread),
      ],
      [`wing_tip_${side}`]: [
        0,
        out * (6 + 118 * fold(f - 2)),
        out * ((0.5 * tipBeat - 2) * (1 - fold(f - 2))),
      ],
    };
  };
  return { angles: (/** @type {number} */ f) => ({ ...parts(f, "l"), ...parts(f, "r") }) };
}

/**
 * The body's way: in at 5.2 m/s, the rise and fall of the beat, a glide down, the swoop, and the give of the legs.
 * @param {HeronFaults} faults
 */
function flightPath(faults) {
  const stand = post + 34;
  const along = pathThrough(rate, [
    { frame: from, at: -748, speed: 330 },
    { frame: 1036, at: -258, speed: 318 },
    { frame: 1050, at: -92, speed: 235, acceleration: -420 },
    { frame: touch, at: -5, speed: 52, acceleration: -120 },
    { frame: touch + 9, at: 4.5, speed: 0 },
    { frame: touch + 20, at: 1, speed: 0 },
  ]);
  const height = pathThrough(rate, [
    { frame: from, at: post + 128, speed: -26 },
    { frame: 1036, at: post + 86, speed: -52 },
    { frame: 1048, at: post + 50, speed: -66, acceleration: 60 },
    { frame: 1060, at: post + 52, speed: 40, acceleration: -260 },
    { frame: touch, at: post + 41.5, speed: -92, acceleration: -300 },
    ...(faults.stiffLegs
      ? [
          { frame: touch + 1, at: post + 40.4, speed: 0 },
          { frame: touch + 20, at: post + 40, speed: 0 },
        ]
      : [
          { frame: touch + 6, at: stand - 8, speed: 0, acceleration: 420 },
          { frame: touch + 15, at: stand + 4.6, speed: 0 },
          { frame: touch + 24, at: stand + 3.6, speed: 0 },
        ]),
  ]);
  const heave = wave(moves(3.4, [1026, 1036, -3.4]), (f) => ((f - 1002) / 10) * 2 * Math.PI + Math.PI / 2);
  const still = faults.stiffLegs ? 2.4 : 0;
  const crouch = moves(0, [1085, 1095, -5.5 - still], [1097, 1112, 4.2], [1111, 1122, -0.4]);
  const back = moves(0, [1085, 1096, 3], [1097, 1113, -8.5], [1111, 1122, 0.7]);
  const drift = moves(14, [1003, 1034, -16], [1032, touch, 2], [1086, 1098, 1.2], [1098, 1114, -2.4]);
  return (/** @type {number} */ f) => [drift(f), height(f) + heave(f) + crouch(f), along(f) + back(f)];
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
    return keyCourse(one, "rotate", seriesAt(series, from), { from, to, tolerance: 0.4 });
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
    return keyCourse(one, "rotate", (f) => [toes(f), 0, 0], { from, to, tolerance: 0.3 });
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
    ...keyCourse(node, "translate", place, { from, to, tolerance: 0.08, at: [1096] }),
    ...keyCourse(node, "rotate", (f) => [swing(f), 0, 0.4 * swing(f - 2)], { from, to, tolerance: 0.4 }),
  ];
}

/** @param {import("../motion/skeleton.mjs").Node[]} nodes */
function header(nodes) {
  return {
    format: "keyside.curves",
    version: 1,
    shot: { name: "jetty_0040", frameRate: "24000/1001", range: [from, to] },
    space: { metresPerUnit: 0.01, up: "y", angle: "degrees" },
    nodes,
    figures: [
      {
        id: "courier",
        parts: {
          root: "body",
          chest: "breast",
          neck: ["neck_1", "neck_2", "neck_3", "neck_4"],
          head: "head",
          jaw: "beak",
          tail: ["tail_1", "tail_2"],
          leftWing: ["wing_l", "wing_mid_l", "wing_tip_l"],
          rightWing: ["wing_r", "wing_mid_r", "wing_tip_r"],
          leftThigh: "thigh_l",
          leftShin: "shin_l",
          leftFoot: "foot_l",
          leftToes: "toe_l",
          rightThigh: "thigh_r",
          rightShin: "shin_r",
          rightFoot: "foot_r",
          rightToes: "toe_r",
        },
        stature: 0.98,
        mass: 1.7,
      },
    ],
    surfaces: [{ id: "post", normal: [0, 1, 0], height: post }],
    contacts: [
      { node: "foot_l", with: "post", frames: [touch, to] },
      { node: "foot_r", with: "post", frames: [touch, to] },
      { node: "beak_end", with: "rope", frames: [1096, to] },
    ],
    propulsors: [{ figure: "courier", nodes: ["wing_l", "wing_r"], channel: "rotate.z" }],
  };
}
