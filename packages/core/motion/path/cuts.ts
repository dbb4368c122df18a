import { floats, integers } from "../../base/room.ts";
import { measure, type Study, sameNumbers, shotMeasure } from "../../base/study.ts";
import { stepMode } from "../../curve/keys.ts";
import { curveNamesOf, curveOf } from "../../document/inputs.ts";
import type { Curve } from "../../document/model.ts";
import { figuresOf } from "../../rig/body.ts";
import { segmentsOf } from "../../rig/mass.ts";
import { chainOf, curveNamesOfNode } from "../../rig/pose.ts";
import { rigOf } from "../../rig/rig.ts";
import { gridOf } from "../../time/grid.ts";
import type { Span } from "../../time/span.ts";
import { curveChanges, curveStateOf, framesAt, isAnySteppedOf, longestPose } from "./held.ts";

/**
 * What a shot shows on the way to each judged frame is one of three: a *hold* (`heldOf`: step keys hold the pose), a
 * *cut* (here: a step key switches one pose that is held to the next), or a *move* (all else). A cut is no travel, no
 * speed and no change of either; motion is judged between cuts, each piece by itself. Poses on twos and threes
 * follow each other as motion: between those nothing is cut.
 */

/**
 * A single pose that is shown for no longer than this (frames at 24 per second) between longer ones is no hold: it
 * flashes by, and is judged as motion. Common practice: two frames are what a drawing on twos is shown for.
 */
const longestFlash = 2;
/** Poses on each side that tell, by their median, whether a pose belongs to motion or is held (our choice). */
const around = 2;

/** Grid indices at which a step key of a curve (by name) cuts from one held pose to another, ascending. */
const curveCutsOf = measure<string, Int32Array>(
  "curve cuts",
  (study, name) => {
    const curve = curveOf(study, name);
    if (curve?.modes.includes(stepMode) !== true) return none;
    const grid = gridOf(study);
    const runs = runsOf(curve, curveStateOf(study, name), grid.frames);
    const isHold = heldRuns(runs, framesAt(grid.rate, longestPose), framesAt(grid.rate, longestFlash));
    const cuts = integers(runs.length);
    let length = 0;
    for (let k = 1; k < runs.length; k++) {
      // What a step key hands over to keys that interpolate is a move by itself.
      if (runs[k - 1].stepped && isHold[k - 1] && (isHold[k] || !runs[k].stepped))
        cuts[length++] = runs[k].from;
    }
    return length === 0 ? none : cuts.subarray(0, length);
  },
  sameNumbers,
);

/** A stretch of samples in which a curve keeps its value. */
interface Run {
  readonly from: number;
  readonly length: number;
  /** Whether a step key ends it. */
  readonly stepped: boolean;
}

/** The pose before the first switch and the one behind the last are held: how long is beyond the range, or the keys. */
function runsOf(curve: Curve, state: Uint8Array, frames: Float64Array): readonly Run[] {
  const runs: Run[] = [];
  let key = -1;
  let from = 0;
  for (let i = 1; i <= state.length; i++) {
    while (key + 1 < curve.frames.length && curve.frames[key + 1] <= frames[i - 1]) key++;
    if (i < state.length && state[i] !== curveChanges) continue;
    const isOpen = from === 0 || i === state.length;
    const stepped =
      i < state.length && key >= 0 && key < curve.frames.length - 1 && curve.modes[key] === stepMode;
    runs.push({ from, length: isOpen ? Number.POSITIVE_INFINITY : i - from, stepped });
    from = i;
  }
  return runs;
}

/** Which of the runs are holds. A last pose, which nothing ends, is one. */
function heldRuns(runs: readonly Run[], pose: number, flash: number): readonly boolean[] {
  const isPose = (k: number) => k >= 0 && k < runs.length && (runs[k].stepped || k === runs.length - 1);
  return runs.map(({ length }, k) => {
    if (!isPose(k)) return false;
    if (length > pose) return true;
    if (length <= flash) return false;
    let first = k;
    let last = k;
    while (first > k - around && isPose(first - 1)) first--;
    while (last < k + around && isPose(last + 1)) last++;
    const lengths = runs.slice(first, last + 1).map((run) => run.length);
    lengths.sort((a, b) => a - b);
    return lengths[(lengths.length - 1) >> 1] > pose;
  });
}

/** Grid indices at which curves of a node itself are cut, ascending: its pose against its parent. */
export function ownCutsOf(study: Study, node: number): Int32Array {
  return isAnyCutOf(study) ? anyOwnCutsOf(study, node) : none;
}
const anyOwnCutsOf = measure<number, Int32Array>(
  "own cuts",
  (study, node) => {
    let cuts = none;
    for (const name of curveNamesOfNode(study, node)) cuts = merged(cuts, curveCutsOf(study, name));
    return cuts;
  },
  sameNumbers,
);

/** Grid indices at which the world pose of a node is cut, by its own curves or by those of a node above, ascending. */
export function cutsOf(study: Study, node: number): Int32Array {
  return isAnyCutOf(study) ? anyCutsOf(study, node) : none;
}
const anyCutsOf = measure<number, Int32Array>(
  "cuts",
  (study, node) => {
    let cuts = none;
    for (const at of chainOf(rigOf(study), node)) cuts = merged(cuts, ownCutsOf(study, at));
    return cuts;
  },
  sameNumbers,
);

/** Grid indices at which anything that has a share in the mass of a figure is cut, ascending. */
export const bodyCutsOf = measure<number, Int32Array>(
  "body cuts",
  (study, figure) => {
    if (!isAnyCutOf(study)) return none;
    let cuts = cutsOf(study, figuresOf(study)[figure].root);
    for (const { from, to } of segmentsOf(study, figure)) {
      cuts = merged(merged(cuts, cutsOf(study, from)), cutsOf(study, to));
    }
    return cuts;
  },
  sameNumbers,
);

const isAnyCutOf = shotMeasure(
  "any cut",
  (study): boolean =>
    isAnySteppedOf(study) && curveNamesOf(study).some((name) => curveCutsOf(study, name).length > 0),
);

/** Stands for a part that nothing cuts: most shots have no other. */
const none: Int32Array = new Int32Array(0);

/** Both lists in one, each index once. */
function merged(a: Int32Array, b: Int32Array): Int32Array {
  if (b.length === 0 || a === b) return a;
  if (a.length === 0) return b;
  const all = integers(a.length + b.length);
  let i = 0;
  let k = 0;
  let length = 0;
  while (i < a.length || k < b.length) {
    const next = k >= b.length || (i < a.length && a[i] <= b[k]) ? a[i] : b[k];
    if (i < a.length && a[i] === next) i++;
    if (k < b.length && b[k] === next) k++;
    all[length++] = next;
  }
  return all.subarray(0, length);
}

/** Whether a cut lies on the way from one sample to a later one. */
export function isCutBetween(cuts: Int32Array, from: number, to: number): boolean {
  if (cuts.length === 0) return false;
  let low = 0;
  let high = cuts.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (cuts[middle] <= from) low = middle + 1;
    else high = middle;
  }
  return low < cuts.length && cuts[low] <= to;
}

/**
 * A path (3 numbers per sample) without what is cut: all behind a cut is moved so that the step across it becomes the
 * mean of the two beside it, or none beside a hold. Only differences between samples may be read from it. The path
 * itself where nothing is cut.
 */
export function pathWithoutCuts(path: Float64Array, cuts: Int32Array): Float64Array {
  if (cuts.length === 0) return path;
  const out = floats(path.length);
  const moved = [0, 0, 0];
  for (let i = 0, cut = 0; 3 * i < path.length; i++) {
    while (cut < cuts.length && cuts[cut] < i) cut++;
    const isCut = i > 0 && cuts[cut] === i;
    const isAlone = isCut && (isStill(path, i - 1) || isStill(path, i + 1));
    for (let axis = 0; axis < 3; axis++) {
      const k = 3 * i + axis;
      if (isCut) {
        const step = isAlone ? 0 : (path[k - 3] - path[k - 6] + path[k + 3] - path[k]) / 2;
        moved[axis] += path[k - 3] + step - path[k];
      }
      out[k] = path[k] + moved[axis];
    }
  }
  return out;
}

/** Whether a path makes no step to a sample, or has none. */
function isStill(path: Float64Array, i: number): boolean {
  const k = 3 * i;
  if (i < 1 || k >= path.length) return true;
  return path[k] === path[k - 3] && path[k + 1] === path[k - 2] && path[k + 2] === path[k - 1];
}

/**
 * The pieces between cuts, as indices into the poses; a piece may be one pose.
 * @param count number of poses
 * @param poses their samples, ascending; null where all samples are poses
 */
export function piecesOf(count: number, poses: Int32Array | null, cuts: Int32Array): readonly Span[] {
  if (cuts.length === 0) return count > 0 ? [{ from: 0, to: count - 1 }] : [];
  const pieces: Span[] = [];
  let from = 0;
  let cut = 0;
  for (let i = 1; i < count; i++) {
    const before = poses === null ? i - 1 : poses[i - 1];
    const here = poses === null ? i : poses[i];
    while (cut < cuts.length && cuts[cut] <= before) cut++;
    if (cut >= cuts.length || cuts[cut] > here) continue;
    pieces.push({ from, to: i - 1 });
    from = i;
  }
  if (count > 0) pieces.push({ from, to: count - 1 });
  return pieces;
}

/**
 * Steps from pose to pose without what is cut: the step across a cut becomes the middle (geometric mean) of the two
 * beside it, which is none beside a hold. The series itself where nothing is cut.
 * @param poses as for {@link piecesOf}
 */
export function stepsWithoutCuts(
  steps: Float64Array,
  poses: Int32Array | null,
  cuts: Int32Array,
): Float64Array {
  if (cuts.length === 0) return steps;
  const out = floats(steps.length);
  out.set(steps);
  const isCut = (i: number) =>
    isCutBetween(cuts, poses === null ? i - 1 : poses[i - 1], poses === null ? i : poses[i]);
  for (let i = 1; i < steps.length; i++) {
    if (!isCut(i)) continue;
    const before = i > 1 && !isCut(i - 1) ? steps[i - 1] : 0;
    const after = i + 1 < steps.length && !isCut(i + 1) ? steps[i + 1] : 0;
    out[i] = Math.sqrt(before * after);
  }
  return out;
}
