import type { Recompute } from "../shared/compare.ts";
import { mean, range, sum } from "../shared/geometry.ts";
import { bestLag } from "../shared/lag.ts";

/** Delay at which the hips' height follows the summed height of both ankles best, straight trends taken off. */
export const recompute: Recompute = (note, shot) => {
  const hips = shot.nodeOf(note);
  const ankles = ["leftFoot", "rightFoot"].flatMap((part) => shot.parts(hips, part).slice(0, 1));
  const [from, to] = shot.spanOf(note);
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
