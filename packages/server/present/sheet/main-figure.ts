import { figuresOf, type Study } from "@keyside/core";

/** The figure with the most nodes, as an index; -1 where the shot has none. */
export function mainFigure(study: Study): number {
  const sizes = figuresOf(study).map(({ nodes }) => nodes.length);
  return sizes.length === 0 ? -1 : sizes.indexOf(Math.max(...sizes));
}
