import { referenceRate } from "../../base/constants.ts";
import { excused } from "../../base/excuse.ts";
import { sifted } from "../../base/sifted.ts";
import type { Study } from "../../base/study.ts";
import { worldOf } from "../../rig/pose.ts";
import { reachOf } from "../../rig/reach.ts";
import { gridOf } from "../../time/grid.ts";
import type { Span } from "../../time/span.ts";
import { cutsOf, piecesOf } from "./cuts.ts";
import { isCycle } from "./cycle.ts";
import { type NoiseSource, noiseSourceOf, noiseSpan, ownPath, reverses } from "./noise.ts";
import { gathered, shownOf } from "./shown.ts";
import { turnPathOf } from "./turn-path.ts";

/** From when on noise is a tremble. */
export interface TrembleLimits {
  /** Reversals per second. */
  readonly rate: number;
  /** Least distance of the poses from the middle between their neighbours, metres, root mean square. */
  readonly floor: number;
  /** Least such distance as a share of the spacing. */
  readonly ofSpacing: number;
  /** Seconds over which reversals are counted; where fewer poses are shown than {@link referenceRate}, as many poses. */
  readonly window: number;
}

/** A stretch over which a node is pushed one way and the other from pose to pose. */
export interface Tremble {
  readonly node: number;
  /** Whether it turns to and fro; else it travels. */
  readonly turns: boolean;
  /** First and last grid index of the noise. */
  readonly from: number;
  readonly to: number;
  /** Reversals per second from the first to the last grid index, and from how many on it is a tremble. */
  readonly reversals: number;
  readonly limit: number;
  /** Mean distance of these poses from the middle between their neighbours, metres or radians. */
  readonly typical: number;
  /** The same as it is seen, metres. */
  readonly size: number;
  /** The joint that brings the noise in; null where none can be told. */
  readonly source: NoiseSource | null;
}

/**
 * On twos there are fewer poses than reversals to be counted: this share of the poses is a tremble at any pose rate. Noise
 * that knows nothing of the pose before reverses more often: at 73 % of the poses on one axis (arccos(−2/3) / π), 83 %
 * on two and 89 % on three; even steps that know nothing of each other do so at 67, 75 and 80 % (computed).
 */
const ofPoses = 0.6;
/**
 * Noise has ended where more poses than this are calm, one after the other. Noise that knows nothing of the pose before
 * leaves four of them calm in a row at 0.04 % of the poses on one axis, and more rarely on two and three (computed).
 */
const calmPoses = 4;
/** Least share of a node's noise for a joint to be named for it. */
const leastShare = 0.1;

/** Trembles of a node's travel and of its turning, in the world. */
export function tremblesOf(study: Study, node: number, limits: TrembleLimits): readonly Tremble[] {
  const world = worldOf(study, node);
  const poses = shownOf(study, node);
  if (world.still || poses.length < 5) return none;
  const pieces = piecesOf(poses.length, poses, cutsOf(study, node)).filter(({ from, to }) => to - from >= 4);
  if (pieces.length === 0) return none;
  const travel = inPieces(study, node, poses, gathered(world.position, poses), limits, null, pieces);
  const reach = reachOf(study, node);
  const path = reach > 0 ? turnPathOf(study, node) : null;
  if (path === null) return travel;
  const turning = inPieces(study, node, poses, path, limits, reach, pieces);
  return turning.length === 0 ? travel : [...travel, ...turning];
}

/** Trembles of each piece between cuts by itself: to go from pose to pose by step keys is no tremble. */
function inPieces(
  study: Study,
  node: number,
  poses: Int32Array,
  path: Float64Array,
  limits: TrembleLimits,
  reach: number | null,
  pieces: readonly Span[],
): readonly Tremble[] {
  if (pieces.length === 1 && pieces[0].to - pieces[0].from === poses.length - 1) {
    return trembles(study, node, poses, path, limits, reach);
  }
  return pieces.flatMap(({ from, to }) =>
    trembles(study, node, poses.subarray(from, to + 1), path.subarray(3 * from, 3 * (to + 1)), limits, reach),
  );
}

const none: readonly never[] = [];

/** @param reach metres that are seen of a turn by a radian; null for a path in metres */
function trembles(
  study: Study,
  node: number,
  poses: Int32Array,
  path: Float64Array,
  limits: TrembleLimits,
  reach: number | null,
): readonly Tremble[] {
  const count = poses.length;
  const { rate } = gridOf(study);
  const perSecond = (rate * (count - 1)) / (poses[count - 1] - poses[0]);
  const span = Math.max(4, Math.round(limits.window * Math.max(perSecond, referenceRate)));
  const needed = Math.max(3, Math.min(limits.rate / perSecond, ofPoses) * span);
  const leastPush = (limits.floor / (reach ?? 1) / 4) ** 2;
  if (!isAnyWindow(pushesOf(study, node, reach !== null, path, count, leastPush), span, needed)) return none;
  const runs = tremblingRuns(path, count, limits.floor / (reach ?? 1), limits.ofSpacing, span, needed);
  if (runs.length === 0) return none;
  return runs.flatMap((run) => {
    const turns = reach !== null;
    const source = noiseSourceOf(study, { node, turns, poses, path, run });
    const isCause = source !== null && source.share >= leastShare;
    const limit = (needed / span) * perSecond;
    const rateIn = (within: Span) =>
      (rate * reversalsIn(path, within)) / (poses[within.to] - poses[within.from]);
    const perPose = reversalsIn(path, run) / (run.to - run.from);
    const own = isCause ? ownPath(study, source.joint, source.kind, poses) : path;
    // Two reversals are one to and fro.
    if (isCycle(own ?? path, run, perPose, (2 * perSecond) / limits.rate)) {
      excused(node, poses[run.from], poses[run.to], "it goes through one cycle again and again");
      return [];
    }
    // The joint's own noise may reach farther, or thin out on its way to the node: then the node's own frames count. Over
    // all of a run noise may be thinner than in each of its windows: then the densest one counts.
    const wide = isCause ? noiseSpan(study, source, poses, run, calmPoses) : run;
    const shown =
      [wide, run].find((one) => one.to > one.from && rateIn(one) >= limit) ?? densest(path, run, span, count);
    const typical = meanPush(path, shown);
    return {
      node,
      turns,
      from: poses[shown.from],
      to: poses[shown.to],
      reversals: rateIn(shown),
      limit,
      typical,
      size: typical * (reach ?? 1),
      source: isCause ? source : null,
    };
  });
}

/**
 * Runs of poses in every window of which a path reverses often enough and far enough.
 * @param floor and ofSpacing as in {@link TrembleLimits}, in the path's unit
 * @param span poses of a window; needed: reversals in one
 */
function tremblingRuns(
  path: Float64Array,
  count: number,
  floor: number,
  ofSpacing: number,
  span: number,
  needed: number,
): readonly Span[] {
  const leastPush = (floor / 4) ** 2;
  measurePushes(path, count, leastPush);
  const least = span * floor * floor;
  const share = ofSpacing * ofSpacing;
  const runs: Span[] = [];
  let reversals = 0;
  let pushes = 0;
  let steps = 0;
  let from = -1;
  let to = -1;
  for (let i = 1; i < count - 1; i++) {
    const out = i - span;
    const push = against[i];
    if (push > 0) {
      reversals++;
      pushes += push;
    }
    steps += spacing[i];
    if (out >= 1) {
      if (against[out] > 0) {
        reversals--;
        pushes -= against[out];
      }
      steps -= spacing[out];
    }
    if (reversals >= needed && pushes >= least && pushes >= share * steps) {
      const first = Math.max(1, out + 1);
      if (from >= 0 && first > to + 1) {
        runs.push(trimmed(from, to));
        from = -1;
      }
      if (from < 0) from = first;
      to = i;
    }
  }
  if (from >= 0) runs.push(trimmed(from, to));
  return runs;

  /** Without the calm poses that its first and its last window reach over. */
  function trimmed(first: number, last: number): Span {
    let start = first;
    let end = last;
    while (start < end && against[start] < 0.1 * floor * floor) start++;
    while (end > start && against[end] < 0.1 * floor * floor) end--;
    return { from: start, to: end };
  }
}

/** Per pose: how far it is pushed against the push before, and its spacing, both squared; see {@link measurePushes}. */
let against = new Float64Array(0);
let spacing = new Float64Array(0);

/** Whether so many poses in ascending order lie within a window of `span`. */
function isAnyWindow(poses: readonly number[], span: number, needed: number): boolean {
  const more = Math.ceil(needed) - 1;
  for (let k = 0; k + more < poses.length; k++) if (poses[k + more] - poses[k] < span) return true;
  return false;
}

/**
 * The poses whose push (the vector to one from the middle between its neighbours) points against that of the pose before
 * by more than `least`. Nearly all motion is told off by these alone.
 * @param least a quarter of the floor, squared: rounding in motion that is calm is no tremble
 */
function pushesOf(
  study: Study,
  node: number,
  turns: boolean,
  path: Float64Array,
  count: number,
  least: number,
): readonly number[] {
  const isWhole = count === gridOf(study).count;
  return sifted(study, {
    name: `trembles ${node} ${turns ? "turning" : "travelling"}`,
    sees: [least],
    reach: 2,
    isWhole,
    series: () =>
      !isWhole ? path : turns ? (turnPathOf(study, node) ?? path) : worldOf(study, node).position,
    count: () => count,
    sift: (series, from, to, found) => addPushed(series, from, to, least, found),
  });
}

/** Adds the poses from..to that are pushed back by more than `least`. */
function addPushed(path: Float64Array, from: number, to: number, least: number, found: number[]): void {
  const last = Math.min(to, path.length / 3 - 2);
  for (let pose = Math.max(2, from); pose <= last; pose++) {
    const k = 3 * pose;
    const nx = path[k] - (path[k - 3] + path[k + 3]) / 2;
    const ny = path[k + 1] - (path[k - 2] + path[k + 4]) / 2;
    const nz = path[k + 2] - (path[k - 1] + path[k + 5]) / 2;
    const x = path[k - 3] - (path[k - 6] + path[k]) / 2;
    const y = path[k - 2] - (path[k - 5] + path[k + 1]) / 2;
    const z = path[k - 1] - (path[k - 4] + path[k + 2]) / 2;
    if (-(nx * x + ny * y + nz * z) > least) found.push(pose);
  }
}

/** Works out, per pose, its push against that of the pose before, and its spacing. */
function measurePushes(path: Float64Array, count: number, least: number): void {
  if (against.length < count) {
    against = new Float64Array(count);
    spacing = new Float64Array(count);
  }
  let x = 0;
  let y = 0;
  let z = 0;
  for (let i = 1, k = 3; i < count - 1; i++, k += 3) {
    const nx = path[k] - (path[k - 3] + path[k + 3]) / 2;
    const ny = path[k + 1] - (path[k - 2] + path[k + 4]) / 2;
    const nz = path[k + 2] - (path[k - 1] + path[k + 5]) / 2;
    const sx = path[k + 3] - path[k - 3];
    const sy = path[k + 4] - path[k - 2];
    const sz = path[k + 5] - path[k - 1];
    const apart = -(nx * x + ny * y + nz * z);
    against[i] = apart > least ? apart : 0;
    spacing[i] = (sx * sx + sy * sy + sz * sz) / 4;
    x = nx;
    y = ny;
    z = nz;
  }
}

/** Mean distance of the poses of a run from the middle between their neighbours. */
function meanPush(path: Float64Array, { from, to }: Span): number {
  let sum = 0;
  const last = Math.min(to, path.length / 3 - 2);
  for (let i = from; i <= last; i++) {
    let square = 0;
    for (let k = 3 * i; k < 3 * i + 3; k++) square += (path[k] - (path[k - 3] + path[k + 3]) / 2) ** 2;
    sum += Math.sqrt(square);
  }
  return sum / Math.max(1, last - from + 1);
}

/** The poses of the window of a run in which the path reverses most often, with the pose before them. */
function densest(path: Float64Array, { from, to }: Span, span: number, count: number): Span {
  let best: Span = { from, to };
  let most = -1;
  for (let start = Math.max(0, from - 1); start + span < count && start < to; start++) {
    const window = { from: start, to: start + span };
    const reversals = reversalsIn(path, window);
    if (reversals > most) [best, most] = [window, reversals];
  }
  return best;
}

/** How often the path reverses after the first pose of a run. */
function reversalsIn(path: Float64Array, { from, to }: Span): number {
  let reversals = 0;
  for (let i = from + 1; i <= to; i++) if (reverses(path, i)) reversals++;
  return reversals;
}
