import type { Recompute } from "../shared/compare.ts";
import { distance, range } from "../shared/geometry.ts";

/**
 * Share of the nodes of a figure that travel at all whose step beside the pose is six times their largest one of the half
 * second that follows, or that comes before it, and six times what counts as rest: 0.0015 body heights a frame at 24.
 */
export const recompute: Recompute = (note, shot) => {
  const [from, to] = shot.spanOf(note);
  const figure = shot.figures[shot.figureOf(shot.nodeOf(note))];
  const step = (node: number, i: number) => distance(shot.at(node, i - 1), shot.at(node, i));
  const all = range(1, shot.count - 1);
  const moving = figure.nodes.filter((node) => all.some((i) => step(node, i) > 0));
  const half = Math.round(shot.rate / 2);
  const isFirst = from === 0;
  const jump = isFirst ? to : from + 1;
  const calm = isFirst ? range(jump + 1, jump + half) : range(jump - half, jump - 1);
  const rest = (0.0015 * shot.stature(figure.root) * 24) / shot.rate;
  const jumps = moving.filter(
    (node) => step(node, jump) > 6 * Math.max(rest, ...calm.map((i) => step(node, i))),
  );
  return jumps.length / moving.length;
};
