// @ts-check
/** quay_0070: a dancer turns by steps, jumps and lands. 25 frames per second, centimetres. */
import { bipedNodes, hipsFor, legsUnder, massCentre, stateAt } from "../motion/biped.mjs";
import { draggedChain, seriesAt, trailing } from "../motion/drag.mjs";
import { footTrack } from "../motion/gait.mjs";
import { keyCourse, keySolved } from "../motion/keying.mjs";
import { flightSpeeds, gravity, minimumJerk, moves, pathThrough, sum, times } from "../motion/moves.mjs";
import { nodeIn, poseOf } from "../motion/skeleton.mjs";
import { rotate, turn } from "../motion/vector.mjs";
import { arms } from "./dancer-arms.mjs";
import { curveNamed, flatten, hitch, pop } from "./faults.mjs";

const rate = 25;
const from = 1;
/** Heights of the centre of mass, in centimetres. */
const stand = 98;
const takeOffHeight = 108;
const landingHeight = 103;

/**
 * Which faults a version has.
 * @typedef {object} DancerFaults
 * @property {boolean} [wristPop] the right hand is off for one frame in the turn
 * @property {boolean} [hang] the jump hangs: twenty frames in the air instead of fourteen
 * @property {boolean} [twinned] both arms do the same at the same time
 * @property {boolean} [stiffHair] the hair is stuck to the head
 * @property {boolean} [loneHead] the head turns with nothing beneath it answering
 * @property {boolean} [deadTurn] the turn stops in one frame
 * @property {boolean} [forearmHitch] the left forearm stands still for a frame on its way down
 * @property {boolean} [straightArm] the right arm's rise is one straight line between two keys
 * @property {boolean} [landingSlide] the left foot slides after the landing
 * @property {"left" | "right"} [stillWrist] this wrist does nothing
 */

/** @param {DancerFaults} faults */
export function dancer(faults) {
  const air = faults.hang ? 20 : 14;
  const off = 76;
  const down = off + air;
  const to = down + 46;
  const range = { from, to };
  const nodes = bipedNodes({ hair: true });
  const speeds = flightSpeeds(14 / rate, takeOffHeight, landingHeight);
  const floating = faults.hang ? { takeOff: 196, landing: -206, pull: -500 } : { ...speeds, pull: -gravity };
  const height = pathThrough(rate, [
    { frame: 6, at: stand },
    { frame: 16, at: stand - 2.4 },
    { frame: 34, at: stand - 0.4 },
    { frame: 50, at: stand - 2.4 },
    { frame: 56, at: stand - 1 },
    { frame: 69, at: stand - 26, acceleration: 800 },
    { frame: off, at: takeOffHeight, speed: floating.takeOff, acceleration: floating.pull },
    { frame: down, at: landingHeight, speed: floating.landing, acceleration: floating.pull },
    { frame: down + 5, at: stand - 23, acceleration: 1200 },
    { frame: down + 24, at: stand + 0.4 },
    { frame: to, at: stand - 0.4 },
  ]);
  const course = moves(0, [8, 56, 360]);
  const stopped = faults.deadTurn ? 41 : Number.POSITIVE_INFINITY;
  const lost = faults.deadTurn ? 360 - course(41) : 0;
  const settleYaw = faults.loneHead ? () => 0 : moves(0, [down + 12, down + 36, -7]);
  const yaw = (/** @type {number} */ f) =>
    course(Math.min(f, stopped)) + lost * minimumJerk((f - 46) / 14) + settleYaw(f);
  const [left, right] = feet(to, off, down, height, faults);
  const sway = moves(
    0,
    [4, 12, -4],
    [16, 22, 7],
    [24, 32, -7],
    [33, 40, 7],
    [42, 50, -5],
    [50, 58, 2],
    [down + 10, down + 30, 2.5],
  );
  const fore = moves(2, [56, 68, 1.5], [68, 80, -1], [down + 4, to - 4, -0.8]);
  const bow = moves(
    3,
    [4, 14, 4],
    [14, 34, -6],
    [56, 69, 26],
    [68, 78, -29],
    [down - 3, down + 6, 17],
    [down + 6, down + 24, -14],
    [to - 20, to, faults.loneHead ? 0.2 : 1.2],
  );
  const twist = trailing(yaw, { ...range, lag: 2.5, gain: 0.55 });
  const glance = faults.loneHead
    ? moves(0, [down + 28, down + 36, 48])
    : moves(0, [down + 22, down + 36, 16]);
  const answer = faults.loneHead ? () => 0 : moves(0, [down + 24, down + 40, 9]);
  const spot = sum(times(twist, -0.9), glance);
  const hipTilt = moves(
    0,
    [4, 14, 3],
    [16, 24, -6],
    [25, 33, 6],
    [34, 41, -6],
    [42, 52, 3],
    faults.loneHead ? [down + 2, down + 17, 2.5] : [down + 12, down + 28, 2.5],
  );
  const nod = trailing(height, { ...range, lag: 1.6, gain: 0.35 });
  const arm = arms(from, down, to, faults);
  const angles = (/** @type {number} */ f) => ({
    hips: [0.45 * bow(f), yaw(f), hipTilt(f)],
    spine: [0.4 * bow(f - 1), twist(f) * 0.4 + answer(f) * 0.4, -0.6 * hipTilt(f - 1)],
    chest: [0.35 * bow(f - 2), twist(f - 1) * 0.6 + answer(f) * 0.6, -0.5 * hipTilt(f - 2)],
    neck: [-0.35 * bow(f - 2) + 2, spot(f - 1) * (faults.loneHead ? 0 : 0.4), 0.2 * hipTilt(f - 3)],
    head: [-0.5 * bow(f - 3) + nod(f) + 2, spot(f) * (faults.loneHead ? 1 : 0.6), 0.3 * hipTilt(f - 4)],
    ...arm.angles(f),
  });
  const act = {
    nodes,
    angles,
    massCentre: (/** @type {number} */ f) => [sway(f), height(f), fore(f)],
    feet: { l: left, r: right },
    toeFlat: (/** @type {number} */ f) =>
      1 - 0.6 * minimumJerk((f - off) / 7) + 0.6 * minimumJerk((f - down + 6) / 6),
  };
  const body = (/** @type {string} */ id) => nodes.find((node) => node.id === id) ?? nodes[0];
  const curves = keyCourse(body("hips"), "translation", (f) => hipsFor(act, f), {
    ...range,
    tolerance: 0.04,
    at: [off, down],
  });
  for (const id of Object.keys(angles(1))) {
    const tolerance = id === "hips" ? 0.05 : /arm|hand/.test(id) ? 0.3 : 0.12;
    const one = (/** @type {number} */ f) => /** @type {Record<string, number[]>} */ (angles(f))[id];
    curves.push(...keyCourse(body(id), "rotation", one, { ...range, tolerance }));
  }
  if (faults.wristPop) pop(curveNamed(curves, "hand_r", "rotation.x"), 33, 24);
  if (faults.forearmHitch) hitch(curveNamed(curves, "upper_arm_l", "rotation.z"), down + 17);
  if (faults.straightArm)
    for (const axis of ["x", "z"]) {
      flatten(curveNamed(curves, "upper_arm_r", `rotation.${axis}`), 22, 34, "linear");
    }
  if (!faults.stiffHair) curves.push(...hair(nodes, curves, to));
  const { legs, stretch } = legsUnder(act, from, to, curves);
  for (const id of Object.keys(legs)) curves.push(...keySolved(id, legs[id], from));
  for (const [side, late] of /** @type {["l" | "r", number][]} */ ([
    ["l", 0],
    ["r", 3],
  ])) {
    const curl = moves(
      -18,
      [12 + late, 26 + late, 8],
      [56 + late, 66 + late, -28],
      [off - 6 + late, off + 5 + late, 32],
      [down - 2 + late, down + 9 + late, -16],
      [down + 12 + late, down + 32 + late, 7],
    );
    curves.push(
      ...keyCourse(body(`fingers_${side}`), "rotation", (f) => [curl(f), 0, 0], { ...range, tolerance: 0.4 }),
    );
  }
  return {
    header: header(nodes, to),
    curves,
    report: { stretch: Math.max(...stretch), massCentreAt: centreAt(nodes, curves, to) },
  };
}

/**
 * Four steps round the turn, then both feet leave and come back with the body.
 * @param {number} to @param {number} off @param {number} down
 * @param {import("../motion/moves.mjs").Track} height @param {DancerFaults} faults
 */
function feet(to, off, down, height, faults) {
  const round = (/** @type {number} */ out, /** @type {number} */ yaw) => rotate(turn(1, yaw), [out, 0, 0]);
  const left = footTrack([
    { from, to: 14, at: [10, 0, 0], yaw: 8, heelOff: 8, push: 22, lift: 8 },
    { from: 21, to: 31, at: round(9, 72), yaw: 74, strike: 14, flat: 24, heelOff: 25, push: 30, lift: 8 },
    { from: 38, to: 48, at: round(9, 268), yaw: 270, strike: 14, flat: 41, heelOff: 42, push: 26, lift: 7 },
    { from: 55, to, at: [11, 0, 1], yaw: 368, strike: 10, flat: 58 },
  ]);
  const right = footTrack([
    { from, to: 22, at: [-10, 0, 0], yaw: -8, heelOff: 16, push: 30, lift: 8 },
    { from: 30, to: 40, at: round(-9, 178), yaw: 174, strike: 14, flat: 33, heelOff: 34, push: 30, lift: 8 },
    { from: 47, to, at: [-11, 0, -1], yaw: 352, strike: 12, flat: 50 },
  ]);
  const rise = height(down) - height(off);
  const fly = (/** @type {number} */ f) => {
    if (f <= off || f >= down) return 0;
    return height(f) - height(off) - rise * minimumJerk((f - off) / (down - off));
  };
  const tuck = (/** @type {number} */ late, /** @type {number} */ by) =>
    moves(0, [off + late, off + 6 + late, by], [down - 7 + late / 2, down, -by]);
  const point = moves(0, [off - 7, off + 1, 58], [off + 2, down - 2, -14], [down - 1, down + 3, -44]);
  const slip = faults.landingSlide ? moves(0, [down + 6, down + 13, 2.6]) : () => 0;
  const with_ = (
    /** @type {ReturnType<typeof footTrack>} */ track,
    /** @type {number} */ late,
    /** @type {number} */ by,
    /** @type {number} */ out,
  ) => {
    const drawn = tuck(late, by);
    const split = moves(0, [off, off + 7, out], [down - 7, down - 0.5, -out]);
    return (/** @type {number} */ f) => {
      const step = track(f);
      if (f < off - 8) return step;
      const lifted = f > off && f < down ? fly(f) + drawn(f) : 0;
      const [x, y, z] = step.place;
      return {
        ...step,
        place: [x + (out > 0 ? slip(f) : 0), y + lifted, z + split(f)],
        pitch: step.pitch + point(f),
      };
    };
  };
  return [with_(left, 0, 7, 9), with_(right, 1, 12, -13)];
}

/**
 * @param {import("../motion/skeleton.mjs").Node[]} nodes @param {import("../motion/keys.mjs").KeyedCurve[]} curves
 * @param {number} to
 */
function hair(nodes, curves, to) {
  const base = (/** @type {number} */ f) => {
    const { angles, places } = stateAt(nodes, curves, f);
    return nodeIn(poseOf(nodes, angles, places), "head");
  };
  const links = [
    [0, -10, 0],
    [0, -10, 0],
    [0, -10, 0],
    [0, -9, 0],
  ];
  const chain = draggedChain(
    base,
    { from, to, rate, links, order: "xzy", stiffness: 300, damping: 18, gravity },
    [0, 12, -9],
  );
  return chain.flatMap((series, n) => {
    const node = nodes.find((one) => one.id === `hair_${n + 1}`) ?? nodes[0];
    return keyCourse(node, "rotation", seriesAt(series, from), { from, to, tolerance: 0.5 });
  });
}

/** @param {import("../motion/skeleton.mjs").Node[]} nodes @param {import("../motion/keys.mjs").KeyedCurve[]} curves @param {number} to */
function centreAt(nodes, curves, to) {
  const series = [];
  for (let f = from; f <= to; f++) {
    const { angles, places } = stateAt(nodes, curves, f);
    series.push(massCentre(poseOf(nodes, angles, places)));
  }
  return seriesAt(series, from);
}

/** @param {import("../motion/skeleton.mjs").Node[]} nodes @param {number} to */
function header(nodes, to) {
  return {
    format: "keyside.curves",
    version: 1,
    shot: { name: "quay_0070", frameRate: rate, range: [from, to] },
    space: { metresPerUnit: 0.01, up: "y", angle: "degrees" },
    nodes,
    surfaces: [{ id: "quay", normal: [0, 1, 0], height: 0 }],
  };
}
