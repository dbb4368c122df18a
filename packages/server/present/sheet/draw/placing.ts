import type { Point } from "../../text/svg.ts";

/** Where a view's lengths stand in a picture. */
export interface Placing {
  /** Pixels per length of the view. */
  readonly scale: number;
  place(point: Point): Point;
}
