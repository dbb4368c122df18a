import { tangents } from "../../../base/rotation-vector.ts";
import type { Study } from "../../../base/study.ts";
import { gathered } from "../../../motion/path/shown.ts";
import { deviations } from "../../../motion/path/spike.ts";
import { usualAt } from "../../../motion/path/usual-deviation.ts";
import { localRotationOf, worldTurnOf } from "../../../rig/pose.ts";
import type { Motion } from "./paces.ts";

/**
 * Tells whether the velocity of a motion breaks at a pose by more than is usual of the part in the whole shot: the noise
 * floor on which sudden ends and jumps stand. A part that changes its speed by so much all the time, as a recording's does,
 * shows no fault where it does so once more.
 *
 * Where the velocity changes at one pose, the pose is off the cubic through its neighbours by a third of the change.
 * @param spread how many times what is usual a break has to be
 * @returns asked by pose; making it gathers the whole course, so that it is made where something is to be asked
 */
export function breaksOf(
  study: Study,
  node: number,
  motion: Motion,
  spread: number,
): (pose: number) => boolean {
  const points = courseOf(study, node, motion);
  if (points === null) return () => true;
  const off = new Float64Array(motion.pace.poses.length);
  deviations(points, off);
  return (pose) => off[pose] >= spread * usualAt(points, off, pose, 1);
}

/** Places of a motion's poses, or its turns unrolled, in its own frame; null where nothing turns. */
function courseOf(study: Study, node: number, { kind, pace, pathOf, carrier }: Motion): Float64Array | null {
  if (kind === "position") return gathered(pathOf(study, node), pace.poses);
  // What turns against something turns against its parent.
  const turns = carrier === undefined ? worldTurnOf(study, node).orientation : localRotationOf(study, node);
  return tangents(turns, pace.poses);
}
