import { element, label, niceStep, type Point, short, through } from "../../text/svg.ts";
import type { Placing } from "./placing.ts";
import type { View } from "./view.ts";

type Size = { readonly width: number; readonly height: number };

/** The edge of what the camera sees, where it runs through the picture. */
export function framedBy({ frame }: View, placing: Placing, size: Size): string[] {
  if (frame === null) return [];
  const [left, top] = placing.place([-frame.halfWidth, frame.halfHeight]);
  const [right, bottom] = placing.place([frame.halfWidth, -frame.halfHeight]);
  const isOutside = left < 0 && top < 0 && right > size.width && bottom > size.height;
  if (isOutside) return [];
  return [element("rect", { class: "frame", x: left, y: top, width: right - left, height: bottom - top })];
}

/** An arrow head at the end of a path, so that its direction can be read. */
export function endArrow(points: readonly Point[]): string[] {
  const end = points.at(-1);
  if (end === undefined) return [];
  // Back far enough that the direction does not hang on a trembling last step.
  const from = points.findLast(([x, y]) => Math.hypot(end[0] - x, end[1] - y) > 6);
  if (from === undefined) return [];
  const length = Math.hypot(end[0] - from[0], end[1] - from[1]);
  const [ux, uy] = [(end[0] - from[0]) / length, (end[1] - from[1]) / length];
  const tip: Point = [end[0] + 13 * ux, end[1] + 13 * uy];
  const wing = (side: number): Point => [tip[0] - 8 * ux - side * 4 * uy, tip[1] - 8 * uy + side * 4 * ux];
  return [
    element("path", { class: "arrow", d: `${through([end, tip])}${through([wing(1), tip, wing(-1)])}` }),
  ];
}

/** How long a length of the world is; only where all of the picture is equally far away. */
export function scaleBar({ kind }: View, { scale }: Placing, size: Size): string[] {
  if (kind === "camera") return [];
  const metres = niceStep(110 / scale, 1.4);
  const words =
    metres >= 1
      ? `${short(metres)} m`
      : metres >= 0.01
        ? `${short(metres * 100)} cm`
        : `${short(metres * 1000)} mm`;
  const y = size.height - 10;
  return [
    element("path", { class: "scale", d: `M10 ${short(y - 4)}v8m0-4h${short(metres * scale)}m0-4v8` }),
    label(16 + metres * scale, y + 4, words, { class: "number" }),
  ];
}
