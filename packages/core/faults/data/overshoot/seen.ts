import { floats } from "../../../base/room.ts";
import type { Study } from "../../../base/study.ts";
import { lengthOf } from "../../../base/vector.ts";
import type { Channel } from "../../../document/model.ts";
import { carriedPath } from "../../../motion/path/carried.ts";
import { influenceOf } from "../../../rig/influence.ts";
import { worldOf } from "../../../rig/pose.ts";
import { rigOf, subtreeOf } from "../../../rig/rig.ts";

/** A channel that is past its keys. */
export interface Past {
  readonly node: number;
  readonly channel: Channel;
  /** Samples of its two keys, and the one at which it is farthest past them. */
  readonly from: number;
  readonly to: number;
  readonly at: number;
  /** The key's value that it is past, document units. */
  readonly key: number;
}

/** From this share of the distance on, an end is as far off its way without what the channel does as with it (our choice). */
const asFar = 0.5;

/**
 * How far the ends of what hangs on a node would go if its channel kept to its keys, in metres: the farthest of them. An
 * end counts nothing that would only then leave the line from where it is at the one key to where it is at the other, in
 * the world or against what carries the node: so a foot stands, whose leg has to bend.
 * @returns null where nothing hangs on the node whose place tells of the channel
 */
export function seenOf(study: Study, { node, channel, from, to, at, key }: Past): number | null {
  const { children, parent } = rigOf(study);
  const ends = channel.startsWith("translation") ? [node] : [];
  for (const below of subtreeOf(rigOf(study), node)) {
    if (below !== node && children[below].length === 0) ends.push(below);
  }
  if (ends.length === 0) return null;
  const carrier = parent[node] < 0 ? null : worldOf(study, parent[node]);
  const replacement = Float64Array.of(key);
  const kept = floats(3);
  let most = 0;
  for (const end of ends) {
    influenceOf(study, node, channel, at, at, replacement, end, kept, null);
    const path = worldOf(study, end).position.subarray(3 * from, 3 * to + 3);
    const k = 3 * (at - from);
    const way = lengthOf(kept[0] - path[k], kept[1] - path[k + 1], kept[2] - path[k + 2]);
    if (way <= most || isKeptBy(path, k, kept)) continue;
    if (carrier !== null && isKeptBy(carriedPath(path, carrier, from), k, carriedPath(kept, carrier, at)))
      continue;
    most = way;
  }
  return most;
}

/** Whether a path is much nearer to the line between its ends, at the point from index k on, than another point is. */
function isKeptBy(path: Float64Array, k: number, other: Float64Array): boolean {
  return offLine(path, path, k) < asFar * offLine(path, other, 0);
}

/** Distance of a point from the line from the first to the last point of a path. */
function offLine(path: Float64Array, points: Float64Array, k: number): number {
  const last = path.length - 3;
  const x = path[last] - path[0];
  const y = path[last + 1] - path[1];
  const z = path[last + 2] - path[2];
  const px = points[k] - path[0];
  const py = points[k + 1] - path[1];
  const pz = points[k + 2] - path[2];
  const square = x * x + y * y + z * z;
  const share = square > 0 ? Math.min(1, Math.max(0, (x * px + y * py + z * pz) / square)) : 0;
  return lengthOf(px - share * x, py - share * y, pz - share * z);
}
