import { distanceBetween } from "../../base/vector.ts";
import { statureNear } from "../../motion/path/moves.ts";
import { elsewhereShare } from "../../notes/motion-elsewhere.ts";
import { nodeNameOf } from "../../notes/wording.ts";
import { gridOf } from "../../time/grid.ts";
import { isSlide, type Law } from "./law.ts";

/** What moves by this much in a stretch is alive, in body heights: 2 mm of a grown person, a breath. */
const breathShare = 0.00125;
/** Frames by which a turning point may move and still be the same. */
const beside = 2;
/** A stretch that keeps less than this of its range is frozen. */
const frozenShare = 0.1;
/** Shortest stretch that can be frozen, samples. */
const shortest = 6;
/** What differs by less than this is the same to the last digit that is written, metres. */
const sameMetres = 1e-4;

/** Where a part turns back along an axis, by sample, and which way it came: 1 from below. */
interface Turning {
  readonly at: number;
  readonly way: number;
}

/**
 * Outside the frames of the note every part turns where it turned, as often, and rests nowhere where it moved. Keys that
 * only move in time may take the turning points with them.
 */
export const keepsShape: Law = ({ study, before, after, moved, changes, from, to }) => {
  const { count, frames } = gridOf(study);
  const isShifted = isSlide(changes);
  const isOutside = ({ at }: Turning) => at < from || at > to;
  for (const node of moved) {
    const [a, b] = [before.worlds[node].position, after[node].position];
    if (!differsOutside(a, b, from, to)) continue;
    const stature = statureNear(study, node);
    const least = elsewhereShare * stature;
    for (let axis = 0; axis < 3; axis++) {
      const lost = turningsOf(a, axis, least).filter(isOutside);
      const found = lost.length === 0 ? [] : turningsOf(b, axis, 0.5 * least);
      const gone = lost.find((one) => !hasLike(found, one, isShifted));
      if (gone !== undefined) {
        return `the ${nodeNameOf(study, node)} would lose its key pose at frame ${frames[gone.at]}`;
      }
      const come = turningsOf(b, axis, least).filter(isOutside);
      const known = come.length === 0 ? [] : turningsOf(a, axis, 0.5 * least);
      const made = come.find((one) => !hasLike(known, one, isShifted));
      if (made !== undefined) {
        return `the ${nodeNameOf(study, node)} would turn back at frame ${frames[made.at]}, where it did not`;
      }
    }
    for (let i = 0; i + shortest < count; i++) {
      if (i + shortest >= from && i <= to) continue;
      const was = reachOf(a, i);
      if (was > breathShare * stature && reachOf(b, i) < frozenShare * was) {
        return `the ${nodeNameOf(study, node)} would stand still from frame ${frames[i]} to ${frames[i + shortest]}`;
      }
    }
  }
  return null;
};

function differsOutside(a: Float64Array, b: Float64Array, from: number, to: number): boolean {
  for (let i = 0; i < a.length / 3; i++) {
    if (i === Math.max(0, from)) i = to + 1;
    if (3 * i < a.length && distanceBetween(a, i, b, i) > sameMetres) return true;
  }
  return false;
}

/** Turning points of a path along an axis, between which it goes by more than so much. */
function turningsOf(path: Float64Array, axis: number, least: number): Turning[] {
  const turnings: Turning[] = [];
  let [way, at] = [0, axis];
  let [low, high] = [axis, axis];
  for (let k = axis + 3; k < path.length; k += 3) {
    if (way === 0) {
      if (path[k] < path[low]) low = k;
      if (path[k] > path[high]) high = k;
      if (path[k] - path[low] > least) [way, at] = [1, k];
      else if (path[high] - path[k] > least) [way, at] = [-1, k];
      continue;
    }
    if (way * (path[k] - path[at]) > 0) at = k;
    else if (way * (path[at] - path[k]) > least) {
      turnings.push({ at: (at - axis) / 3, way });
      [way, at] = [-way, k];
    }
  }
  return turnings;
}

function hasLike(turnings: readonly Turning[], { at, way }: Turning, isShifted: boolean): boolean {
  return turnings.some((other) => other.way === way && (isShifted || Math.abs(other.at - at) <= beside));
}

/** How far a path gets from where it is at a sample, over the shortest stretch from there on. */
function reachOf(path: Float64Array, from: number): number {
  let reach = 0;
  for (let i = from + 1; i <= from + shortest; i++)
    reach = Math.max(reach, distanceBetween(path, from, path, i));
  return reach;
}
