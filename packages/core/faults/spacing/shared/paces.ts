import type { Study } from "../../../base/study.ts";
import { lengthOf } from "../../../base/vector.ts";
import {
  ownTurnStepsOf,
  type Pace,
  type Steps,
  travelPaceOf,
  travelSteps,
  turnPaceOf,
  turnSteps,
} from "../../../motion/path/pace.ts";
import { inFrameOf } from "../../../motion/path/relative.ts";
import { figureOfNode } from "../../../rig/body.ts";
import { localRotationOf, worldOf } from "../../../rig/pose.ts";
import { reachOf } from "../../../rig/reach.ts";
import { rigOf } from "../../../rig/rig.ts";
import { gridOf } from "../../../time/grid.ts";
import type { Fault, Finding } from "../../check.ts";

/**
 * A finding of one way of moving, with how far what turns is seen to reach, metres; left out by checks of paths alone.
 */
export interface PacedFinding extends Finding {
  readonly seen?: number;
  /** Whether it is of a turn against the parent: where that shows the same, its halt is the fault. */
  readonly carried?: boolean;
}

/** One way in which a node steps from pose to pose: it travels, or it turns. */
export interface Stepping<S extends Steps = Steps> {
  readonly kind: "position" | "orientation";
  readonly pace: S;
  /** Metres that the eye sees per unit of a step: 1, or the reach of what turns. */
  readonly seen: number;
  /** Whether its turn against its parent is meant, which its own curves make; else its way through the world. */
  readonly own: boolean;
}

/** One way in which a node moves through the world. */
export type Motion = Stepping<Pace>;

/** Travel and turning of a node in the world; empty where nothing drives it. */
export function motionsOf(study: Study, node: number): readonly Motion[] {
  if (worldOf(study, node).still) return [];
  const travel: Motion = { kind: "position", pace: travelPaceOf(study, node), seen: 1, own: false };
  const seen = reachOf(study, node);
  if (seen === 0) return [travel];
  return [travel, { kind: "orientation", pace: turnPaceOf(study, node), seen, own: false }];
}

/**
 * Turning of a node against a parent that moves: an arm that a walk carries may stand while it is carried. Null where
 * its own curves do not turn it, or where nothing carries it.
 */
export function carriedTurnOf(study: Study, node: number): Stepping | null {
  const parent = rigOf(study).parent[node];
  if (parent < 0 || worldOf(study, parent).still) return null;
  const seen = reachOf(study, node);
  const pace = seen > 0 ? ownTurnStepsOf(study, node) : null;
  return pace === null ? null : { kind: "orientation", pace, seen, own: true };
}

/** Where a finding on a motion's poses stands, in grid indices. */
export function placeOf(study: Study, node: number, { pace }: Stepping, from: number, to: number) {
  return { node, figure: figureOfNode(study, node), from: pace.poses[from], to: pace.poses[to] };
}

/**
 * A fault of a motion's steps.
 * @param window first and last pose that the strength reads steps of
 * @param keys first and last pose at which a key can be the cause
 * @param strength from the steps of the window's poses (the first of them at index 0)
 */
export function paceFault(
  study: Study,
  node: number,
  { kind, pace, own }: Stepping,
  window: readonly [number, number],
  keys: readonly [number, number],
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
  const carrier = own ? worldOf(study, rigOf(study).parent[node]).orientation.subarray(4 * lo) : null;
  return {
    kind,
    subject: node,
    ...(own && { top: node }),
    lo,
    hi: poses[last],
    from: poses[Math.max(0, keys[0])],
    to: Math.min(gridOf(study).count - 1, poses[Math.min(poses.length - 1, keys[1])]),
    strength: (series) =>
      strength(stepsOf(carrier === null ? series : inFrameOf(carrier, series), local).subarray(skip)),
  };
}

export type Way = readonly [number, number, number];

/**
 * Cosine of the angle between two steps of a motion, each named by the pose to which it leads; 0 where one is none.
 * For turning: of the angle between the axes about which they turn.
 */
export function sameness(study: Study, node: number, motion: Stepping, one: number, other: number): number {
  const { poses } = motion.pace;
  const a = wayBetween(study, node, motion, poses[one - 1], poses[one]);
  const b = wayBetween(study, node, motion, poses[other - 1], poses[other]);
  const size = lengthOf(a[0], a[1], a[2]) * lengthOf(b[0], b[1], b[2]);
  return size > 0 ? (a[0] * b[0] + a[1] * b[1] + a[2] * b[2]) / size : 0;
}

/** Way of a motion between two samples; of a turn its axis, as long as the sine of half its angle. */
export function wayBetween(
  study: Study,
  node: number,
  { kind, own }: Pick<Stepping, "kind" | "own">,
  from: number,
  to: number,
): Way {
  if (own) return turnWay(localRotationOf(study, node), from, to);
  const { position, orientation } = worldOf(study, node);
  return kind === "position" ? travelWay(position, from, to) : turnWay(orientation, from, to);
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
  const [ax, ay, az, aw] = [q[a], q[a + 1], q[a + 2], q[a + 3]];
  const [bx, by, bz, bw] = [q[b], q[b + 1], q[b + 2], q[b + 3]];
  const sign = ax * bx + ay * by + az * bz + aw * bw < 0 ? -1 : 1;
  return [
    sign * (bx * aw - bw * ax - by * az + bz * ay),
    sign * (by * aw - bw * ay - bz * ax + bx * az),
    sign * (bz * aw - bw * az - bx * ay + by * ax),
  ];
}

/**
 * Poses on each side from which the usual change of spacing is taken: enough for a median, near enough to be the same
 * move.
 */
const around = 10;
const changes = new Float64Array(2 * around + 4);

/**
 * How far the change from one step to the next usually is from the middle between the changes before and after it,
 * around a pose that is left out with what it bears upon: median × 1.4826, as for a Hampel identifier. An ease changes
 * its spacing much, but evenly; what is sudden stands out against the changes beside it.
 */
export function usualLurch(steps: Float64Array, at: number): number {
  // What is calm tells nothing of what is usual at speed, if there are three others.
  const quick = lurchesAround(steps, at, (steps[at] + steps[at + 1]) / 2);
  return spreadOf(changes.subarray(0, quick >= 3 ? quick : lurchesAround(steps, at, 0)));
}

/** Lurches at the poses around one with two steps that make at least a length; returns how many. */
function lurchesAround(steps: Float64Array, at: number, least: number): number {
  let length = 0;
  const end = Math.min(steps.length - 3, at + around);
  for (let i = Math.max(2, at - around); i <= end; i++) {
    if (Math.abs(i - at) < 2 || steps[i] + steps[i + 1] < least) continue;
    changes[length++] = Math.abs(lurchAt(steps, i));
  }
  return length;
}

/** How far the change of spacing at a pose is from the middle between those at the poses before and after it. */
export function lurchAt(steps: Float64Array, at: number): number {
  return 1.5 * (steps[at + 1] - steps[at]) + (steps[at - 1] - steps[at + 2]) / 2;
}

/**
 * How far a step usually is from the middle between the steps before and after it, around the poses first..last, which
 * are left out with the step after them. An ease changes its spacing much, but evenly; what is out of the row stands
 * out against the steps beside it.
 */
export function usualUnevenness(steps: Float64Array, first: number, last: number): number {
  let length = 0;
  const end = Math.min(steps.length - 2, last + around);
  for (let i = Math.max(2, first - around); i <= end; i++) {
    if (i > first - 2 && i < last + 3) continue;
    changes[length++] = Math.abs(steps[i] - (steps[i - 1] + steps[i + 1]) / 2);
  }
  return spreadOf(changes.subarray(0, length));
}

/**
 * How far the change of a path's velocity at a pose usually is from the middle between the changes at the poses before
 * and after it, around a pose that is left out with what it bears upon. A curve that eases changes its velocity much,
 * but evenly; a corner stands out against the changes beside it.
 * @param speed poses that the path passes at less than this way per pose tell nothing of what is usual at speed, if
 *   there are three others
 */
export function usualBreak(path: Float64Array, poses: Int32Array, at: number, speed: number): number {
  const quick = breaksAround(path, poses, at, speed);
  return spreadOf(changes.subarray(0, quick >= 3 ? quick : breaksAround(path, poses, at, 0)));
}

/** Breaks at the poses around one past which the path goes two steps of at least a length; returns how many. */
function breaksAround(path: Float64Array, poses: Int32Array, at: number, least: number): number {
  let length = 0;
  const end = Math.min(poses.length - 3, at + around);
  for (let i = Math.max(2, at - around); i <= end; i++) {
    if (Math.abs(i - at) < 3) continue;
    let square = 0;
    let way = 0;
    for (let axis = 0; axis < 3; axis++) {
      const before = path[3 * poses[i - 1] + axis];
      const after = path[3 * poses[i + 1] + axis];
      const outer = path[3 * poses[i - 2] + axis] + path[3 * poses[i + 2] + axis];
      square += (3 * path[3 * poses[i] + axis] - 2 * (before + after) + outer / 2) ** 2;
      way += (after - before) ** 2;
    }
    if (way >= 4 * least * least) changes[length++] = Math.sqrt(square);
  }
  return length;
}

/** Median × 1.4826 of absolute changes, which are sorted in place; 0 of fewer than three. */
function spreadOf(values: Float64Array): number {
  if (values.length < 3) return 0;
  values.sort();
  const half = values.length >> 1;
  return 1.4826 * (values.length % 2 === 1 ? values[half] : (values[half - 1] + values[half]) / 2);
}

/**
 * A child shows a fault of its own only if it shows this many times what its parent shows of it: a third more than it
 * is carried along with (our choice).
 */
const moreThanParent = 1.3;

/**
 * Findings of a node without those that its parent shows just as much over the same frames, and without the smaller
 * one of two that say the same of its travel and of its turning.
 * @param parents gives the parent's findings; asked only if there is anything to compare
 */
export function ownFindings<F extends PacedFinding>(
  own: readonly F[],
  parent: number,
  parents: (parent: number) => readonly F[],
): readonly F[] {
  if (own.length === 0) return own;
  const above = parent < 0 ? [] : parents(parent);
  return own.filter(
    (finding, index) =>
      !above.some(
        (other) => meet(finding, other) && (finding.carried === true || showsNoMore(finding, other)),
      ) &&
      !own.some(
        (other, k) =>
          k !== index &&
          meet(finding, other) &&
          (other.size > finding.size || (other.size === finding.size && k < index)),
      ),
  );
}

function meet(a: PacedFinding, b: PacedFinding): boolean {
  return a.from <= b.to + 1 && b.from <= a.to + 1;
}

/** Two turns are compared as angles, since every node below turns alike, however far it reaches. */
function showsNoMore(finding: PacedFinding, parents: PacedFinding): boolean {
  const turns = finding.fault?.kind === "orientation" && parents.fault?.kind === "orientation";
  const shown = ({ size, seen = 1 }: PacedFinding) => (turns ? size / seen : size);
  return shown(finding) <= moreThanParent * shown(parents);
}
