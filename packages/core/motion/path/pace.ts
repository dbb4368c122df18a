import { referenceRate } from "../../base/constants.ts";
import { angleBetween } from "../../base/quaternion.ts";
import { floats, integers } from "../../base/room.ts";
import { type Measure, measure, type Study } from "../../base/study.ts";
import { lengthOf } from "../../base/vector.ts";
import { limbCarrierOf, trunkCarrierOf } from "../../rig/limb-carrier.ts";
import { localMotionOf } from "../../rig/local.ts";
import { localRotationOf, worldOf } from "../../rig/pose.ts";
import { rigOf } from "../../rig/rig.ts";
import { gridOf } from "../../time/grid.ts";
import { carriedPath } from "./carried.ts";
import { cutsOf, stepsWithoutCuts } from "./cuts.ts";
import { framesAt, heldOf, isChainStepped, longestPose } from "./held.ts";
import { longestPause, type Move, movesBetweenCuts, movesOf, restFloorOf, restTurn } from "./moves.ts";
import { allSamplesOf } from "./shown.ts";
import { spacingOfPath } from "./spacing.ts";
import { turnPathOf } from "./turn-path.ts";
import { uncutSpacingOf } from "./uncut.ts";

/**
 * How a part moves from pose to pose, as it is read by the eye: a pose that step keys hold for up to three frames
 * counts once (motion on twos and threes), a longer hold is a rest on each of its frames. A cut is no travel.
 */
export interface Pace {
  /** Grid indices of the poses, ascending. */
  readonly poses: Int32Array;
  /** Per pose: way from the pose before, per judged frame; metres or radians. The first entry is 0. */
  readonly steps: Float64Array;
  /** Moves from rest to rest; their indices count poses, and their speeds are per second. */
  readonly moves: readonly Move[];
}

/** Grid indices of the poses that a node shows; see {@link Pace}. */
export function posesOf(study: Study, node: number): Int32Array {
  return isChainStepped(study, node) ? heldPosesOf(study, node) : allSamplesOf(study);
}

const heldPosesOf = measure("poses", (study, node: number): Int32Array => {
  const { count, rate } = gridOf(study);
  const held = heldOf(study, node);
  const longest = framesAt(rate, longestPose);
  const poses = integers(count);
  let length = 0;
  for (let i = 0; i < count; ) {
    poses[length++] = i;
    const end = runEnd(held, i);
    if (end - i > longest) {
      // The way to the next pose takes as long as that pose is shown: a pose on twos is no faster after a hold.
      const next = end < count ? runEnd(held, end) - end : 1;
      const last = end - (next > longest ? 1 : next);
      for (let k = i + 1; k <= last; k++) poses[length++] = k;
    }
    i = end;
  }
  return poses.subarray(0, length);
});

/** The sample after the last one that repeats a pose. */
function runEnd(held: Uint8Array, pose: number): number {
  let end = pose + 1;
  while (end < held.length && held[end] === 1) end++;
  return end;
}

/** Travel of a node through the world, metres per judged frame. */
export const travelPaceOf = measure("travel pace", (study, node: number): Pace => {
  const poses = posesOf(study, node);
  const { count, rate } = gridOf(study);
  if (poses.length === count) {
    return { poses, steps: uncutSpacingOf(study, node), moves: movesOf(study, node) };
  }
  const cuts = cutsOf(study, node);
  const steps = travelSteps(worldOf(study, node).position, poses);
  const moves = movesBetweenCuts(steps, poses, cuts, restFloorOf(study, node), pauseAt(rate), rate);
  return { poses, steps: stepsWithoutCuts(steps, poses, cuts), moves };
});

/** Turning of a node in the world, radians per judged frame. */
export const turnPaceOf: Measure<number, Pace> = measure("turn pace", (study, node: number): Pace => {
  const poses = posesOf(study, node);
  const { count, rate } = gridOf(study);
  const path = poses.length === count ? turnPathOf(study, node) : null;
  const above = rigOf(study).parent[node];
  if (path !== null && above >= 0 && turnPathOf(study, above) === path) {
    // The node has no turn of its own: what its parent shows is what it shows.
    const pace = turnPaceOf(study, above);
    if (pace.poses.length === count) return pace;
  }
  const steps =
    path?.length === 3 * count ? spacingOfPath(path) : turnSteps(worldOf(study, node).orientation, poses);
  const cuts = cutsOf(study, node);
  const floor = (restTurn * referenceRate) / rate;
  const moves = movesBetweenCuts(steps, poses, cuts, floor, pauseAt(rate), rate);
  return { poses, steps: stepsWithoutCuts(steps, poses, cuts), moves };
});

/**
 * Turning of a node against its parent, radians per judged frame: what its own curves do, whatever carries it. Null
 * where it has no curves that turn it.
 */
export const ownTurnPaceOf = measure("own turn pace", (study, node: number): Pace | null => {
  if (localMotionOf(study, node).turn.still) return null;
  const poses = posesOf(study, node);
  const cuts = cutsOf(study, node);
  const steps = stepsWithoutCuts(turnSteps(localRotationOf(study, node), poses), poses, cuts);
  const { rate } = gridOf(study);
  const floor = (restTurn * referenceRate) / rate;
  return { poses, steps, moves: movesBetweenCuts(steps, poses, cuts, floor, pauseAt(rate), rate) };
});

/** Travel of a node of a limb in the frame of what carries the limb (see `limbCarrierOf`), metres per judged frame. */
export const carriedTravelPaceOf = measure(
  "carried travel pace",
  (study, node: number): Pace => travelPaceIn(study, node, limbCarrierOf(study, node)),
);

/** Travel of a node of a tail in the frame of what carries the trunk (see `trunkCarrierOf`), metres per judged frame. */
export const trunkTravelPaceOf = measure(
  "trunk travel pace",
  (study, node: number): Pace => travelPaceIn(study, node, trunkCarrierOf(study, node)),
);

function travelPaceIn(study: Study, node: number, carrier: number): Pace {
  const poses = posesOf(study, node);
  const { rate } = gridOf(study);
  const path = carriedPath(worldOf(study, node).position, worldOf(study, carrier));
  const steps = travelSteps(path, poses);
  const cuts = cutsOf(study, node);
  const moves = movesBetweenCuts(steps, poses, cuts, restFloorOf(study, node), pauseAt(rate), rate);
  return { poses, steps: stepsWithoutCuts(steps, poses, cuts), moves };
}

/**
 * Length of each step of a path from pose to pose, per frame; the first entry is 0.
 * @param path 3 numbers per sample
 * @param poses samples to use, ascending
 */
export function travelSteps(path: Float64Array, poses: Int32Array): Float64Array {
  const steps = floats(poses.length);
  for (let i = 1; i < poses.length; i++) {
    const a = 3 * poses[i - 1];
    const b = 3 * poses[i];
    const x = path[b] - path[a];
    const y = path[b + 1] - path[a + 1];
    const z = path[b + 2] - path[a + 2];
    steps[i] = lengthOf(x, y, z) / (poses[i] - poses[i - 1]);
  }
  return steps;
}

/** The same as {@link travelSteps} for orientations (4 numbers per sample): radians per frame. */
export function turnSteps(orientation: Float64Array, poses: Int32Array): Float64Array {
  const steps = floats(poses.length);
  for (let i = 1, from = poses[0]; i < poses.length; i++) {
    const to = poses[i];
    const angle = angleBetween(orientation, 4 * from, orientation, 4 * to);
    steps[i] = to - from === 1 ? angle : angle / (to - from);
    from = to;
  }
  return steps;
}

/** Poses of a rest that still belong to a move. */
function pauseAt(rate: number): number {
  return Math.round((longestPause * rate) / referenceRate);
}
