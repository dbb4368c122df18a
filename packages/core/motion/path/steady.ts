import { floats } from "../../base/room.ts";
import { changedSamples, patchedMeasure } from "../../base/study.ts";
import { worldOf } from "../../rig/pose.ts";
import { gridOf } from "../../time/grid.ts";
import { framesAt } from "./held.ts";

/** What lasts for up to this many frames (at 24 per second) is no part of a steady path: a pop lasts for one or two. */
const longestPop = 2;

/**
 * Path of a node through the world without what lasts for a frame or two: the running median of each axis over five
 * frames. A pop is not in it, and what goes one way or stays is as it was. What excuses a sudden change is taken from
 * it, so that no pop makes its own excuse.
 * @param node rig index of the node
 * @returns metres, three numbers per sample
 */
export const steadyPathOf = patchedMeasure(
  "steady path",
  (study, node: number): Float64Array => {
    const { position, still } = worldOf(study, node);
    return still ? position : steadied(position, steadyReach(gridOf(study).rate));
  },
  (a, b) => changedSamples(a, b, 3),
  (study, node, path, from, to) => {
    const { position, still } = worldOf(study, node);
    // What is still hands its own path on.
    if (still || path === position || path.length !== position.length) return undefined;
    const reach = steadyReach(gridOf(study).rate);
    const first = Math.max(0, from - reach);
    const last = Math.min(position.length / 3 - 1, to + reach);
    steadyInto(path, position, reach, first, last);
    return [first, last];
  },
);

/** Samples on each side of one over which a path is steadied: those of the longest pop. */
export function steadyReach(rate: number): number {
  return framesAt(rate, longestPop);
}

/**
 * Running median of each axis of a path (3 numbers per sample) over `reach` samples on both sides, or as many as there
 * are on either side near an end.
 */
export function steadied(path: Float64Array, reach: number): Float64Array {
  const out = floats(path.length);
  steadyInto(out, path, reach, 0, path.length / 3 - 1);
  return out;
}

/** Writes the samples first..last of a steadied path. */
function steadyInto(out: Float64Array, path: Float64Array, reach: number, first: number, last: number): void {
  const count = path.length / 3;
  const window = new Float64Array(2 * reach + 1);
  for (let i = first; i <= last; i++) {
    const near = Math.min(reach, i, count - 1 - i);
    if (near === 2) {
      for (let k = 3 * i; k < 3 * i + 3; k++)
        out[k] = medianOfFive(path[k - 6], path[k - 3], path[k], path[k + 3], path[k + 6]);
      continue;
    }
    for (let axis = 0; axis < 3; axis++) {
      // Sorted as it is filled: a window is short.
      for (let n = 0; n <= 2 * near; n++) {
        const value = path[3 * (i - near + n) + axis];
        let at = n;
        while (at > 0 && window[at - 1] > value) {
          window[at] = window[at - 1];
          at--;
        }
        window[at] = value;
      }
      out[3 * i + axis] = window[near];
    }
  }
}

/** Median of five numbers: most windows are as wide, and sorting one costs several times as much. */
function medianOfFive(a: number, b: number, c: number, d: number, e: number): number {
  // Of two pairs neither the smallest nor the largest number is the median: it is that of the other two and the fifth.
  const low = Math.max(Math.min(a, b), Math.min(c, d));
  const high = Math.min(Math.max(a, b), Math.max(c, d));
  return Math.max(Math.min(low, high), Math.min(Math.max(low, high), e));
}
