import { type Box, element, type Point, short } from "../../text/svg.ts";
import { drawnPose, type Pose } from "./body.ts";
import type { SeenThing } from "./things.ts";

const wide = 78;
const high = 88;
/** Room at the edges, so that the ring is whole wherever the part is. */
const inset = 13;

/**
 * The whole figure, small, in the corner of a picture that shows a part of it close up, with a ring where that part
 * is. The corner is the one with the fewest of the points that are drawn.
 * @param things that are beside the figure
 */
export function locator(
  pose: Pose,
  part: Point,
  marked: ReadonlySet<number>,
  size: { readonly width: number; readonly height: number },
  points: readonly Point[],
  things: readonly SeenThing[],
): { readonly svg: string; readonly box: Box } {
  // The lower left corner holds the scale bar.
  const corners: Point[] = [
    [size.width - wide - 2, 2],
    [2, 2],
    [size.width - wide - 2, size.height - high - 2],
  ];
  const crowd = ([x, y]: Point) =>
    points.filter(([px, py]) => px > x - 8 && px < x + wide + 8 && py > y - 8 && py < y + high + 8).length;
  const [left, top] = corners.reduce((best, corner) => (crowd(corner) < crowd(best) ? corner : best));
  const xs = pose.bones.flatMap(({ a, b }) => [a[0], b[0]]);
  const ys = pose.bones.flatMap(({ a, b }) => [a[1], b[1]]);
  const [minX, maxX, minY, maxY] = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)];
  const scale = Math.min(
    (wide - 2 * inset) / Math.max(maxX - minX, 1e-9),
    (high - 2 * inset) / Math.max(maxY - minY, 1e-9),
  );
  const place = ([x, y]: Point): Point => [
    left + wide / 2 + (x - (minX + maxX) / 2) * scale,
    top + high / 2 - (y - (minY + maxY) / 2) * scale,
  ];
  const [cx, cy] = place(part);
  const svg = element(
    "g",
    { class: "locator" },
    element("rect", { class: "locator-box", x: left, y: top, width: wide, height: high, rx: 4 }),
    // A picture of its own, so that nothing reaches over its edge.
    element(
      "svg",
      { x: left, y: top, width: wide, height: high, viewBox: [left, top, wide, high].map(short).join(" ") },
      drawnPose(pose, { scale, place }, marked, things),
    ),
    element("circle", { class: "ring", cx, cy, r: 11 }),
  );
  return { svg, box: { left, top, right: left + wide, bottom: top + high } };
}
