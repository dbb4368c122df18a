import { restPositionsOf } from "@keyside/core/internal";
import type { Recompute } from "../shared/compare.ts";
import { add, mean, range, size, sub, times, turned, type Vec } from "../shared/geometry.ts";
import type { Sampled } from "../shared/sampled.ts";
import { aspectOf, isBelow, seen } from "../shared/seen.ts";

/** Half of the length of a head and of a hand, body heights; the safe area's margin on each side. */
const half = { head: 0.065, hand: 0.054 };
const margin = 0.035;

/** Where a head without an end goes on to: its length along the bone that leads to it. */
function endAt(shot: Sampled, head: number, i: number): Vec {
  const { rig } = shot;
  const rest = restPositionsOf(shot.whole);
  const at = (node: number): Vec => [rest[3 * node]!, rest[3 * node + 1]!, rest[3 * node + 2]!];
  const bone = sub(at(head), at(rig.parent[head]!));
  const own = times(bone, (2 * half.head * shot.stature(head)) / (size(bone) || 1));
  return add(shot.at(head, i), turned(shot.turn(head, i), own));
}

/** How far the ball of a head or hand reaches over the nearest edge of the safe area, picture heights: the mean of the frames. */
export const recompute: Recompute = (note, shot) => {
  const node = shot.nodeOf(note);
  const [from, to] = shot.spanOf(note);
  const isHead = shot.partOf(node) === "head";
  const own = shot.figures[shot.figureOf(node)];
  const end = isHead
    ? own.nodes.filter((one) => own.partOf.get(one) === "head" && isBelow(shot, node, one)).at(-1)
    : node;
  const aspect = aspectOf(shot);
  return mean(
    range(from, to).map((i) => {
      const b = seen(
        shot,
        isHead && (end ?? node) === node ? endAt(shot, node, i) : shot.at(end ?? node, i),
        i,
      );
      const a = seen(shot, shot.at(node, i), i);
      const [x, y] = [(a.x + b.x) / 2, (a.y + b.y) / 2];
      const radius = (isHead ? half.head : half.hand) * shot.stature(node) * a.scale;
      return radius + Math.max(Math.abs(x) - aspect / 2 + margin * aspect, Math.abs(y) - 0.5 + margin);
    }),
  );
};
