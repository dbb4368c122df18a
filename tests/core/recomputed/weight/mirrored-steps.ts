import type { Recompute } from "../shared/compare.ts";
import { distance } from "../shared/geometry.ts";
import type { Sampled } from "../shared/sampled.ts";

/** When all of a foot is 0.01 body heights from where it stands, between samples, going on from a sample. */
function crossing(shot: Sampled, foot: readonly number[], stands: number, step: 1 | -1): number {
  const limit = 0.01 * shot.stature(foot[0]);
  const away = (i: number) =>
    Math.min(...foot.map((node) => distance(shot.at(node, i), shot.at(node, stands))));
  let i = stands;
  while (away(i + step) < limit) i += step;
  const [before, after] = [away(i), away(i + step)];
  return i + (step * (limit - before)) / (after - before);
}

/** The larger one of the times between two feet: where they leave, and where they land. */
export const recompute: Recompute = (note, shot) => {
  const [from, to] = shot.spanOf(note);
  const reach = Math.round((6 * shot.rate) / 24);
  const moments = ["left", "right"].map((side) => {
    const foot = ["Foot", "Toes"].flatMap((part) =>
      shot.parts(shot.nodeOf(note), `${side}${part}`).slice(0, 1),
    );
    const own = shot.contacts(shot.figureOf(foot[0])).filter(({ node }) => foot.includes(node));
    // Half way from the step to where it surely stands, before and after it.
    const before = Math.min(from, ...own.filter((c) => c.from < from && c.to >= from).map((c) => c.from));
    const after = Math.max(to, ...own.filter((c) => c.from <= to && c.to > to).map((c) => c.to));
    return [
      crossing(shot, foot, Math.floor((Math.max(before, from - reach) + from) / 2), 1),
      crossing(shot, foot, Math.floor((Math.min(after, to + reach) + to + 1) / 2), -1),
    ];
  });
  const [left, right] = moments;
  return Math.max(Math.abs(left[0] - right[0]), Math.abs(left[1] - right[1]));
};
