import type { Recompute } from "../shared/compare.ts";
import { add, distance, range, sub, times, type Vec } from "../shared/geometry.ts";

/**
 * The path is cut where it turns back by more than 0.08 body heights. At each turn the way to it and the way from it are
 * compared at 16 points of equal length of path from it; the least of their largest distances is told, over the length.
 */
export const recompute: Recompute = (note, shot) => {
  const node = shot.nodeOf(note);
  const [from, to] = shot.spanOf(note);
  const path = range(from, to).map((i) => shot.at(node, i));
  const ends = [0, ...turnsOf(path, 0.08 * shot.stature(node)), path.length - 1];
  const apart = range(1, ends.length - 2).map((k) =>
    apartOf(path.slice(ends[k - 1], ends[k] + 1).reverse(), path.slice(ends[k], ends[k + 1] + 1)),
  );
  return Math.min(...apart);
};

/** Indices at which a path is farthest from where its way began before it comes back by some length. */
function turnsOf(path: readonly Vec[], back: number): number[] {
  const turns: number[] = [];
  let [start, far] = [0, 0];
  for (let i = 1; i < path.length; i++) {
    const away = distance(path[start], path[i]);
    if (away > distance(path[start], path[far])) far = i;
    else if (away <= distance(path[start], path[far]) - back) {
      turns.push(far);
      [start, i] = [far, far];
    }
  }
  return turns;
}

function apartOf(one: readonly Vec[], other: readonly Vec[]): number {
  const length = Math.min(lengthOf(one), lengthOf(other));
  const off = range(1, 16).map((k) =>
    distance(pointOn(one, (length * k) / 16), pointOn(other, (length * k) / 16)),
  );
  return Math.max(...off) / length;
}

const lengthOf = (path: readonly Vec[]) =>
  path.reduce((sum, point, i) => (i === 0 ? 0 : sum + distance(path[i - 1], point)), 0);

/** The point at a length of path from its start. */
function pointOn(path: readonly Vec[], length: number): Vec {
  let gone = 0;
  for (let i = 1; i < path.length; i++) {
    const step = distance(path[i - 1], path[i]);
    if (gone + step >= length && step > 0)
      return add(path[i - 1], times(sub(path[i], path[i - 1]), (length - gone) / step));
    gone += step;
  }
  return path[path.length - 1];
}
