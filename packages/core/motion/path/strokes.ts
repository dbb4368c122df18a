import { measure } from "../../base/study.ts";
import { lengthOf } from "../../base/vector.ts";
import { worldOf } from "../../rig/pose.ts";
import { movesOf, statureNear } from "./moves.ts";

/** One way of a path between where it rests or turns back; both ends are grid indices. */
export interface Stroke {
  readonly from: number;
  readonly to: number;
}

/** A way out or back counts from this length on, body heights: about 14 cm of a grown person (our choice). */
const shortestShare = 0.08;

/**
 * Strokes of a node's path through the world, in order, each longer than 0.08 body heights. A rest ends a stroke (see
 * `movesOf`), and so do a cut and a turn back (see {@link findStrokes}).
 */
export const strokesOf = measure("strokes", (study, node: number): readonly Stroke[] => {
  const world = worldOf(study, node);
  if (world.still) return [];
  const shortest = shortestShare * statureNear(study, node);
  return movesOf(study, node).flatMap((move) =>
    findStrokes(world.position.subarray(3 * move.from, 3 * (move.to + 1)), shortest).map(({ from, to }) => ({
      from: from + move.from,
      to: to + move.from,
    })),
  );
});

/**
 * Cuts a path where it turns back: a point is an end of a stroke if it lies farthest from the stroke's start and the
 * path comes back toward the start by `shortest` behind it. What wanders less than that is part of its stroke.
 * @param path 3 numbers per sample
 */
export function findStrokes(path: Float64Array, shortest: number): Stroke[] {
  const count = path.length / 3;
  const strokes: Stroke[] = [];
  if (!(shortest > 0)) return strokes;
  let start = 0;
  let far = 0;
  let farthest = 0;
  for (let i = 1; i < count; i++) {
    const x = path[3 * i] - path[3 * start];
    const y = path[3 * i + 1] - path[3 * start + 1];
    const z = path[3 * i + 2] - path[3 * start + 2];
    const away = lengthOf(x, y, z);
    if (away > farthest) {
      farthest = away;
      far = i;
    } else if (farthest >= shortest && away <= farthest - shortest) {
      strokes.push({ from: start, to: far });
      start = far;
      farthest = 0;
      // The next stroke is looked for from the turning point on.
      i = far;
    }
  }
  if (farthest >= shortest) strokes.push({ from: start, to: far });
  return strokes;
}
