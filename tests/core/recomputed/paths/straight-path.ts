import type { Recompute } from "../shared/compare.ts";
import { cross, distance, range, size, sub, unit } from "../shared/geometry.ts";

/** The farthest that the path is off the line between its ends, over the length of that line. */
export const recompute: Recompute = (note, shot) => {
  const node = shot.nodeOf(note);
  const [from, to] = shot.spanOf(note);
  const [start, end] = [shot.at(node, from), shot.at(node, to)];
  const along = unit(sub(end, start));
  const off = range(from, to).map((i) => size(cross(sub(shot.at(node, i), start), along)));
  return Math.max(...off) / distance(start, end);
};
