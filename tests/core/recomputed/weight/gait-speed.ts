import type { Recompute } from "../shared/compare.ts";
import { distance, median, range } from "../shared/geometry.ts";
import type { Sampled } from "../shared/sampled.ts";

/**
 * From positions alone: a foot stands while its ankle or its ball goes at less than half of the hips' speed; it lands where
 * that begins. Told are medians over strides, from each landing to the next: length over 2.3 hip heights times Fr^0.3, or
 * the Froude number itself.
 */
export const recompute: Recompute = (note, shot) => {
  const hips = shot.nodeOf(note);
  const [from, to] = shot.spanOf(note);
  const ground = shot.contacts(shot.figureOf(hips))[0]?.surface.height ?? 0;
  const strides = (["left", "right"] as const).flatMap((side) => {
    const stands = standing(shot, hips, side, from, to);
    const landings = range(Math.max(1, from), to).filter((i) => stands(i) && !stands(i - 1));
    return landings.slice(1).map((at, k) => {
      const leaves = range(landings[k], at).find((i) => !stands(i)) ?? at;
      return { from: landings[k], to: at, middle: Math.floor((landings[k] + leaves) / 2) };
    });
  });
  const over = (a: number, b: number) => {
    const [p, q] = [shot.at(hips, a), shot.at(hips, b)];
    return Math.hypot(q[0] - p[0], q[2] - p[2]);
  };
  const length = median(strides.map((stride) => over(stride.from, stride.to)));
  const speed = median(
    strides.map((stride) => (over(stride.from, stride.to) * shot.rate) / (stride.to - stride.from)),
  );
  const height = median(strides.map((stride) => shot.at(hips, stride.middle)[1] - ground));
  const froude = speed ** 2 / (9.80665 * height);
  return note.measured.quantity.startsWith("Froude") ? froude : length / (2.3 * height * froude ** 0.3);
};

/** Tells whether a foot stands from a sample to the next one. */
function standing(shot: Sampled, hips: number, side: "left" | "right", from: number, to: number) {
  const points = (["Foot", "Toes"] as const).flatMap((part) =>
    shot.parts(hips, `${side}${part}`).slice(0, 1),
  );
  const usual = distance(shot.at(hips, from), shot.at(hips, to)) / (to - from);
  return (i: number) =>
    i + 1 < shot.count &&
    points.some((point) => distance(shot.at(point, i), shot.at(point, i + 1)) < 0.5 * usual);
}
