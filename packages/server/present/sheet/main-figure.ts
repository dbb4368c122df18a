import { figuresOf, type Study } from "@keyside/core";
import { gripsOf } from "@keyside/core/internal";
import type { Span } from "./draw/view.ts";

/** The figure with the most nodes, as an index; -1 where the shot has none. */
export function mainFigure(study: Study): number {
  const sizes = figuresOf(study).map(({ nodes }) => nodes.length);
  return sizes.length === 0 ? -1 : sizes.indexOf(Math.max(...sizes));
}

/** The figure whose hand holds a thing at some of the judged frames; -1 where none does. */
export function figureHolding(study: Study, thing: number, { from, to }: Span): number {
  const grip = gripsOf(study).find((one) => one.thing === thing && one.from <= to && one.to >= from);
  return grip?.figure ?? -1;
}
