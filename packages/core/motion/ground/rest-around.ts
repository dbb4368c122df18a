import type { Study } from "../../base/study.ts";
import { distanceBetween } from "../../base/vector.ts";
import { statureOf } from "../../rig/body.ts";
import { worldOf } from "../../rig/pose.ts";
import { rigOf, subtreeOf } from "../../rig/rig.ts";
import { gridOf } from "../../time/grid.ts";
import type { Span } from "../../time/span.ts";

/** Slower than this a foot comes to rest, body heights per second: 0.1 of a stature in a second is no swing (our choice). */
export const slowSpeed = 0.1;

/**
 * A stretch with all samples beside it in which a point goes on being slow: the rest that it is part of, whether the point
 * touches anything or not.
 * @param path 3 numbers per sample, metres
 */
export function restAround(study: Study, figure: number, path: Float64Array, { from, to }: Span): Span {
  const { rate, count } = gridOf(study);
  const slow = (slowSpeed * statureOf(study, figure)) / rate;
  let first = from;
  let last = to;
  while (first > 0 && distanceBetween(path, first - 1, path, first) < slow) first--;
  while (last + 1 < count && distanceBetween(path, last, path, last + 1) < slow) last++;
  return { from: first, to: last };
}

/**
 * A stretch with all samples beside it in which a foot goes on standing: any of its joints is slow. The ankle of one that
 * rolls is on its way while the ball still carries.
 * @param foot rig index of its uppermost joint
 */
export function restOfFoot(study: Study, figure: number, foot: number, { from, to }: Span): Span {
  const { rate, count } = gridOf(study);
  const slow = (slowSpeed * statureOf(study, figure)) / rate;
  const paths = subtreeOf(rigOf(study), foot).map((node) => worldOf(study, node).position);
  const isSlow = (i: number) => paths.some((path) => distanceBetween(path, i - 1, path, i) < slow);
  let first = from;
  let last = to;
  while (first > 0 && isSlow(first)) first--;
  while (last + 1 < count && isSlow(last + 1)) last++;
  return { from: first, to: last };
}
