// @ts-check
/**
 * Plays a body's score: lanes for every channel, feet that stand, loose parts, a path of the centre of mass where one is
 * given. Every frame is solved; what comes out is a dense table.
 * @import { Body, ChannelName, Event, Performance } from "../../../types.d.ts"
 * @import { Foot, Leg, LegStyle } from "./legs.mjs"
 * @import { LooseChain } from "./loose.mjs"
 */
import { add, length, multiply, rotate, subtract, turn } from "../../../../../../demo/motion/vector.mjs";
import { emptyPerformance, setTrack } from "../../../motion/performance.mjs";
import { Lane } from "./lane.mjs";
import { standLeg } from "./legs.mjs";
import { swing } from "./loose.mjs";
import { frameOf, Pose } from "./pose.mjs";

const axes = /** @type {const} */ (["x", "y", "z"]);

/**
 * A leg on the stage.
 * @typedef {object} Stander
 * @property {Leg} leg @property {LegStyle} style
 * @property {(frame: number) => Foot} foot
 * @property {(frame: number) => number} heading of its girdle, degrees
 * @property {{ joint: string, share: number, lean?: (frame: number) => number }} [blade] shoulder blade that leans with the leg
 */

/**
 * @typedef {object} Score
 * @property {Body} body @property {string} id of the figure
 * @property {number} rate @property {number} first @property {number} frames
 * @property {Map<string, Lane>} lanes "joint axis" → degrees; made by `laneOf`
 * @property {(frame: number) => { position: number[], yaw: number }} root the root's lanes are added to this
 * @property {Stander[]} legs
 * @property {LooseChain[]} loose
 * @property {((frame: number, pose: Pose) => void)} [fill] sets what lanes do not say, before the legs are solved
 * @property {{ from: number, to: number, at: (frame: number) => number[] } | undefined} [centre] wanted centre of mass
 * @property {readonly string[]} [solved] further joints that are solved
 * @property {Event[]} events
 * @property {"air" | "water"} [medium] @property {number} [groundHeight]
 */

/** The lane of a joint's axis, made when it is asked for; "tx", "ty", "tz" are the root's place.
 * @param {Map<string, Lane>} lanes @param {string} joint @param {string} axis */
export function laneOf(lanes, joint, axis) {
  const name = `${joint} ${axis}`;
  let lane = lanes.get(name);
  if (lane === undefined) {
    lane = new Lane();
    lanes.set(name, lane);
  }
  return lane;
}

/**
 * @param {Score} score @param {import("./pose.mjs").Frame} shape
 * @param {number} frame @param {Pose | null} before
 * @param {((pose: Pose) => void) | null} hang sets loose parts
 * @returns {{ pose: Pose, stretch: number }}
 */
function poseOn(score, shape, frame, before, hang) {
  const pose = new Pose(shape, before);
  const { body, lanes, root, legs, fill, centre } = score;
  const courses = lanesOf(score);
  body.joints.forEach(({ id, parent }, n) => {
    const [x, y, z] = courses[n].map((lane) => lane?.at(frame) ?? 0);
    if (parent !== null) {
      pose.turn(id, [x, y, z]);
      return;
    }
    const { position, yaw } = root(frame);
    const shift = ["tx", "ty", "tz"].map((axis) => lanes.get(`${id} ${axis}`)?.at(frame) ?? 0);
    pose.turn(id, [x, yaw + y, z]);
    pose.moveTo(add(position, rotate(turn(1, yaw), shift)));
  });
  fill?.(frame, pose);
  hang?.(pose);
  let stretch = 0;
  const wanted = centre !== undefined && frame >= centre.from && frame <= centre.to ? centre.at(frame) : null;
  for (let round = 0; round < 40; round++) {
    stretch = 0;
    pose.moveTo(pose.place);
    for (const stander of legs) {
      const foot = stander.foot(frame);
      const heading = stander.heading(frame);
      if (stander.blade !== undefined) leanBlade(pose, stander, foot, heading, frame);
      stretch = Math.max(stretch, standLeg(pose, stander.leg, foot, stander.style, heading));
    }
    if (wanted === null) break;
    const off = subtract(wanted, pose.centre());
    if (length(off) < 1e-9) break;
    pose.moveTo(add(pose.place, off));
  }
  return { pose, stretch };
}

/** @type {WeakMap<Map<string, Lane>, { size: number, list: (Lane | undefined)[][] }>} */
const known = new WeakMap();

/** The lanes of each joint's axes, looked up anew only when lanes came in. @param {Score} score */
function lanesOf({ body, lanes }) {
  let found = known.get(lanes);
  if (found?.size !== lanes.size) {
    found = {
      size: lanes.size,
      list: body.joints.map(({ id }) => axes.map((axis) => lanes.get(`${id} ${axis}`))),
    };
    known.set(lanes, found);
  }
  return found.list;
}

/** @param {Pose} pose @param {Stander} stander @param {Foot} foot @param {number} heading @param {number} frame */
function leanBlade(pose, { leg, blade }, foot, heading, frame) {
  if (blade === undefined) return;
  const { joints } = pose.frame;
  const index = joints.findIndex(({ id }) => id === blade.joint);
  const below = joints.find(({ id }) => id === leg.joints[0]);
  const rest = add(leg.whole, below?.at ?? [0, 0, 0]);
  const way = rotate(
    turn(1, -heading),
    subtract(add(foot.place, [0, -leg.sole.toe[1], 0]), pose.of(joints[index].id).position),
  );
  const angle = ((Math.atan2(-way[2], -way[1]) - Math.atan2(-rest[2], -rest[1])) * 180) / Math.PI;
  pose.turn(blade.joint, [blade.share * angle + (blade.lean?.(frame) ?? 0), 0, 0]);
}

/**
 * @param {Score} score
 * @returns {{ performance: Performance, stretch: number }} `stretch`: that of the most stretched leg; above 1 a foot was
 *   out of reach
 */
export function play(score) {
  const { body, id, rate, first, frames, events, medium = "air", groundHeight = 0 } = score;
  const shape = frameOf(body);
  const numbers = Array.from({ length: frames }, (_, n) => first + n);
  const hangs = hung(score, shape, numbers);
  const performance = emptyPerformance({
    rate,
    first,
    frames,
    figures: [{ id, body }],
    medium,
    groundHeight,
  });
  performance.events.push(...events);
  let stretch = 0;
  /** @type {Pose | null} */
  let before = null;
  const poses = numbers.map((frame, n) => {
    const made = poseOn(score, shape, frame, before, hangs && ((pose) => hangs(pose, n)));
    stretch = Math.max(stretch, made.stretch);
    before = made.pose;
    return made.pose;
  });
  body.joints.forEach(({ id: joint }, n) => {
    axes.forEach((axis, k) => {
      const values = poses.map((pose) => pose.angles[n][k]);
      if (values.some((value) => Math.abs(value) > 1e-6))
        write(performance, joint, `rotation.${axis}`, values);
    });
  });
  axes.forEach((axis, k) => {
    write(
      performance,
      body.root,
      `translation.${axis}`,
      poses.map((pose) => pose.place[k]),
    );
  });
  const solved = [
    ...score.legs.flatMap(({ leg, blade }) => [...leg.joints, ...(blade ? [blade.joint] : [])]),
    ...(score.solved ?? []),
  ];
  for (const joint of solved) {
    for (const axis of axes) {
      const name = `${joint} rotation.${axis}`;
      if (performance.tracks.has(name)) performance.solved.add(name);
    }
  }
  return { performance, stretch };
}

/** @param {Performance} performance @param {string} joint @param {ChannelName} channel @param {number[]} values */
const write = (performance, joint, channel, values) =>
  setTrack(performance, joint, channel, (frame) => values[frame - performance.first]);

/**
 * Loose parts: the posture alone is posed first, then the chains are swung by it.
 * @param {Score} score @param {import("./pose.mjs").Frame} shape @param {number[]} numbers
 * @returns {((pose: Pose, n: number) => void) | null}
 */
function hung(score, shape, numbers) {
  if (score.loose.length === 0) return null;
  /** @type {Pose | null} */
  let before = null;
  const rough = numbers.map((frame) => {
    const { pose } = poseOn(score, shape, frame, before, null);
    before = pose;
    return pose;
  });
  const chains = score.loose.map((chain) => {
    const { joints } = chain;
    const bones = joints.map((_, n) => {
      const below = joints[Math.min(n + 1, joints.length - 1)];
      return score.body.joints[/** @type {number} */ (shape.number.get(below))].at;
    });
    const poses = rough.map((pose) => joints.map((joint) => pose.of(joint)));
    return { joints, poses, turns: swing(poses, bones, chain, score.rate) };
  });
  return (pose, n) => {
    for (const { joints, poses, turns } of chains) {
      joints.forEach((joint, k) => {
        pose.face(joint, multiply(turns[n][k], poses[n][k].orientation));
      });
    }
  };
}

/** The pose of a frame without loose parts and without a wanted centre, to learn where things are.
 * @param {Score} score @param {number} frame @returns {Pose} */
export const poseOf = (score, frame) =>
  poseOn({ ...score, centre: undefined }, frameOf(score.body), frame, null, null).pose;

/** The centre of mass on a frame, as `poseOf`. @param {Score} score @param {number} frame @returns {number[]} */
export const centreOn = (score, frame) => poseOf(score, frame).centre();

/** The centre of mass on a frame and its speed, metres per second. @param {Score} score @param {number} frame */
export function centreMoving(score, frame) {
  const [a, at, c] = [frame - 1, frame, frame + 1].map((one) => centreOn(score, one));
  return { at, speed: at.map((_, k) => ((c[k] - a[k]) / 2) * score.rate) };
}
