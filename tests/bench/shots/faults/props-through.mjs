// @ts-check
/**
 * Things that go through what is solid: what is carried goes into the body that carries it.
 * @import { FaultKind, Performance, Place, Poses, Prop, Vector } from "../types.d.ts"
 */
import { inverse, rotate, subtract } from "../../../../demo/motion/vector.mjs";
import { addTrack, copy, worldAt } from "../motion/index.mjs";
import { bonesOf } from "../staging/flesh.mjs";
import { fitting } from "./tools/fitting.mjs";
import { bodyOf, eventsOf, isBlocked } from "./tools/limbs.mjs";
import { at24, over, within } from "./tools/windows.mjs";
import { moveEnds } from "./weight-loads.mjs";

/** @typedef {Place & { prop: string, limbs: number[], ramp: number }} ThroughPlace */

/** Where a prop or a joint is, from a table or from poses. @typedef {(joint: string) => { position: Vector, quaternion: [number, number, number, number] }} Where */

/** Points along a bone that are looked at. */
const marks = [0, 0.125, 0.25, 0.375, 0.5, 0.625, 0.75, 0.875, 1];

/**
 * How deep a box is in the flesh of a trunk, metres: the radius less the distance of the bone from the box; less than 0 apart.
 * @param {Prop} prop @param {import("../types.d.ts").Body} body @param {Where} where
 */
function depthIn({ id, half }, body, where) {
  const { position, quaternion } = where(id);
  const back = inverse([...quaternion]);
  let depth = Number.NEGATIVE_INFINITY;
  for (const { from, to, radius, limb } of bonesOf(body)) {
    if (limb >= 0 || from === body.head || to === body.head) continue;
    const [a, b] = [where(from).position, where(to).position];
    for (const mark of marks) {
      const point = a.map((value, k) => value + mark * (b[k] - value) - position[k]);
      const beyond = rotate(back, point).map((value, k) => Math.abs(value) - half[k]);
      const outside = Math.hypot(...beyond.map((value) => Math.max(0, value)));
      depth = Math.max(depth, radius - outside - Math.min(0, Math.max(...beyond)));
    }
  }
  return depth;
}

/** @param {Performance} performance @param {number} frame @returns {Where} */
const inTable = (performance, frame) => (joint) => worldAt(performance, joint, frame);
/** @param {Poses} poses @param {number} frame @returns {Where} */
const inPoses = (poses, frame) => (joint) => ({
  position: poses.position(joint, frame),
  quaternion: poses.orientation(joint, frame),
});

/** The level way from a prop to the hips of who carries it, one metre long. @param {Performance} performance
 * @param {ThroughPlace} place @param {number} frame @returns {Vector} */
function wayIn(performance, { figure, prop }, frame) {
  const { trunk, root } = bodyOf(performance, figure);
  const [hips, thing] = [trunk[0] ?? root, prop].map((joint) => worldAt(performance, joint, frame).position);
  const [x, , z] = subtract(hips, thing);
  const length = Math.hypot(x, z) || 1;
  return [x / length, 0, z / length];
}

/** @type {FaultKind} */
export const propThroughBody = {
  name: "prop through the body",
  checks: ["through-prop"],
  unit: "statures by which a carried thing is in the flesh of the trunk",
  sizes: [
    {
      value: 0.03,
      reason: "5 cm: more than clothes and a soft belly give where a thing is pressed against them.",
    },
    { value: 0.05, reason: "8 cm, the breadth of a palm: the thing's edge is gone in the body." },
    { value: 0.08, reason: "14 cm: it goes through to the spine." },
  ],
  layer: "motion",
  places(clean, random) {
    const { performance } = clean;
    if (isBlocked(clean)) return [];
    /** @type {ThroughPlace[]} */
    const places = [];
    for (const hold of eventsOf(performance, "hold-prop")) {
      const body = bodyOf(performance, hold.figure);
      const prop = performance.props.find(({ id }) => id === hold.prop);
      // What is longer than a step lies on the ground, or goes on wheels.
      if (prop === undefined || Math.max(...prop.half) > 0.25 * body.stature) continue;
      const ramp = Math.round(at24(performance, 8));
      const length = Math.round(at24(performance, random.between(14, 26)));
      const room = hold.to - hold.from - length - 2 * ramp;
      if (room < 0) continue;
      for (const share of [0.3, 0.6]) {
        const from = hold.from + ramp + Math.round(share * room);
        const gaps = over(from, from + length, (frame) => depthIn(prop, body, inTable(performance, frame)));
        // A thing that is far from the body would have to come to it first.
        if (Math.max(...gaps) < -0.12 * body.stature) continue;
        places.push({
          figure: hold.figure,
          joint: hold.prop,
          also: [...body.trunk, ...hold.limbs.flatMap((n) => body.limbs[n].joints)],
          from,
          to: from + length,
          prop: hold.prop,
          limbs: [...hold.limbs],
          ramp,
        });
      }
    }
    return fitting(performance, random.shuffled(places), propThroughBody, random);
  },
  perform(performance, place, size) {
    const { figure, prop, limbs, from, to, ramp } = /** @type {ThroughPlace} */ (place);
    const body = bodyOf(performance, figure);
    const thing = performance.props.find(({ id }) => id === prop);
    if (thing === undefined) return;
    const before = copy(performance);
    const [first, last] = [Math.max(performance.first, from - ramp), Math.min(performance.last, to + ramp)];
    const nearest = Math.max(...over(from, to, (frame) => depthIn(thing, body, inTable(before, frame))));
    const by = size * body.stature - nearest;
    const ways = over(first, last, (frame) =>
      wayIn(before, /** @type {ThroughPlace} */ (place), frame).map(
        (part) => part * by * within(frame, from - ramp, from, to, to + ramp),
      ),
    );
    const shift = (/** @type {number} */ frame) => /** @type {Vector} */ (ways[frame - first] ?? [0, 0, 0]);
    moveEnds(performance, figure, limbs, first, last, shift, before);
    /** @type {const} */ (["x", "y", "z"]).forEach((axis, k) => {
      addTrack(performance, prop, `translation.${axis}`, (frame) => shift(frame)[k], first, last);
    });
  },
  measure(poses, place) {
    const { figure, prop, from, to } = /** @type {ThroughPlace} */ (place);
    const body = bodyOf(poses.performance, figure);
    const thing = poses.performance.props.find(({ id }) => id === prop);
    if (thing === undefined) return 0;
    const depths = over(from, to, (frame) => depthIn(thing, body, inPoses(poses, frame)));
    return Math.max(0, ...depths) / body.stature;
  },
};
