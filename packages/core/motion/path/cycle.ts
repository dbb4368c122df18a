import type { Span } from "../../time/span.ts";

/** Fewest cycles of a run: what comes again but once may do so by chance. */
const leastCycles = 3;
/** Fewest poses of a cycle: to and fro on three poses is what noise does by chance. */
const fewestPoses = 4;
/**
 * Reversals of a cycle at the most: to and fro once along each of three axes. A path that reverses more often within what it
 * repeats has noise that was copied with its cycle.
 */
const mostReversals = 6;
/**
 * Of two cycles the pushes differ by no more than this share of their squares, be it that the cycles grow or fade (our choice).
 * Of noise along one axis fewer than 1 % of runs as short as a window of 18 poses pass, and 0.3 % of 24 poses; along two and
 * three axes one of ten thousand (computed).
 */
const mostUnlike = 0.2;

/**
 * Whether a path goes through one cycle again and again: a wing's beat, the step of a leg. Its pushes (the vectors to poses
 * from the middle between their neighbours) come again after so many poses. Those of noise know nothing of each other: of
 * them the squares of differences and the squares are alike.
 * @param path 3 numbers per pose
 * @param run poses, with a pose more on both sides of them
 * @param reversals how often the path reverses per pose of the run
 * @param slowest poses of the quickest cycle that is no tremble
 */
export function isCycle(path: Float64Array, run: Span, reversals: number, slowest: number): boolean {
  const poses = run.to - run.from + 1;
  const shortest = Math.max(fewestPoses, Math.ceil(slowest));
  const longest = Math.min(poses / leastCycles, mostReversals / reversals);
  const comesAgain = (length: number) => unlikeness(path, run, length) <= mostUnlike;
  for (let length = shortest; length <= longest; length++) {
    if (!comesAgain(length)) continue;
    // What comes again after two poses does so after four: that is no slower.
    for (let quick = 2; quick < shortest; quick++) if (comesAgain(quick)) return false;
    return true;
  }
  return false;
}

/** Squares of the differences between pushes that are `length` poses apart, as a share of the squares of both. */
function unlikeness(path: Float64Array, { from, to }: Span, length: number): number {
  let unlike = 0;
  let all = 0;
  for (let k = 3 * (from + length); k < 3 * to + 3; k++) {
    const here = path[k] - (path[k - 3] + path[k + 3]) / 2;
    const j = k - 3 * length;
    const before = path[j] - (path[j - 3] + path[j + 3]) / 2;
    unlike += (here - before) ** 2;
    all += here * here + before * before;
  }
  return all > 0 ? unlike / all : 1;
}
