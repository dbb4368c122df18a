import type { Study } from "../base/study.ts";
import { worldOf } from "../rig/pose.ts";
import { rigOf } from "../rig/rig.ts";
import { gridOf } from "../time/grid.ts";
import type { Stroke } from "./schema.ts";

/** How the path of a part runs beside the line that was drawn for it. */
export interface TargetFit {
  readonly node: string;
  /** Frames between which it is measured, in the document's numbering. */
  readonly frames: readonly [number, number];
  /** Mean and largest distance from the line over these frames, metres; in the stroke's plane where it has one. */
  readonly mean: number;
  readonly largest: number;
  /** Frame of the largest distance. */
  readonly largestAt: number;
  /** Frames by which the part is late (or early, below 0) where it is nearest to either end of the line. */
  readonly late: readonly [number, number];
  /** Share of the line that the part goes along, 0 to 1. */
  readonly covered: number;
}

/**
 * Measures the path of a part against the target stroke that was drawn for it.
 *
 * Each judged frame of the target's frames gives the distance of the part from the nearest point of the line. A line
 * that was drawn over a picture says nothing of depth, so the part is first put into the stroke's plane, along its
 * normal; a stroke without a plane is measured in space.
 * @param stroke a stroke with a target; points and plane in metres
 * @returns distances in metres, times in frames; null where the stroke is no target, its part is not in the shot, or none
 *   of its frames is judged
 */
export function targetFitOf(study: Study, stroke: Stroke): TargetFit | null {
  const { target, points } = stroke;
  const node = target === undefined ? undefined : rigOf(study).indexOf.get(target.node);
  if (target === undefined || node === undefined) return null;
  const [from, to] = [Math.min(...target.frames), Math.max(...target.frames)];
  const { frames } = gridOf(study);
  const path = inPlane(worldOf(study, node).position, stroke);
  const line = inPlane(Float64Array.from(points.flat()), stroke);
  const along = lengthsOf(line);
  const whole = along[along.length - 1];
  let [sum, count, largest, largestAt, least, most] = [0, 0, -1, from, 1, 0];
  for (let i = 0; i < frames.length; i++) {
    if (frames[i] < from || frames[i] > to) continue;
    const near = nearestOn(line, along, path, 3 * i);
    sum += near.distance;
    count++;
    if (near.distance > largest) [largest, largestAt] = [near.distance, frames[i]];
    if (whole > 0) {
      least = Math.min(least, near.along / whole);
      most = Math.max(most, near.along / whole);
    }
  }
  if (count === 0) return null;
  const half = (to - from) / 2;
  // A line may end where it began, so each end is looked for in its own half of the time.
  const atStart = nearestFrame(frames, path, line, 0, from - half, from + half);
  const atEnd = nearestFrame(frames, path, line, line.length - 3, to - half, to + half);
  return {
    node: target.node,
    frames: [from, to],
    mean: sum / count,
    largest,
    largestAt,
    late: [atStart - from, atEnd - to],
    covered: Math.max(0, most - least),
  };
}

/** Points put into a stroke's plane along its normal; as they are where it has none. */
function inPlane(points: ArrayLike<number>, { plane }: Stroke): Float64Array {
  const put = Float64Array.from(points);
  const [nx, ny, nz] = plane?.normal ?? [0, 0, 0];
  const squared = nx * nx + ny * ny + nz * nz;
  if (plane === undefined || squared === 0) return put;
  const [ox, oy, oz] = plane.origin;
  for (let i = 0; i + 2 < put.length; i += 3) {
    const off = ((put[i] - ox) * nx + (put[i + 1] - oy) * ny + (put[i + 2] - oz) * nz) / squared;
    put[i] -= off * nx;
    put[i + 1] -= off * ny;
    put[i + 2] -= off * nz;
  }
  return put;
}

/** Length of the line up to each of its points. */
function lengthsOf(line: Float64Array): Float64Array {
  const along = new Float64Array(line.length / 3);
  for (let k = 1; k < along.length; k++) along[k] = along[k - 1] + apart(line, 3 * k - 3, line, 3 * k);
  return along;
}

function apart(a: Float64Array, i: number, b: Float64Array, j: number): number {
  return Math.hypot(a[i] - b[j], a[i + 1] - b[j + 1], a[i + 2] - b[j + 2]);
}

/** The point of a line that is nearest to a point: how far it is, and how far along the line it lies. */
function nearestOn(
  line: Float64Array,
  along: Float64Array,
  path: Float64Array,
  at: number,
): { distance: number; along: number } {
  const best = { distance: apart(line, 0, path, at), along: 0 };
  for (let k = 0; k + 1 < along.length; k++) {
    const length = along[k + 1] - along[k];
    if (length === 0) continue;
    let dot = 0;
    for (let c = 0; c < 3; c++)
      dot += (path[at + c] - line[3 * k + c]) * (line[3 * k + 3 + c] - line[3 * k + c]);
    const share = Math.min(1, Math.max(0, dot / (length * length)));
    let squared = 0;
    for (let c = 0; c < 3; c++) {
      const on = line[3 * k + c] + share * (line[3 * k + 3 + c] - line[3 * k + c]);
      squared += (path[at + c] - on) ** 2;
    }
    const distance = Math.sqrt(squared);
    if (distance < best.distance) {
      best.distance = distance;
      best.along = along[k] + share * length;
    }
  }
  return best;
}

/** The frame at which a path comes nearest to a point of the line, the first of several. */
function nearestFrame(
  frames: ArrayLike<number>,
  path: Float64Array,
  line: Float64Array,
  point: number,
  from: number,
  to: number,
): number {
  let [best, at] = [Infinity, from];
  for (let i = 0; i < frames.length; i++) {
    if (frames[i] < from || frames[i] > to) continue;
    const distance = apart(path, 3 * i, line, point);
    if (distance < best - 1e-12) [best, at] = [distance, frames[i]];
  }
  return at;
}
