import type { Seen } from "../../../base/memo-cell.ts";
import { sifted } from "../../../base/sifted.ts";
import { everywhere, patchedMeasure, type Study } from "../../../base/study.ts";
import { lengthOf } from "../../../base/vector.ts";
import { carriedPath, carriedTurns } from "../../../motion/path/carried.ts";
import { levelled, levelPathOf, levelTravelPaceOf, levelTravelStepsOf } from "../../../motion/path/level.ts";
import {
  carriedTravelPaceOf,
  carriedTravelStepsOf,
  limbPathOf,
  ownTurnPaceOf,
  ownTurnStepsOf,
  type Pace,
  posesOf,
  tailPathOf,
  travelPaceOf,
  travelSteps,
  travelStepsOf,
  trunkTravelPaceOf,
  trunkTravelStepsOf,
  turnPaceOf,
  turnSteps,
  turnStepsOf,
} from "../../../motion/path/pace.ts";
import { carrierOf, figureOfNode, figuresOf } from "../../../rig/body.ts";
import { limbCarrierOf, trunkCarrierOf } from "../../../rig/limb-carrier.ts";
import { worldOf } from "../../../rig/pose.ts";
import { reachOf } from "../../../rig/reach.ts";
import { rigOf } from "../../../rig/rig.ts";
import { gridOf } from "../../../time/grid.ts";
import type { Fault } from "../../check.ts";

/** One way in which a node moves from pose to pose: it travels, or it turns. */
export interface Motion {
  readonly kind: "position" | "orientation";
  readonly pace: Pace;
  /** What gives the pace of a node, its steps, and its path if it travels: whoever hangs on nothing else asks these. */
  readonly paceOf: {
    (study: Study, node: number): Pace | null;
    readonly definition: { readonly name: string };
  };
  readonly stepsOf: (study: Study, node: number) => Float64Array | null;
  readonly pathOf: (study: Study, node: number) => Float64Array;
  /** Metres that the eye sees per unit of a step: 1, or the reach of what turns. */
  readonly seen: number;
  /** The node in whose frame it is judged: what carries it. Left out in the world. */
  readonly carrier?: number | undefined;
  /** Whether only the way over the ground counts, without the height. */
  readonly isLevel?: boolean | undefined;
}

/** Travel and turning of a node in the world; empty where nothing drives it. */
export const motionsOf = motionsMeasure("motions", (study, node): readonly Motion[] => {
  if (worldOf(study, node).still) return [];
  const travel: Motion = {
    kind: "position",
    pace: travelPaceOf(study, node),
    paceOf: travelPaceOf,
    stepsOf: travelStepsOf,
    pathOf: placesOf,
    seen: 1,
  };
  const seen = reachOf(study, node);
  if (seen === 0) return [travel];
  return [
    travel,
    {
      kind: "orientation",
      pace: turnPaceOf(study, node),
      paceOf: turnPaceOf,
      stepsOf: turnStepsOf,
      pathOf: placesOf,
      seen,
    },
  ];
});

/**
 * How a node moves in the frame of what carries it: its own turn against its parent, and for a limb below its first
 * joint its travel against the node above that joint; for a tail behind a trunk that swings with it also against what
 * carries the trunk. Empty where that is how it moves in the world, and where its own
 * curves, or those of the limb above it, are still.
 */
export const carriedMotionsOf = motionsMeasure("carried motions", (study, node) => {
  const rig = rigOf(study);
  const parent = rig.parent[node];
  if (parent < 0 || worldOf(study, parent).still) return [];
  const motions: Motion[] = [];
  const seen = reachOf(study, node);
  const turn = seen > 0 ? ownTurnPaceOf(study, node) : null;
  if (turn !== null) {
    motions.push({
      kind: "orientation",
      pace: turn,
      paceOf: ownTurnPaceOf,
      stepsOf: ownTurnStepsOf,
      pathOf: placesOf,
      seen,
      carrier: parent,
    });
  }
  const addTravel = (carrier: number, of: Pick<Motion, "paceOf" | "stepsOf" | "pathOf">) => {
    const pace = carrier < 0 || worldOf(study, carrier).still ? null : of.paceOf(study, node);
    if (pace !== null) motions.push({ kind: "position", pace, ...of, seen: 1, carrier });
  };
  addTravel(limbCarrierOf(study, node), againstLimb);
  addTravel(trunkCarrierOf(study, node), againstTrunk);
  return motions;
});

const againstLimb = { paceOf: carriedTravelPaceOf, stepsOf: carriedTravelStepsOf, pathOf: limbPathOf };
const againstTrunk = { paceOf: trunkTravelPaceOf, stepsOf: trunkTravelStepsOf, pathOf: tailPathOf };

/**
 * How what carries a figure travels over the ground: empty for other nodes, and where nothing lifts it, as that is how it
 * travels in the world. A body that stops as if against a wall may still bob.
 */
export const levelMotionsOf = motionsMeasure("level motions", (study, node) => {
  const index = figureOfNode(study, node);
  if (index < 0 || carrierOf(figuresOf(study)[index]) !== node || worldOf(study, node).still) return [];
  if (!isLifted(worldOf(study, node).position)) return [];
  return [{ kind: "position", pace: levelTravelPaceOf(study, node), ...overGround, seen: 1, isLevel: true }];
});

function isLifted(path: Float64Array): boolean {
  for (let k = 4; k < path.length; k += 3) if (path[k] !== path[1]) return true;
  return false;
}

const overGround = { paceOf: levelTravelPaceOf, stepsOf: levelTravelStepsOf, pathOf: levelPathOf };

/** All of {@link motionsOf} and {@link carriedMotionsOf}: five checks ask for them. */
export const allMotionsOf = motionsMeasure("all motions", (study, node) => [
  ...motionsOf(study, node),
  ...carriedMotionsOf(study, node),
]);

const placesOf = (study: Study, node: number): Float64Array => worldOf(study, node).position;

/** Steps of a motion from pose to pose. */
export type Steps = Pick<Pace, "poses" | "steps">;

/**
 * The poses of a motion that pass a first question, kept from edit to edit; see {@link sifted}.
 * @param name of who asks
 * @param sees numbers that answers hang on besides
 * @param reach poses on each side that an answer hangs on
 * @param sift adds the poses from..to that pass
 */
export function siftedPoses(
  study: Study,
  node: number,
  { paceOf, stepsOf, pace }: Motion,
  name: string,
  sees: readonly Seen[],
  reach: number,
  sift: (steps: Steps, from: number, to: number, found: number[]) => void,
): readonly number[] {
  if (!study.memo.keepsPieces()) {
    const steps = stepsOf(study, node) ?? pace.steps;
    const found: number[] = [];
    sift({ poses: pace.poses, steps }, 0, steps.length - 1, found);
    return found;
  }
  return sifted(study, {
    name: `${name} ${node} ${paceOf.definition.name}`,
    sees,
    reach,
    isWhole: pace.poses.length === gridOf(study).count,
    series: () => ({ poses: pace.poses, steps: stepsOf(study, node) ?? pace.steps }),
    count: ({ steps }) => steps.length,
    sift,
  });
}

/** What is found in the steps of a motion alone, kept while these do not change; as for {@link siftedPoses}. */
export function keptOfSteps<T>(
  study: Study,
  node: number,
  { paceOf, stepsOf, pace: { steps } }: Motion,
  name: string,
  sees: readonly Seen[],
  find: (steps: Steps) => T,
): T {
  if (!study.memo.keepsPieces())
    return find({ poses: posesOf(study, node), steps: stepsOf(study, node) ?? steps });
  const whole = `${name} ${node} ${paceOf.definition.name}`;
  const all = Number.POSITIVE_INFINITY;
  return study.memo.keep(study, whole, -all, all, sees, () =>
    find({ poses: posesOf(study, node), steps: stepsOf(study, node) ?? steps }),
  );
}

/** What is found in the pace of a motion alone, kept while that does not change; as for {@link siftedPoses}. */
export function keptOfPace<T>(
  study: Study,
  node: number,
  { paceOf, pace }: Motion,
  name: string,
  sees: readonly Seen[],
  find: (pace: Pace) => T,
): T {
  if (!study.memo.keepsPieces()) return find(paceOf(study, node) ?? pace);
  const whole = `${name} ${node} ${paceOf.definition.name}`;
  const all = Number.POSITIVE_INFINITY;
  return study.memo.keep(study, whole, -all, all, sees, () => find(paceOf(study, node) ?? pace));
}

/** Motions whose paces are brought up to date in place, so that the list of them stays. */
function motionsMeasure(name: string, compute: (study: Study, node: number) => readonly Motion[]) {
  return patchedMeasure<number, readonly Motion[]>(
    name,
    compute,
    () => everywhere,
    (study, node, motions, from, to) => (areSame(motions, compute(study, node)) ? [from, to] : undefined),
  );
}

function areSame(before: readonly Motion[], now: readonly Motion[]): boolean {
  return (
    before.length === now.length &&
    before.every(({ pace, seen, carrier }, k) => {
      const other = now[k];
      return pace === other.pace && seen === other.seen && carrier === other.carrier;
    })
  );
}

/**
 * Whether a change of pace in a carried frame is seen in the world as well: its velocity changes there by half as much
 * at least. What a part does to stay where it is while its carrier moves does not.
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
  const lo = poses[Math.min(before, after) - 1];
  const hi = poses[Math.max(before, after)];
  const change = (series: Float64Array) => {
    const a = wayTo(series, motion, lo, before);
    const b = wayTo(series, motion, lo, after);
    const one = poses[before] - poses[before - 1];
    const other = poses[after] - poses[after - 1];
    return lengthOf(b[0] / other - a[0] / one, b[1] / other - a[1] / one, b[2] / other - a[2] / one);
  };
  const inWorld = seriesIn(study, node, { ...motion, carrier: undefined }, lo, hi);
  return change(inWorld) >= seenShare * change(carriedSeries(study, kind, carrier, inWorld, lo));
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

/** Where a finding on a motion's poses stands, in grid indices. */
export function placeOf(study: Study, node: number, { pace }: Motion, from: number, to: number) {
  return { node, figure: figureOfNode(study, node), from: pace.poses[from], to: pace.poses[to] };
}

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

type Way = readonly [number, number, number];

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

/** The step that leads to a pose, in a series whose first sample is that of the grid's `lo`. */
function wayTo(series: Float64Array, { kind, pace: { poses } }: Motion, lo: number, pose: number): Way {
  const way = kind === "position" ? travelWay : turnWay;
  return way(series, poses[pose - 1] - lo, poses[pose] - lo);
}

function travelWay(path: Float64Array, from: number, to: number): Way {
  const a = 3 * from;
  const b = 3 * to;
  return [path[b] - path[a], path[b + 1] - path[a + 1], path[b + 2] - path[a + 2]];
}

/** Axis of the turn between two orientations, as long as the sine of half its angle. */
function turnWay(q: Float64Array, from: number, to: number): Way {
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
