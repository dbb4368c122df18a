import type { Run } from "./plant.ts";

type Normal = readonly [number, number, number];

/** Squared distance, in a surface, of two samples of a path (3 numbers per sample). */
export function squaredAlong(path: Float64Array, a: number, b: number, normal: Normal): number {
  const x = path[3 * b] - path[3 * a];
  const y = path[3 * b + 1] - path[3 * a + 1];
  const z = path[3 * b + 2] - path[3 * a + 2];
  const out = x * normal[0] + y * normal[1] + z * normal[2];
  return Math.max(0, x * x + y * y + z * z - out * out);
}

/** Length, in a surface, of the step that leads to a sample. */
export function stepAlong(path: Float64Array, sample: number, normal: Normal): number {
  return Math.sqrt(squaredAlong(path, sample - 1, sample, normal));
}

/** How far a path travels in a surface, and between which samples. */
export interface Travel {
  /** Largest distance of two samples, metres. */
  readonly travel: number;
  /** The two samples, the earlier one first. */
  readonly apart: Run;
  /** The samples between which it goes that way, without the stands before and after. */
  readonly between: Run;
}

/**
 * The two samples of a run that lie farthest apart in a surface, found by going to the farthest sample from the first
 * one and from there to the farthest again: exact on a line, at least half of the largest
 * distance anywhere (no point is nearer to all others), in two passes instead of one per sample.
 */
export function farthestApart(path: Float64Array, run: Run, normal: Normal): Travel {
  const a = farthestFrom(path, run.from, run, normal);
  const b = farthestFrom(path, a, run, normal);
  const squared = squaredAlong(path, a, b, normal);
  const near = nearShare * nearShare * squared;
  const [start, end] = [Math.min(a, b), Math.max(a, b)];
  let [from, to] = [start, end];
  while (from + 1 < to && squaredAlong(path, start, from + 1, normal) <= near) from++;
  while (to - 1 > from && squaredAlong(path, end, to - 1, normal) <= near) to--;
  return { travel: Math.sqrt(squared), apart: { from: start, to: end }, between: { from, to } };
}

/** Samples within this share of the travel of one of its ends belong to the stand before or after it. */
const nearShare = 0.03;

function farthestFrom(path: Float64Array, origin: number, run: Run, normal: Normal): number {
  let best = origin;
  let most = 0;
  for (let i = run.from; i <= run.to; i++) {
    const squared = squaredAlong(path, origin, i, normal);
    if (squared > most) {
      most = squared;
      best = i;
    }
  }
  return best;
}
