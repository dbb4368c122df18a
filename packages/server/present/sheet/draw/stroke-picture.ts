import { gridOf, type Stroke, type Study, sampleAt } from "@keyside/core";
import { element, type Point, picture, short, through } from "../../text/svg.ts";
import { type Body, drawnPose, type Pose, poseOf } from "./body.ts";
import type { Placing } from "./placing.ts";
import { drawnThing, thingsAt } from "./things.ts";
import type { View } from "./view.ts";

/** Room around what is drawn, and the length of the head at the end of a target, pixels. */
const margin = 14;
const head = 10;

/** What a picture of lines shows. */
export interface StrokesInput {
  readonly study: Study;
  /** Bodies of the shot's figures. */
  readonly bodies: readonly Body[];
  readonly strokes: readonly Stroke[];
  /** Rig indices of the nodes whose bones are dark. */
  readonly marked: ReadonlySet<number>;
  readonly name: string;
  readonly size: { readonly width: number; readonly height: number };
}

/**
 * Lines that were drawn over the picture, over the figures as they stand at the frame at which the first was drawn,
 * seen as whoever drew it saw them. Targets are dashed, with a head at their end. Empty where there is nothing to draw.
 */
export function strokePicture({ study, bodies, strokes, marked, name, size }: StrokesInput): string {
  const [first] = strokes;
  if (first === undefined) return "";
  const view = squareTo(first.plane?.normal ?? [0, 0, 1]);
  const grid = gridOf(study);
  const sample = Math.min(grid.count - 1, Math.max(0, sampleAt(grid, first.frame)));
  const poses = bodies.flatMap((body) => poseOf(study, body, view, sample) ?? []);
  const lines = strokes.map(({ points, target }) => ({
    isTarget: target !== undefined,
    places: points.flatMap((point): Point[] => {
      const seen = view.see(point, 0, sample);
      return seen === null ? [] : [[seen.x, seen.y]];
    }),
  }));
  const placing = placingFor(
    poses,
    lines.map(({ places }) => places),
    size,
  );
  if (placing === null) return "";
  const drawn = lines.map(({ places, isTarget }) => {
    const placed = places.map((place) => placing.place(place));
    const d = through(placed);
    const end = isTarget ? headOf(placed) : "";
    const rim = element("path", { class: "drawn-rim", d: d + end });
    const line = element("path", { class: isTarget ? "drawn target" : "drawn", d });
    return rim + line + (end === "" ? "" : element("path", { class: "drawn", d: end }));
  });
  const things = thingsAt(study, view, sample);
  // The first figure is drawn among the things; others lie over them.
  const bodiesDrawn = poses.map((pose, n) => drawnPose(pose, placing, marked, n === 0 ? things : []));
  if (poses.length === 0) bodiesDrawn.push(...things.map((thing) => drawnThing(thing, placing)));
  return picture(size.width, size.height, name, ...bodiesDrawn, ...drawn);
}

/** The view square to a plane whose normal looks at whoever drew, upright where it can be. */
function squareTo([nx, ny, nz]: readonly number[]): View {
  const length = Math.hypot(nx, ny, nz) || 1;
  const n = [nx / length, ny / length, nz / length];
  // Of a plane that lies level, what is behind is up.
  const above = Math.abs(n[1]) > 0.999 ? [0, 0, -Math.sign(n[1])] : [0, 1, 0];
  const along = above[0] * n[0] + above[1] * n[1] + above[2] * n[2];
  const raised = above.map((value, axis) => value - along * n[axis]);
  const size = Math.hypot(...raised);
  const up = raised.map((value) => value / size);
  const right = [up[1] * n[2] - up[2] * n[1], up[2] * n[0] - up[0] * n[2], up[0] * n[1] - up[1] * n[0]];
  const on = (p: ArrayLike<number>, at: number, way: readonly number[]) =>
    p[at] * way[0] + p[at + 1] * way[1] + p[at + 2] * way[2];
  return {
    name: "as it was drawn",
    kind: "side",
    frame: null,
    see: (p, at) => ({ x: on(p, at, right), y: on(p, at, up), depth: -on(p, at, n), scale: 1 }),
  };
}

/** One scale for all of it; null where nothing has a place. */
function placingFor(
  poses: readonly Pose[],
  lines: readonly (readonly Point[])[],
  { width, height }: StrokesInput["size"],
): Placing | null {
  let [left, right, low, high] = [Infinity, -Infinity, Infinity, -Infinity];
  const take = ([x, y]: Point, around: number) => {
    left = Math.min(left, x - around);
    right = Math.max(right, x + around);
    low = Math.min(low, y - around);
    high = Math.max(high, y + around);
  };
  for (const { bones } of poses) {
    for (const { a, b, radius } of bones) {
      take(a, radius);
      take(b, radius);
    }
  }
  for (const line of lines) for (const place of line) take(place, 0);
  if (!(right - left > 0 || high - low > 0)) return null;
  const scale = Math.min(
    (width - 2 * margin) / Math.max(1e-6, right - left),
    (height - 2 * margin) / Math.max(1e-6, high - low),
  );
  const [middle, centre] = [(left + right) / 2, (low + high) / 2];
  return {
    scale,
    place: ([x, y]) => [width / 2 + (x - middle) * scale, height / 2 - (y - centre) * scale],
  };
}

/** Two short lines back from the end of a line. */
function headOf(places: readonly Point[]): string {
  const end = places.at(-1);
  const from = places.findLast(([x, y]) => end !== undefined && Math.hypot(end[0] - x, end[1] - y) >= head);
  if (end === undefined || from === undefined) return "";
  const angle = Math.atan2(end[1] - from[1], end[0] - from[0]);
  return [-0.5, 0.5]
    .map((turn) => {
      const [x, y] = [end[0] - head * Math.cos(angle + turn), end[1] - head * Math.sin(angle + turn)];
      return `M${short(x)} ${short(y)}L${short(end[0])} ${short(end[1])}`;
    })
    .join("");
}
