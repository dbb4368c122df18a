import type { Recompute } from "../shared/compare.ts";
import { mean, median, range, sum } from "../shared/geometry.ts";
import { bestLag } from "../shared/lag.ts";
import type { Sampled } from "../shared/sampled.ts";

/**
 * Delay at which the hips' height follows the summed height of both ankles best, straight trends taken off. Where single
 * lows are told: the median of their delays behind the contacts, half a frame before the first one in which a foot is down.
 */
export const recompute: Recompute = (note, shot) => {
  const hips = shot.nodeOf(note);
  const ankles = ["leftFoot", "rightFoot"].flatMap((part) => shot.parts(hips, part).slice(0, 1));
  const [from, to] = shot.spanOf(note);
  if (note.measured.quantity.includes("low")) return lowsDelay(shot, hips, from, to);
  const body = level(range(from, to).map((i) => shot.at(hips, i)[1]));
  const feet = level(range(from, to).map((i) => sum(ankles.map((ankle) => shot.at(ankle, i)[1]))));
  return bestLag(feet, body, Math.round((6 * shot.rate) / 24));
};

function level(series: readonly number[]): number[] {
  const middle = (series.length - 1) / 2;
  const slope =
    sum(series.map((value, i) => value * (i - middle))) / sum(series.map((_, i) => (i - middle) ** 2));
  return series.map((value, i) => value - mean(series) - slope * (i - middle));
}

function lowsDelay(shot: Sampled, hips: number, from: number, to: number): number {
  const height = (i: number) => shot.at(hips, i)[1];
  const reach = Math.round((3 * shot.rate) / 24);
  const feet = ["leftFoot", "leftToes", "rightFoot", "rightToes"];
  const onsets = shot
    .contacts(shot.figureOf(hips))
    .filter(({ node, from: at }) => feet.includes(shot.partOf(node)) && at >= from && at <= to)
    .map(({ from: at }) => at)
    .sort((a, b) => a - b)
    .filter((at, n, all) => n === 0 || at - all[n - 1] > 2 * reach);
  return median(
    onsets.map((onset) => {
      const around = range(Math.max(1, onset - reach), Math.min(shot.count - 2, onset + reach));
      const low = around.reduce((best, i) => (height(i) < height(best) ? i : best));
      const [a, b, c] = [height(low - 1), height(low), height(low + 1)];
      return low + (c - a) / (2 * (2 * b - a - c)) - onset + 0.5;
    }),
  );
}
