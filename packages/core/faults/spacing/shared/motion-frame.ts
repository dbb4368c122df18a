import type { Seen } from "../../../base/memo-cell.ts";
import type { Study } from "../../../base/study.ts";
import { lengthOf, minus, plus, scaled, type Vector, vectorLength } from "../../../base/vector.ts";
import { carriedPath, carriedTurns } from "../../../motion/path/carried.ts";
import { levelled } from "../../../motion/path/level.ts";
import { travelSteps, turnSteps } from "../../../motion/path/pace.ts";
import { worldOf } from "../../../rig/pose.ts";
import { rigOf } from "../../../rig/rig.ts";
import { gridOf } from "../../../time/grid.ts";
import type { Fault } from "../../check.ts";
import type { Motion } from "./paces.ts";

/** Ways, directions and faults of a motion in the frame in which it is judged: the world, or what carries the node. */

/**
 * Whether a change of pace in a carried frame is seen in the world as well: its velocity changes there by half as much
 * at least, or breaks by half as much off the course that it has on both sides. A carrier that speeds up adds to every
 * step and hides a change of the part, but no break. What a part does to stay where it is while its carrier moves
 * shows neither.
 * @param before pose to which the step before the change leads
 * @param after pose to which the step after it leads
 */
export function isSeenInWorld(
  study: Study,
  node: number,
  motion: Motion,
  before: number,
  after: number,
): boolean {
  const { kind, pace, carrier } = motion;
  if (carrier === undefined) return true;
  const { poses } = pace;
  const first = Math.min(before, after);
  const last = Math.max(before, after);
  const lo = poses[Math.max(0, first - 2)];
  const hi = poses[Math.min(poses.length - 1, last + 1)];
  const inWorld = seriesIn(study, node, { ...motion, carrier: undefined }, lo, hi);
  const carried = carriedSeries(study, kind, carrier, inWorld, lo);
  const velocityIn = (series: Float64Array) => (pose: number) => velocityTo(series, motion, lo, pose);
  const [world, own] = [velocityIn(inWorld), velocityIn(carried)];
  if (
    vectorLength(minus(world(last), world(first))) >=
    seenShare * vectorLength(minus(own(last), own(first)))
  )
    return true;
  if (first < 2 || last + 1 >= poses.length) return false;
  return vectorLength(breakOf(world, first, last)) >= seenShare * vectorLength(breakOf(own, first, last));
}

/** How far a change of velocity is off what the changes before and behind it would have made of it. */
function breakOf(velocity: (pose: number) => Vector, first: number, last: number): Vector {
  const change = minus(velocity(last), velocity(first));
  const beside = plus(minus(velocity(first), velocity(first - 1)), minus(velocity(last + 1), velocity(last)));
  return minus(change, scaled(beside, (last - first) / 2));
}

/** How far a node is at one pose from where it is at another one, in the frame of its motion: metres or radians. */
export function distanceIn(study: Study, node: number, motion: Motion, one: number, other: number): number {
  const { poses } = motion.pace;
  const lo = Math.min(poses[one], poses[other]);
  const hi = Math.max(poses[one], poses[other]);
  const series = seriesIn(study, node, motion, lo, hi);
  return (
    (motion.kind === "position" ? travelSteps : turnSteps)(series, Int32Array.of(0, hi - lo))[1] * (hi - lo)
  );
}

/** Share of a carried change of velocity that the world has to show (our choice: the greater part of it). */
const seenShare = 0.5;

/**
 * A fault of a motion's steps.
 * @param window first and last pose that the strength reads steps of
 * @param keys first and last pose at which a key can be the cause
 * @param sees what `strength` sees besides (see `Fault`)
 * @param strength from the steps of the window's poses (the first of them at index 0)
 */
export function paceFault(
  study: Study,
  node: number,
  { kind, pace, carrier, isLevel }: Motion,
  window: readonly [number, number],
  keys: readonly [number, number],
  sees: readonly Seen[],
  strength: (steps: Float64Array) => number,
): Fault {
  const { poses } = pace;
  // A step is the way from the pose before, so that one more pose has to be seen.
  const first = Math.max(0, window[0] - 1);
  const last = Math.min(poses.length - 1, window[1]);
  const lo = poses[first];
  const local = poses.subarray(first, last + 1).map((index) => index - lo);
  const skip = window[0] - first;
  const stepsOf = kind === "position" ? travelSteps : turnSteps;
  return {
    kind,
    subject: node,
    ...(carrier !== undefined && { top: belowCarrier(study, node, carrier) }),
    lo,
    hi: poses[last],
    from: poses[Math.max(0, keys[0])],
    to: Math.min(gridOf(study).count - 1, poses[Math.min(poses.length - 1, keys[1])]),
    sees: [...sees, local, skip, carrier ?? -1, isLevel === true ? 1 : 0],
    strength: (series) => {
      const seen = inFrame(study, { kind, carrier, isLevel }, series, lo);
      return strength(stepsOf(seen, local).subarray(skip));
    },
  };
}

/** The node next below a carrier on the way to a node: only from there on can channels be the cause. */
export function belowCarrier(study: Study, node: number, carrier: number): number {
  const { parent } = rigOf(study);
  let at = node;
  while (parent[at] !== carrier) at = parent[at];
  return at;
}

/**
 * Cosine of the angle between two steps of a motion, each named by the pose to which it leads; 0 where one is none.
 * For turning: of the angle between the axes about which they turn.
 */
export function sameness(study: Study, node: number, motion: Motion, one: number, other: number): number {
  const { poses } = motion.pace;
  const lo = poses[Math.min(one, other) - 1];
  const series = seriesIn(study, node, motion, lo, poses[Math.max(one, other)]);
  const to = (pose: number) => wayTo(series, motion, lo, pose);
  const a = to(one);
  const b = to(other);
  const size = lengthOf(a[0], a[1], a[2]) * lengthOf(b[0], b[1], b[2]);
  return size > 0 ? (a[0] * b[0] + a[1] * b[1] + a[2] * b[2]) / size : 0;
}

/** Places or orientations of a node from one sample to another, in the frame of its motion. */
function seriesIn(study: Study, node: number, motion: Motion, lo: number, hi: number): Float64Array {
  const world = worldOf(study, node);
  const series =
    motion.kind === "position"
      ? world.position.subarray(3 * lo, 3 * hi + 3)
      : world.orientation.subarray(4 * lo, 4 * hi + 4);
  return inFrame(study, motion, series, lo);
}

/** A series of the world as a motion sees it; its first sample is that of the grid's `lo`. */
function inFrame(
  study: Study,
  { kind, carrier, isLevel }: Pick<Motion, "kind" | "carrier" | "isLevel">,
  series: Float64Array,
  lo: number,
): Float64Array {
  if (isLevel === true) return levelled(series);
  return carrier === undefined ? series : carriedSeries(study, kind, carrier, series, lo);
}

/** A series of the world in the frame of a carrier; its first sample is that of the grid's `lo`. */
function carriedSeries(
  study: Study,
  kind: Motion["kind"],
  carrier: number,
  series: Float64Array,
  lo: number,
): Float64Array {
  const world = worldOf(study, carrier);
  return kind === "position" ? carriedPath(series, world, lo) : carriedTurns(series, world.orientation, lo);
}

/** The step that leads to a pose, per sample of the grid; see {@link wayTo}. */
function velocityTo(series: Float64Array, motion: Motion, lo: number, pose: number): Vector {
  const { poses } = motion.pace;
  return scaled(wayTo(series, motion, lo, pose), 1 / (poses[pose] - poses[pose - 1]));
}

/** The step that leads to a pose, in a series whose first sample is that of the grid's `lo`. */
function wayTo(series: Float64Array, { kind, pace: { poses } }: Motion, lo: number, pose: number): Vector {
  const way = kind === "position" ? travelWay : turnWay;
  return way(series, poses[pose - 1] - lo, poses[pose] - lo);
}

function travelWay(path: Float64Array, from: number, to: number): Vector {
  const a = 3 * from;
  const b = 3 * to;
  return [path[b] - path[a], path[b + 1] - path[a + 1], path[b + 2] - path[a + 2]];
}

/** Axis of the turn between two orientations, as long as the sine of half its angle. */
function turnWay(q: Float64Array, from: number, to: number): Vector {
  const a = 4 * from;
  const b = 4 * to;
  const ax = q[a];
  const ay = q[a + 1];
  const az = q[a + 2];
  const aw = q[a + 3];
  const bx = q[b];
  const by = q[b + 1];
  const bz = q[b + 2];
  const bw = q[b + 3];
  const sign = ax * bx + ay * by + az * bz + aw * bw < 0 ? -1 : 1;
  return [
    sign * (bx * aw - bw * ax - by * az + bz * ay),
    sign * (by * aw - bw * ay - bz * ax + bx * az),
    sign * (bz * aw - bw * az - bx * ay + by * ax),
  ];
}
