import { lengthOf } from "../../base/vector.ts";

/** Mean place of a path (3 numbers per sample) over the samples from..to, metres. */
export function meanPlace(path: Float64Array, from: number, to: number): [number, number, number] {
  const mean: [number, number, number] = [0, 0, 0];
  for (let k = 3 * from; k < 3 * to + 3; k++) mean[k % 3] += path[k] / (to - from + 1);
  return mean;
}

/** How far a path strays at most from its mean place over the samples from..to, metres. */
export function strayOf(path: Float64Array, from: number, to: number): number {
  const [x, y, z] = meanPlace(path, from, to);
  let most = 0;
  for (let k = 3 * from; k < 3 * to + 3; k += 3)
    most = Math.max(most, lengthOf(path[k] - x, path[k + 1] - y, path[k + 2] - z));
  return most;
}

/** Length of a path over the samples from..to, metres. */
export function lengthAlong(path: Float64Array, from: number, to: number): number {
  let length = 0;
  for (let k = 3 * from + 3; k < 3 * to + 3; k += 3)
    length += lengthOf(path[k] - path[k - 3], path[k + 1] - path[k - 2], path[k + 2] - path[k - 1]);
  return length;
}
