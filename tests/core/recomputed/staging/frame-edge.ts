import type { Recompute } from "../shared/compare.ts";
import { mean, range } from "../shared/geometry.ts";
import { aspectOf, isBelow, seen } from "../shared/seen.ts";

/** Half of the length of a head and of a hand, body heights; the safe area's margin on each side. */
const half = { head: 0.065, hand: 0.054 };
const margin = 0.035;

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
      const [a, b] = [seen(shot, shot.at(node, i), i), seen(shot, shot.at(end ?? node, i), i)];
      const [x, y] = [(a.x + b.x) / 2, (a.y + b.y) / 2];
      const radius = (isHead ? half.head : half.hand) * shot.stature(node) * a.scale;
      return radius + Math.max(Math.abs(x) - aspect / 2 + margin * aspect, Math.abs(y) - 0.5 + margin);
    }),
  );
};
