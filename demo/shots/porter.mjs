// @ts-check
/** steps_0110: a porter takes a crate down three steps. 24 frames per second, centimetres. */
import { bipedNodes, hipsFor, legsUnder, massCentre, stateAt } from "../motion/biped.mjs";
import { seriesAt, trailing } from "../motion/drag.mjs";
import { footTrack } from "../motion/gait.mjs";
import { keyCourse, keySolved } from "../motion/keying.mjs";
import { moves, pathThrough, sum, times } from "../motion/moves.mjs";
import { nodeIn, poseOf } from "../motion/skeleton.mjs";
import { localTo, reach } from "../motion/two-bone.mjs";
import { add, fromAngles, multiply, rotate, toAngles } from "../motion/vector.mjs";
import { curveNamed, hitch, pop } from "./faults.mjs";

const rate = 24;
const from = 1;
const to = 118;
const rise = 14;
const tread = 30;

/**
 * Which faults a version has.
 * @typedef {object} PorterFaults
 * @property {boolean} [earlyStop] the right foot leaves early, and the body stops falling five frames before the left carries
 * @property {boolean} [slide] the left foot slides while it carries
 * @property {boolean} [block] hips, chest and head turn as one
 * @property {boolean} [flatFoot] the left foot leaves the top without rolling
 * @property {boolean} [hitch] the crate stands still for a frame on its way down
 * @property {boolean} [deadHips] the hips stop in one frame
 * @property {boolean} [cut] the right foot goes through the ground
 * @property {boolean} [lowCamera] the camera looks too low, and cuts the head at the top of the steps
 * @property {boolean} [headPop] the head is off for one frame
 */

/** @param {PorterFaults} faults */
export function porter(faults) {
  const range = { from, to };
  const nodes = [...bipedNodes(), { id: "crate", translation: [0, 108, 34], rotationOrder: "yxz" }];
  const [left, right] = feet(faults);
  const drop = descent(faults);
  // The block turns with nothing else going on above the hips.
  const rest = faults.block ? 16 : 0;
  const walk = moves(0, [13, 45, 33], [29, 65, 31]);
  const arrive = faults.deadHips
    ? moves(0, [49, 103, 55])
    : moves(0, [47, 85, 29], [66, 96, 1.5], [94, 118, 0.5]);
  const stop = faults.deadHips ? 78 : Number.POSITIVE_INFINITY;
  const across = moves(
    0.5,
    [8, 20, 4.5],
    [28, 42, -10],
    [45, 59, 9.5],
    [63, 77, -8.5],
    [80, 96, 4.2],
    [98, 118, -1],
  );
  const yaw = moves(0, [12, 30, 3], [32, 46, -6], [50, 64, 6], [66, 84, -3], faults.block ? [96, 112, 26] : [88, 106, 24]);
  const pelvisRoll = moves(0, [12, 24, 3.5], [28, 40, -7], [46, 58, 7], [64, 76, -6], [80 - rest, 94 - rest, 2.5]);
  const lookDown = moves(4, [6, 16, 9], [84 - rest, 96 - rest, -8], [100, 118, faults.block ? 0.1 : 1.2]);
  const bowed = sum(
    -5,
    moves(0, [10, 24, 2], [32, 42, 1.5], [42, 52, -1.5], [84 - rest, 98 - rest, -2.5], [100, 118, faults.block ? 0.1 : 0.8]),
  );
  const answer = (/** @type {number} */ lag, /** @type {number} */ gain) =>
    trailing(yaw, { ...range, lag, gain });
  const chestYaw = faults.block ? () => 0 : sum(times(yaw, -0.35), answer(2.2, 0.5));
  const headLead = faults.block ? () => 0 : moves(0, [84, 96, 14], [97, 112, -8]);
  const carried = trailing(drop, { ...range, lag: 1.6, gain: 0.35 });
  const nod = trailing(drop, { ...range, lag: 2.4, gain: 0.8 });
  const shrug = trailing(drop, { ...range, lag: 2, gain: 0.5 });
  const angles = (/** @type {number} */ f) => ({
    hips: [2, yaw(f), pelvisRoll(f)],
    spine: [bowed(f), chestYaw(f) * 0.5, -0.5 * pelvisRoll(f - 1)],
    chest: [0.6 * bowed(f) + 0.5 * nod(f), chestYaw(f) * 0.5, -0.4 * pelvisRoll(f - 2)],
    neck: [lookDown(f) * 0.5 + 3, headLead(f) * 0.4, 0.05 * pelvisRoll(f - 3)],
    head: [lookDown(f - 1) + nod(f - 1), headLead(f - 1) * 0.6, 0.1 * pelvisRoll(f - 3)],
    shoulder_l: [0, 4, 3 - shrug(f)],
    shoulder_r: [0, -4, -3 + shrug(f - 1)],
  });
  const act = {
    nodes,
    angles,
    massCentre: (/** @type {number} */ f) => [
      across(f),
      3 * rise + 97 + drop(f),
      walk(f) + arrive(Math.min(f, stop)),
    ],
    feet: { l: left, r: right },
  };
  const body = (/** @type {string} */ id) => nodes.find((node) => node.id === id) ?? nodes[0];
  const curves = keyCourse(body("hips"), "translation", (f) => hipsFor(act, f), { ...range, tolerance: 0.04 });
  for (const id of Object.keys(angles(1))) {
    const how = { ...range, tolerance: id === "hips" ? 0.05 : 0.12 };
    curves.push(
      ...keyCourse(body(id), "rotation", (f) => /** @type {Record<string, number[]>} */ (angles(f))[id], how),
    );
  }
  if (faults.headPop) pop(curveNamed(curves, "head", "rotation.x"), 58, 7);

  const crate = crateCourse(nodes, curves, carried);
  curves.push(...keyCourse(body("crate"), "translation", crate.place, { ...range, tolerance: 0.06 }));
  curves.push(...keyCourse(body("crate"), "rotation", crate.angles, { ...range, tolerance: 0.1 }));
  if (faults.hitch)
    for (const axis of ["y", "z"]) hitch(curveNamed(curves, "crate", `translation.${axis}`), 65);

  const { legs, stretch } = legsUnder(act, from, to, curves);
  for (const id of Object.keys(legs)) curves.push(...keySolved(id, legs[id], from));
  const arms = armsOnCrate(nodes, curves);
  for (const id of Object.keys(arms.angles)) curves.push(...keySolved(id, arms.angles[id], from));
  for (const [side, late] of /** @type {["l" | "r", number][]} */ ([
    ["l", 0],
    ["r", 2],
  ])) {
    const grip = (/** @type {number} */ f) => [-62 + (1.5 * drop(f)) / rise - 2.2 * carried(f - late), 0, 0];
    curves.push(...keyCourse(body(`fingers_${side}`), "rotation", grip, { ...range, tolerance: 0.3 }));
  }
  return {
    header: header(nodes, faults),
    curves,
    report: {
      stretch: Math.max(...stretch),
      armStretch: arms.stretch,
      massCentreAt: centreAt(nodes, curves),
    },
  };
}

/** @param {PorterFaults} faults */
function feet(faults) {
  const step = (/** @type {number} */ n) => [3 - n, n];
  const place = (/** @type {number} */ x, /** @type {number} */ n, extra = 0) => [
    x,
    step(n)[0] * rise,
    n * tread + extra,
  ];
  const left = footTrack([
    {
      from,
      to: 36,
      at: place(8.5, 0),
      yaw: 6,
      lift: 6,
      ...(faults.flatFoot ? { heelOff: 34, push: 0 } : { heelOff: 25, push: 34 }),
      strike: 0,
    },
    { from: 50, to: 72, at: place(8, 2, -2), yaw: 7, strike: 26, flat: 55, heelOff: 61, push: 34, lift: 6 },
    { from: 86, to, at: place(9.5, 3, 4), yaw: 16, strike: 6, flat: 89 },
  ]);
  const right = footTrack([
    { from, to: 18, at: place(-8.5, 0), yaw: -6, heelOff: 9, push: 26, lift: 7 },
    {
      from: 32,
      to: faults.earlyStop ? 43 : 54,
      at: place(-8, 1, -2),
      yaw: -5,
      strike: 26,
      flat: 37,
      heelOff: faults.earlyStop ? 37 : 43,
      push: 34,
      lift: 6,
    },
    { from: 68, to, at: place(-9, 3, -4), yaw: -3, strike: 22, flat: 73 },
  ]);
  const slip = faults.slide ? moves(0, [58, 64, 4], [72, 84, -4]) : () => 0;
  const sink = faults.cut ? moves(0, [60, 68, -2.6], [74, 80, 2.6]) : () => 0;
  return [
    (/** @type {number} */ f) => shifted(left(f), 0, slip(f)),
    (/** @type {number} */ f) => shifted(right(f), sink(f), 0),
  ];
}

/** @param {{ place: number[], yaw: number, pitch: number }} step @param {number} y @param {number} z */
const shifted = (step, y, z) => ({ ...step, place: add(step.place, [0, y, z]) });

/**
 * Height of the centre of mass against the start: on each step the body falls into the foot that catches it, sinks
 * on, and rises a little.
 * @param {PorterFaults} faults
 */
function descent(faults) {
  const knots = [
    { frame: 8, at: 0 },
    { frame: 18, at: -0.6, speed: 0 },
  ];
  for (const [n, landing] of [32, 50, 68].entries()) {
    const top = -n * rise - 0.6;
    const early = faults.earlyStop && n === 1 ? 5 : 0;
    knots.push(
      { frame: landing - 9, at: top + 0.2, speed: 0 },
      { frame: landing - early, at: top - 0.6 * rise, speed: early > 0 ? -66 : -42 },
      { frame: landing + 6 - 1.2 * early, at: top - rise - 1.1, speed: 0 },
      { frame: landing + 8.5, at: top - rise - 0.4, speed: 1 },
    );
  }
  knots.push(
    { frame: 84, at: -3 * rise - 0.4 },
    { frame: 98, at: -3 * rise + 0.5 },
    { frame: to, at: -3 * rise },
  );
  return pathThrough(rate, knots);
}

/**
 * The crate hangs in front of the chest, and answers a little late.
 * @param {import("../motion/skeleton.mjs").Node[]} nodes @param {import("../motion/keys.mjs").KeyedCurve[]} curves
 * @param {(frame: number) => number} carried
 */
function crateCourse(nodes, curves, carried) {
  const poseAt = (/** @type {number} */ f) => {
    const { angles, places } = stateAt(nodes, curves, f);
    return poseOf(nodes, angles, places);
  };
  const lower = moves(0, [92, 110, -4]);
  const place = (/** @type {number} */ f) => {
    const hips = nodeIn(poseAt(f), "hips");
    const late = nodeIn(poseAt(Math.max(from, f - 1)), "chest");
    const facing = rotate(late.orientation, [0, 0, 1]);
    const flat = Math.hypot(facing[0], facing[2]);
    return [
      hips.position[0] * 0.8 + (facing[0] / flat) * 32,
      hips.position[1] + 23 + carried(f) + lower(f),
      hips.position[2] + (facing[2] / flat) * 32,
    ];
  };
  const angles = (/** @type {number} */ f) => {
    const { angles: now } = stateAt(nodes, curves, Math.max(from, f - 1.5));
    const turned = now["hips"][1] + (now["spine"]?.[1] ?? 0) + (now["chest"]?.[1] ?? 0);
    return [2 + 0.5 * carried(f), turned, 0.4 * now["hips"][2]];
  };
  return { place, angles };
}

/**
 * Both hands on the crate's sides, wrists turned with it.
 * @param {import("../motion/skeleton.mjs").Node[]} nodes @param {import("../motion/keys.mjs").KeyedCurve[]} curves
 */
function armsOnCrate(nodes, curves) {
  /** @type {Record<string, number[][]>} */
  const solved = {};
  let stretch = 0;
  for (let f = from; f <= to; f++) {
    const { angles, places } = stateAt(nodes, curves, f);
    const crate = nodeIn(poseOf(nodes, angles, places), "crate");
    for (const side of ["l", "r"]) {
      const out = side === "l" ? 1 : -1;
      const names = ["upper_arm", "forearm", "hand"].map((part) => `${part}_${side}`);
      const world = poseOf(nodes, angles, places);
      const target = add(
        crate.position,
        rotate(crate.orientation, [out * (side === "l" ? 20 : 19), side === "l" ? -5 : -7, -3]),
      );
      const shoulder = nodeIn(world, `shoulder_${side}`);
      const chest = nodeIn(world, "chest").orientation;
      const pole = rotate(chest, [out * (side === "l" ? 0.55 : 0.4), -0.3, -1]);
      const start = nodeIn(world, names[0]).position;
      const arm = reach({ start, target, pole, upper: 29, lower: 26, bend: -1 });
      stretch = Math.max(stretch, arm.stretch);
      const list = names.map((id) => (solved[id] ??= []));
      const upper = toAngles("zxy", localTo(arm.upper, shoulder.orientation), list[0].at(-1));
      list[0].push(upper);
      list[1].push([arm.angle, 0, 0]);
      angles[names[0]] = upper;
      angles[names[1]] = [arm.angle, 0, 0];
      const forearm = nodeIn(poseOf(nodes, angles, places), names[1]).orientation;
      const grip = fromAngles("yxz", [-70, 0, out * -8]);
      const wanted = localTo(multiply(crate.orientation, grip), forearm);
      list[2].push(toAngles("xzy", wanted, list[2].at(-1)));
    }
  }
  return { angles: solved, stretch };
}

/** @param {import("../motion/skeleton.mjs").Node[]} nodes @param {import("../motion/keys.mjs").KeyedCurve[]} curves */
function centreAt(nodes, curves) {
  const series = [];
  for (let f = from; f <= to; f++) {
    const { angles, places } = stateAt(nodes, curves, f);
    series.push(massCentre(poseOf(nodes, angles, places)));
  }
  return seriesAt(series, from);
}

/** @param {import("../motion/skeleton.mjs").Node[]} nodes @param {PorterFaults} faults */
function header(nodes, faults) {
  return {
    format: "keyside.curves",
    version: 1,
    shot: { name: "steps_0110", frameRate: rate, range: [from, to] },
    space: { metresPerUnit: 0.01, up: "y", angle: "degrees" },
    // From half before, on the porter's left, over the foot of the steps.
    nodes: [...nodes, { id: "cam", translation: [330, 130, 330], rotationOrder: "yxz", rotation: [faults.lowCamera ? -7.2 : -4.2, 49.7, 0] }],
    cameras: [{ id: "shotcam", node: "cam", verticalFieldOfView: 34, aspect: 1.7778 }],
    surfaces: [3, 2, 1, 0].map((n) => ({
      id: n === 0 ? "ground" : `step_${n}`,
      normal: [0, 1, 0],
      height: n * rise,
    })),
    contacts: [
      { node: "toe_l", with: "step_3", frames: [from, 36] },
      { node: "toe_r", with: "step_3", frames: [from, 18] },
      { node: "toe_r", with: "step_2", frames: [32, faults.earlyStop ? 43 : 54] },
      { node: "toe_l", with: "step_1", frames: [50, 72] },
      { node: "toe_r", with: "ground", frames: [68, to] },
      { node: "toe_l", with: "ground", frames: [86, to] },
      { node: "hand_l", with: "crate", frames: [from, to] },
      { node: "hand_r", with: "crate", frames: [from, to] },
    ],
  };
}
