import type { Recompute } from "../shared/compare.ts";
import { distance, range } from "../shared/geometry.ts";

/** Frames of the note on which no part of the figure (but declared props) travels from the one before. */
export const recompute: Recompute = (note, shot) => {
  const [from, to] = shot.spanOf(note);
  const figure = shot.figures[shot.figureOf(shot.nodeOf(note))];
  const props = (shot.shot.header.props ?? []).map(({ node }) => node);
  const isOfProp = (node: number): boolean =>
    node >= 0 && (props.includes(shot.rig.ids[node]) || isOfProp(shot.rig.parent[node]));
  const parts = figure.nodes.filter((node) => !isOfProp(node));
  const floor = (0.0001 * shot.stature(figure.root) * 24) / shot.rate;
  const isStill = (i: number) =>
    parts.every((node) => distance(shot.at(node, i - 1), shot.at(node, i)) < floor);
  return range(from + 1, to).filter(isStill).length;
};
