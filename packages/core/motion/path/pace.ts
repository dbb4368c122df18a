import { referenceRate } from "../../base/constants.ts";
import type { Stretch } from "../../base/memo-cell.ts";
import { angleBetween } from "../../base/quaternion.ts";
import { floats, integers } from "../../base/room.ts";
import {
  bothStretches,
  changedSamples,
  everywhere,
  type Measure,
  measure,
  overwritten,
  patchedMeasure,
  type Study,
  sameNumbers,
  sampledMeasure,
} from "../../base/study.ts";
import { lengthOf } from "../../base/vector.ts";
import { limbCarrierOf, trunkCarrierOf } from "../../rig/limb-carrier.ts";
import { localMotionOf } from "../../rig/local.ts";
import { localRotationOf, worldOf, worldTurnOf } from "../../rig/pose.ts";
import { rigOf } from "../../rig/rig.ts";
import { gridOf } from "../../time/grid.ts";
import { carriedPath } from "./carried.ts";
import { cutsOf, stepsWithoutCuts } from "./cuts.ts";
import { framesAt, heldOf, isChainStepped, longestPose } from "./held.ts";
import {
  changedMoves,
  longestPause,
  type Move,
  movesBetweenCuts,
  movesOf,
  restFloorOf,
  restTurn,
} from "./moves.ts";
import { allSamplesOf } from "./shown.ts";
import { measureSteps, spacingOfPath } from "./spacing.ts";
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
export const travelPaceOf = patchedMeasure(
  "travel pace",
  (study, node: number): Pace => {
    const poses = posesOf(study, node);
    const { count, rate } = gridOf(study);
    if (poses.length === count) {
      return { poses, steps: uncutSpacingOf(study, node), moves: movesOf(study, node) };
    }
    const cuts = cutsOf(study, node);
    const steps = travelSteps(worldOf(study, node).position, poses);
    const moves = movesBetweenCuts(steps, poses, cuts, restFloorOf(study, node), pauseAt(rate), rate);
    return { poses, steps: stepsWithoutCuts(steps, poses, cuts), moves };
  },
  changedPace,
  (study, node, pace, from, to) => {
    if (isPosed(study, node, pace) || uncutSpacingOf(study, node) !== pace.steps) return undefined;
    return withMoves(pace, movesOf(study, node), from, to);
  },
);

/**
 * The steps of {@link travelPaceOf}: whoever hangs on these alone asks for them, since a move that an edit changes may be as
 * long as the shot.
 */
export function travelStepsOf(study: Study, node: number): Float64Array {
  const isWhole = posesOf(study, node).length === gridOf(study).count;
  return isWhole ? uncutSpacingOf(study, node) : travelPaceOf(study, node).steps;
}

/** The steps of {@link turnPaceOf}; moves use none that leads over a cut. */
export const turnStepsOf: Measure<number, Float64Array> = patchedMeasure(
  "turn steps",
  (study, node: number): Float64Array => {
    const above = sharedTurn(study, node);
    if (above >= 0) return turnStepsOf(study, above);
    const poses = posesOf(study, node);
    const { count } = gridOf(study);
    const path = poses.length === count ? turnPathOf(study, node) : null;
    const steps =
      path?.length === 3 * count
        ? spacingOfPath(path)
        : turnSteps(worldTurnOf(study, node).orientation, poses);
    return stepsWithoutCuts(steps, poses, cutsOf(study, node));
  },
  (a, b) => changedSamples(a, b, 1),
  (study, node, steps, from, to) => {
    const above = sharedTurn(study, node);
    if (above >= 0) return steps === turnStepsOf(study, above) ? [from, to] : undefined;
    const { count } = gridOf(study);
    if (posesOf(study, node).length !== count || cutsOf(study, node).length > 0) return undefined;
    const path = turnPathOf(study, node);
    if (path?.length !== 3 * count || steps.length !== count) return undefined;
    const last = Math.min(count - 1, to + 1);
    measureSteps(path, steps, from, last);
    return [from, last];
  },
);

/** The parent of a node that has no turn of its own: what its parent shows is what it shows. Else −1. */
function sharedTurn(study: Study, node: number): number {
  const above = rigOf(study).parent[node];
  const { count } = gridOf(study);
  if (above < 0 || posesOf(study, node).length !== count) return -1;
  const path = turnPathOf(study, node);
  if (path === null || turnPathOf(study, above) !== path) return -1;
  return posesOf(study, above).length === count ? above : -1;
}

/** Turning of a node in the world, radians per judged frame. */
export const turnPaceOf: Measure<number, Pace> = patchedMeasure(
  "turn pace",
  (study, node: number): Pace => {
    const above = sharedTurn(study, node);
    if (above >= 0) return turnPaceOf(study, above);
    const poses = posesOf(study, node);
    const { rate } = gridOf(study);
    const steps = turnStepsOf(study, node);
    const moves = movesBetweenCuts(steps, poses, cutsOf(study, node), turnFloor(rate), pauseAt(rate), rate);
    return { poses, steps, moves };
  },
  changedPace,
  (study, node, pace, from, to) => {
    const above = sharedTurn(study, node);
    if (above >= 0) return turnPaceOf(study, above) === pace ? [from, to] : undefined;
    const { rate } = gridOf(study);
    const cuts = cutsOf(study, node);
    if (isPosed(study, node, pace) || turnStepsOf(study, node) !== pace.steps) return undefined;
    const moves = movesBetweenCuts(pace.steps, pace.poses, cuts, turnFloor(rate), pauseAt(rate), rate);
    return withMoves(pace, moves, from, to);
  },
);

/** Puts moves into a pace whose steps have changed between two samples. */
function withMoves(pace: Pace, moves: readonly Move[], from: number, to: number): Stretch {
  const moved = changedMoves(pace.moves, moves);
  (pace as Changing<Pace>).moves = moves;
  return bothStretches(moved, [from, to]) ?? everywhere;
}

type Changing<T> = { -readonly [K in keyof T]: T[K] };

/** Whether a node does not show a pose of its own in each sample, or a pace was worked out from other poses. */
function isPosed(study: Study, node: number, pace: Pace): boolean {
  const poses = posesOf(study, node);
  return poses.length !== gridOf(study).count || poses !== pace.poses;
}

/** Where two paces differ; everywhere where one of them does not show a pose in each sample. */
function changedPace(a: Pace, b: Pace): Stretch | null {
  const hasAll = ({ poses }: Pace) => poses.length === 0 || poses[poses.length - 1] === poses.length - 1;
  if (a.poses.length !== b.poses.length || !hasAll(a) || !hasAll(b)) return everywhere;
  return bothStretches(changedMoves(a.moves, b.moves), changedSamples(a.steps, b.steps, 1));
}

/**
 * Turning of a node against its parent, radians per judged frame: what its own curves do, whatever carries it. Null
 * where it has no curves that turn it.
 */
export const ownTurnPaceOf = sampledMeasure(
  "own turn pace",
  (study, node: number): Pace | null => {
    const steps = ownTurnStepsOf(study, node);
    if (steps === null) return null;
    const poses = posesOf(study, node);
    const { rate } = gridOf(study);
    const cuts = cutsOf(study, node);
    return {
      poses,
      steps,
      moves: movesBetweenCuts(steps, poses, cuts, turnFloor(rate), pauseAt(rate), rate),
    };
  },
  (a, b) => (a === null || b === null ? (a === b ? null : everywhere) : changedPace(a, b)),
  true,
  false,
);

/** The steps of {@link ownTurnPaceOf}. */
export const ownTurnStepsOf = measure(
  "own turn steps",
  (study, node: number): Float64Array | null => {
    if (localMotionOf(study, node).turn.still) return null;
    const poses = posesOf(study, node);
    return stepsWithoutCuts(turnSteps(localRotationOf(study, node), poses), poses, cutsOf(study, node));
  },
  sameNumbers,
);

/** Path of a node of a limb in the frame of what carries the limb (see `limbCarrierOf`), metres. */
export const limbPathOf = carriedPathMeasure("path against a limb's carrier", limbCarrierOf);
/** Path of a node of a tail in the frame of what carries the trunk (see `trunkCarrierOf`), metres. */
export const tailPathOf = carriedPathMeasure("path against a trunk's carrier", trunkCarrierOf);

/** The steps of {@link carriedTravelPaceOf}. */
export const carriedTravelStepsOf = stepsAlong("carried travel steps", limbPathOf);
/** The steps of {@link trunkTravelPaceOf}. */
export const trunkTravelStepsOf = stepsAlong("trunk travel steps", tailPathOf);

/** Travel of a node of a limb in the frame of what carries the limb, metres per judged frame. */
export const carriedTravelPaceOf = paceAlong("carried travel pace", carriedTravelStepsOf);
/** Travel of a node of a tail in the frame of what carries the trunk, metres per judged frame. */
export const trunkTravelPaceOf = paceAlong("trunk travel pace", trunkTravelStepsOf);

function carriedPathMeasure(name: string, carrierOf: (study: Study, node: number) => number) {
  return patchedMeasure<number, Float64Array>(
    name,
    (study, node) => carriedPath(worldOf(study, node).position, worldOf(study, carrierOf(study, node))),
    (a, b) => changedSamples(a, b, 3),
    (study, node, path, from, to) => {
      const part = worldOf(study, node).position.subarray(3 * from, 3 * to + 3);
      const fresh = carriedPath(part, worldOf(study, carrierOf(study, node)), from);
      return overwritten(path, 3, from, fresh, to - from + 1);
    },
  );
}

/** Measure of the steps of a node along a path of its own; pose by pose, per judged frame. */
export function stepsAlong(name: string, pathOf: Measure<number, Float64Array>) {
  return patchedMeasure<number, Float64Array>(
    name,
    (study, node) => {
      const poses = posesOf(study, node);
      return stepsWithoutCuts(travelSteps(pathOf(study, node), poses), poses, cutsOf(study, node));
    },
    (a, b) => changedSamples(a, b, 1),
    (study, node, steps, from, to) => {
      const { count } = gridOf(study);
      if (posesOf(study, node).length !== count || cutsOf(study, node).length > 0) return undefined;
      const last = Math.min(count - 1, to + 1);
      measureSteps(pathOf(study, node), steps, from, last);
      return [from, last];
    },
  );
}

/** Measure of the pace that such steps give. */
export function paceAlong(name: string, stepsOf: Measure<number, Float64Array>): Measure<number, Pace> {
  const movesIn = (study: Study, node: number, steps: Float64Array, poses: Int32Array) => {
    const { rate } = gridOf(study);
    return movesBetweenCuts(steps, poses, cutsOf(study, node), restFloorOf(study, node), pauseAt(rate), rate);
  };
  return patchedMeasure(
    name,
    (study, node: number): Pace => {
      const poses = posesOf(study, node);
      const steps = stepsOf(study, node);
      return { poses, steps, moves: movesIn(study, node, steps, poses) };
    },
    changedPace,
    (study, node, pace, from, to) => {
      if (isPosed(study, node, pace) || stepsOf(study, node) !== pace.steps) return undefined;
      return withMoves(pace, movesIn(study, node, pace.steps, pace.poses), from, to);
    },
  );
}

/** Radians per judged frame under which a joint counts as at rest. */
function turnFloor(rate: number): number {
  return (restTurn * referenceRate) / rate;
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
