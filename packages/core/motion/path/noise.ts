import { rotateVector } from "../../base/quaternion.ts";
import { integers } from "../../base/room.ts";
import { tangents } from "../../base/rotation-vector.ts";
import { measure, type Study, shotMeasure } from "../../base/study.ts";
import { localMotionOf } from "../../rig/local.ts";
import { chainOf, localRotationOf, localTranslationOf, outerWorldOf, worldOf } from "../../rig/pose.ts";
import { rigOf } from "../../rig/rig.ts";
import { metresPerUnitOf } from "../../rig/stature.ts";
import { gridOf } from "../../time/grid.ts";
import type { Span } from "../../time/span.ts";
import { deviations } from "./spike.ts";

/** A joint that brings noise into what hangs on it, by turning or by shifting against its parent. */
export interface NoiseSource {
  readonly joint: number;
  readonly kind: "turn" | "shift";
  /** Share of a node's noise that comes from it; those of all joints above the node make up about 1. */
  readonly share: number;
}

/** A node's motion over a run of poses. */
export interface Trembling {
  readonly node: number;
  /** Whether its turning is meant, or its travel. */
  readonly turns: boolean;
  /** Grid indices of the poses of `path`. */
  readonly poses: Int32Array;
  /** Its path (metres), or its turns unrolled (radians), in the world: 3 numbers per pose. */
  readonly path: Float64Array;
  /** First and last pose that tremble, with a pose more on both sides of them. */
  readonly run: Span;
}

/**
 * The joint from which most of a node's noise comes. A joint's own push (the vector to a pose from the middle between
 * its neighbours) moves what hangs on it by its turn about the joint, or by its shift; the changes of that from pose to
 * pose, along the changes of the node's own push, are its share. Changes from pose to pose are noise far more than they
 * are movement.
 * @returns null where no joint moves the node, or where nothing but scales do
 */
export function noiseSourceOf(study: Study, trembling: Trembling): NoiseSource | null {
  const { node, turns, poses, path, run } = trembling;
  const own = pushesOf(path, run);
  const rig = rigOf(study);
  const at = worldOf(study, node).position;
  let best: NoiseSource | null = null;
  for (const joint of chainOf(rig, node)) {
    const { turn, shift } = localMotionOf(study, joint);
    const parent = rig.parent[joint];
    const { orientation } = parent < 0 ? outerWorldOf(study, undefined) : worldOf(study, parent);
    if (!turn.still && (turns || joint !== node)) {
      const pushes = ownPushes(study, joint, "turn", poses, run);
      if (pushes !== null) {
        inWorld(pushes, orientation, poses, run);
        if (!turns) aboutJoint(pushes, worldOf(study, joint).position, at, poses, run);
        best = greater(best, { joint, kind: "turn", share: shareOf(pushes, own) });
      }
    }
    if (!shift.still && !turns) {
      const pushes = ownPushes(study, joint, "shift", poses, run);
      if (pushes !== null) {
        inWorld(pushes, orientation, poses, run);
        best = greater(best, { joint, kind: "shift", share: shareOf(pushes, own) });
      }
    }
  }
  return best;
}

function greater(a: NoiseSource | null, b: NoiseSource): NoiseSource {
  return a === null || b.share > a.share ? b : a;
}

/** Share of the typical deviation of noise from which on a pose is off its path (our choice). */
const noisyShare = 0.5;

/**
 * The poses over which a joint's own noise lasts: from a run of poses outwards and inwards to the first and the last
 * one that is off the cubic through its neighbours by half of what is typical in the run, and that is pushed against
 * the pose beside it. Poses that are calm end the noise where there are more than `gap` of them.
 */
export function noiseSpan(
  study: Study,
  { joint, kind }: NoiseSource,
  poses: Int32Array,
  run: Span,
  gap: number,
): Span {
  const path = ownPath(study, joint, kind, poses);
  if (path === null) return run;
  const off = new Float64Array(poses.length);
  deviations(path, off);
  const typical = off.slice(run.from, run.to + 1).sort()[(run.to - run.from) >> 1];
  const least = noisyShare * typical;
  const isNoisy = (i: number) => off[i] >= least && (reverses(path, i) || reverses(path, i + 1));
  let from = run.from;
  let to = run.to;
  while (from < run.to && !isNoisy(from)) from++;
  while (to > from && !isNoisy(to)) to--;
  for (let i = from - 1; i >= 2 && from - i <= gap + 1; i--) if (isNoisy(i)) from = i;
  for (let i = to + 1; i < poses.length - 2 && i - to <= gap + 1; i++) if (isNoisy(i)) to = i;
  return { from, to };
}

/** Whether a path is pushed at a pose against its push at the pose before. */
export function reverses(path: Float64Array, pose: number): boolean {
  if (pose < 2 || 3 * pose + 5 >= path.length) return false;
  let dot = 0;
  for (let k = 3 * pose; k < 3 * pose + 3; k++) {
    const here = path[k] - (path[k - 3] + path[k + 3]) / 2;
    const before = path[k - 3] - (path[k - 6] + path[k]) / 2;
    dot += here * before;
  }
  return dot < 0;
}

/**
 * What a joint does against its parent on every sample, see {@link ownPath}; what hangs on it asks for it again and
 * again.
 */
export const ownTurnsOf = measure("own turns", (study, joint: number): Float64Array | null =>
  tangents(localRotationOf(study, joint), everySample(study)),
);

const everySample = shotMeasure("every sample", (study): Int32Array => {
  const samples = integers(gridOf(study).count);
  for (let i = 0; i < samples.length; i++) samples[i] = i;
  return samples;
});

/**
 * What a joint does against its parent, in its parent's axes: radians or metres, 3 numbers per pose; null of nothing.
 */
export function ownPath(
  study: Study,
  joint: number,
  kind: NoiseSource["kind"],
  poses: Int32Array,
): Float64Array | null {
  if (kind === "turn") {
    if (poses.length === gridOf(study).count) return ownTurnsOf(study, joint);
    return tangents(localRotationOf(study, joint), poses);
  }
  const shifts = localTranslationOf(study, joint);
  const metres = metresPerUnitOf(study);
  const path = new Float64Array(3 * poses.length);
  poses.forEach((pose, i) => {
    for (let axis = 0; axis < 3; axis++) path[3 * i + axis] = metres * shifts[3 * pose + axis];
  });
  return path;
}

function ownPushes(
  study: Study,
  joint: number,
  kind: NoiseSource["kind"],
  poses: Int32Array,
  run: Span,
): Float64Array | null {
  const path = ownPath(study, joint, kind, poses);
  return path === null ? null : pushesOf(path, run);
}

/** Per pose of a run, the vector to it from the middle between its neighbours. */
function pushesOf(path: Float64Array, { from, to }: Span): Float64Array {
  const pushes = new Float64Array(3 * (to - from + 1));
  for (let i = 0; i < pushes.length; i++) {
    const k = 3 * from + i;
    pushes[i] = path[k] - (path[k - 3] + path[k + 3]) / 2;
  }
  return pushes;
}

function inWorld(pushes: Float64Array, parent: Float64Array, poses: Int32Array, { from }: Span): void {
  for (let k = 0; k < pushes.length; k += 3)
    rotateVector(parent, 4 * poses[from + k / 3], pushes, k, pushes, k);
}

/** What small turns about a joint do to a point: the turn's vector, across the way from the joint to the point. */
function aboutJoint(
  turns: Float64Array,
  joint: Float64Array,
  point: Float64Array,
  poses: Int32Array,
  { from }: Span,
): void {
  for (let k = 0; k < turns.length; k += 3) {
    const p = 3 * poses[from + k / 3];
    const rx = point[p] - joint[p];
    const ry = point[p + 1] - joint[p + 1];
    const rz = point[p + 2] - joint[p + 2];
    const x = turns[k];
    const y = turns[k + 1];
    const z = turns[k + 2];
    turns[k] = y * rz - z * ry;
    turns[k + 1] = z * rx - x * rz;
    turns[k + 2] = x * ry - y * rx;
  }
}

/** How much of the changes from pose to pose of a whole lies in those of a part of it. */
function shareOf(part: Float64Array, whole: Float64Array): number {
  let along = 0;
  let all = 0;
  for (let k = 3; k < whole.length; k++) {
    const change = whole[k] - whole[k - 3];
    along += (part[k] - part[k - 3]) * change;
    all += change * change;
  }
  return all > 0 ? along / all : 0;
}
