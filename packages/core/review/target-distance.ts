import type { Study } from "../base/study.ts";
import { worldOf } from "../rig/pose.ts";
import { gridOf, sampleAt } from "../time/grid.ts";
import type { Stroke } from "./schema.ts";

/** How far a part's path is from the line that was drawn for it; centimetres. */
export interface TargetDistance {
  readonly mean: number;
  readonly largest: number;
  /** The frame, in the document's numbering, at which it is largest. */
  readonly at: number;
}

/** Places at which a line is looked at, evenly along it. */
const places = 64;

/**
 * How far a part's path is from its target: from the part to the line on each judged frame of the target, and from the
 * line back to the path, so that a part which stays at one end of it is far away. Depth tells nothing in a line that was
 * drawn over a picture: where the line has a plane, distances are those within it.
 * @param study the shot
 * @param node rig index of the part
 * @param stroke a line with a target
 * @returns null where the line or the frames hold nothing that can be measured
 */
export function targetDistanceOf(study: Study, node: number, stroke: Stroke): TargetDistance | null {
  const { target, points, plane } = stroke;
  if (target === undefined || points.length < 2) return null;
  const grid = gridOf(study);
  const [from, to] = target.frames.map((frame) => sampleAt(grid, frame));
  const { position } = worldOf(study, node);
  const path: number[] = [];
  for (let i = from; i <= to; i++) path.push(position[3 * i], position[3 * i + 1], position[3 * i + 2]);
  const line = points.flat();
  if (plane !== undefined) {
    flatten(path, plane.normal);
    flatten(line, plane.normal);
  }
  const frames = path.length / 3;
  if (frames === 0 || !line.every(Number.isFinite)) return null;
  let [there, back, largest, at] = [0, 0, -1, from];
  for (let i = 0; i < frames; i++) {
    const away = distance(line, path[3 * i], path[3 * i + 1], path[3 * i + 2]);
    there += away / frames;
    if (away > largest) [largest, at] = [away, from + i];
  }
  for (const [x, y, z] of spread(line)) {
    const away = distance(path, x, y, z);
    back += away / places;
    if (away > largest) [largest, at] = [away, from + nearestSample(path, x, y, z)];
  }
  return { mean: 50 * (there + back), largest: 100 * largest, at: grid.frames[at] };
}

/** Takes what lies along a normal out of places. */
function flatten(flat: number[], [nx, ny, nz]: readonly number[]): void {
  const square = nx * nx + ny * ny + nz * nz;
  if (!(square > 0)) return;
  for (let i = 0; i < flat.length; i += 3) {
    const along = (flat[i] * nx + flat[i + 1] * ny + flat[i + 2] * nz) / square;
    flat[i] -= along * nx;
    flat[i + 1] -= along * ny;
    flat[i + 2] -= along * nz;
  }
}

/** From a place to the nearest one of a line. */
function distance(line: readonly number[], x: number, y: number, z: number): number {
  let least = Math.hypot(x - line[0], y - line[1], z - line[2]);
  for (let i = 0; i + 5 < line.length; i += 3) {
    const [ax, ay, az] = [line[i], line[i + 1], line[i + 2]];
    const [dx, dy, dz] = [line[i + 3] - ax, line[i + 4] - ay, line[i + 5] - az];
    const square = dx * dx + dy * dy + dz * dz;
    if (square === 0) continue;
    const part = ((x - ax) * dx + (y - ay) * dy + (z - az) * dz) / square;
    const t = Math.min(1, Math.max(0, part));
    least = Math.min(least, Math.hypot(x - ax - t * dx, y - ay - t * dy, z - az - t * dz));
  }
  return least;
}

function nearestSample(path: readonly number[], x: number, y: number, z: number): number {
  let [best, least] = [0, Number.POSITIVE_INFINITY];
  for (let i = 0; 3 * i < path.length; i++) {
    const away = Math.hypot(x - path[3 * i], y - path[3 * i + 1], z - path[3 * i + 2]);
    if (away < least) [best, least] = [i, away];
  }
  return best;
}

/** Places evenly along a line, its ends among them. */
function spread(line: readonly number[]): readonly (readonly [number, number, number])[] {
  const ways = [0];
  for (let i = 3; i < line.length; i += 3) {
    const way = Math.hypot(line[i] - line[i - 3], line[i + 1] - line[i - 2], line[i + 2] - line[i - 1]);
    ways.push((ways.at(-1) as number) + way);
  }
  const whole = ways.at(-1) as number;
  let k = 0;
  return Array.from({ length: places }, (_, n) => {
    const way = (whole * n) / (places - 1);
    while (k < ways.length - 2 && ways[k + 1] < way) k++;
    const step = ways[k + 1] - ways[k];
    const t = step > 0 ? (way - ways[k]) / step : 0;
    const between = (axis: number) => line[3 * k + axis] + t * (line[3 * k + 3 + axis] - line[3 * k + axis]);
    return [between(0), between(1), between(2)] as const;
  });
}
