import { figuresOf, rigOf, type Study, worldOf } from "@keyside/core";
import { drawablesOf, isVisible, outlinesOf, propsOf, solidsOf } from "@keyside/core/internal";
import { boxFaces } from "@keyside/player/motion";
import { element, type Point, short, through } from "../../text/svg.ts";
import type { Placing } from "./placing.ts";
import type { View } from "./view.ts";

/** Something with a shape that is no bone: a prop, a piece of a set, what a figure wears. */
export interface Thing {
  /** Rig index of the node that it moves with. */
  readonly node: number;
  /** What its outline goes round: one point of a ball, two of a capsule, the eight corners of a box. */
  readonly paths: readonly Float64Array[];
  /** Metres about each point; 0 for a box, and for a prop without a shape, of which only its place is known. */
  readonly radius: number;
}

/** What is drawn beside the figures: all shapes of nodes, and props that have none. */
export function drawnThingsOf(study: Study): readonly Thing[] {
  const shapes = solidsOf(study).filter(({ of }) => "shape" in of);
  const shaped = drawablesOf(study, shapes);
  const things: Thing[] = shaped.map(({ solid: { node, radius }, paths }) => ({ node, paths, radius }));
  const { subtreeSize } = rigOf(study);
  const inFigures = new Set(figuresOf(study).flatMap(({ nodes }) => nodes));
  for (const { node } of propsOf(study)) {
    const isOn = (other: number) => other >= node && other < node + subtreeSize[node];
    if (inFigures.has(node) || shaped.some(({ solid }) => isOn(solid.node))) continue;
    things.push({ node, paths: [worldOf(study, node).position], radius: 0 });
  }
  return things;
}

/** A thing as it is seen: its points with how wide they are, in lengths of the view. */
export interface SeenThing {
  readonly thing: Thing;
  /** Its place among the shot's things; the same in the shot with other keys. */
  readonly index: number;
  readonly points: readonly Point[];
  readonly radii: readonly number[];
  readonly depth: number;
}

/** The things that are seen at a judged frame; those behind whoever looks, or in part, are left out. */
export function thingsAt(study: Study, view: View, sample: number): SeenThing[] {
  return drawnThingsOf(study).flatMap((thing, index) => {
    if (!isVisible(study, thing.node, sample)) return [];
    const points: Point[] = [];
    const radii: number[] = [];
    let depth = 0;
    for (const path of thing.paths) {
      const seen = view.see(path, 3 * sample, sample);
      if (seen === null) return [];
      points.push([seen.x, seen.y]);
      radii.push(thing.radius * seen.scale);
      depth += seen.depth / thing.paths.length;
    }
    return [{ thing, index, points, radii, depth }];
  });
}

/** Half of the side of the square that stands for a prop without a shape, pixels. */
const mark = 3.5;

/** The outline of a thing: the faces of a box that are seen, the way round a ball or a capsule. */
export function drawnThing(seen: SeenThing, placing: Placing, kind = "thing"): string {
  const { thing } = seen;
  const points = seen.points.map((point) => placing.place(point));
  if (points.length === 1 && thing.radius === 0) {
    const [x, y] = points[0];
    return element("rect", { class: kind, x: x - mark, y: y - mark, width: 2 * mark, height: 2 * mark });
  }
  const d =
    points.length === 8
      ? facesOf(points)
      : wayRound(
          points,
          seen.radii.map((radius) => radius * placing.scale),
        );
  return element("path", { class: kind, d });
}

/** The faces of a box that look this way; of one that is turned inside out, those that look away. */
function facesOf(points: readonly Point[]): string {
  return boxFaces
    .map((face) => face.map((corner) => points[corner]))
    .filter((corners) => areaOf(corners) < 0)
    .map((corners) => `${through(corners)}Z`)
    .join("");
}

/** Twice the area of a polygon; below 0 where it runs against the clock, y down. */
function areaOf(corners: readonly Point[]): number {
  return corners.reduce((sum, [x, y], n) => {
    const [nextX, nextY] = corners[(n + 1) % corners.length];
    return sum + x * nextY - nextX * y;
  }, 0);
}

/** The way round one disc, or round two and what is between them. */
function wayRound(points: readonly Point[], radii: readonly number[]): string {
  const [a, b = a] = points;
  const [ra, rb = ra] = radii;
  const apart = Math.hypot(b[0] - a[0], b[1] - a[1]);
  if (apart <= Math.abs(ra - rb)) {
    const [[x, y], r] = ra > rb ? [a, ra] : [b, rb];
    return `M${short(x - r)} ${short(y)}a${short(r)} ${short(r)} 0 1 1 ${short(2 * r)} 0a${short(r)} ${short(r)} 0 1 1 ${short(-2 * r)} 0Z`;
  }
  const along = Math.atan2(b[1] - a[1], b[0] - a[0]);
  // Where a common tangent touches both.
  const aside = Math.acos((ra - rb) / apart);
  const on = ([x, y]: Point, r: number, angle: number) =>
    `${short(x + r * Math.cos(angle))} ${short(y + r * Math.sin(angle))}`;
  const arc = (r: number, isLong: boolean) => `A${short(r)} ${short(r)} 0 ${isLong ? 1 : 0} 1 `;
  return `M${on(a, ra, along + aside)}${arc(ra, aside < Math.PI / 2)}${on(a, ra, along - aside)}L${on(b, rb, along - aside)}${arc(rb, aside > Math.PI / 2)}${on(b, rb, along + aside)}Z`;
}

/** The edges of surfaces that have some, as far as they are seen whole. */
export function drawnEdges(study: Study, view: View, sample: number, placing: Placing): string[] {
  return outlinesOf(study).flatMap(({ corners }) => {
    const points: Point[] = [];
    for (const path of corners) {
      const seen = view.see(path, 3 * sample, sample);
      if (seen === null) return [];
      points.push(placing.place([seen.x, seen.y]));
    }
    return [element("path", { class: "edge", d: `${through(points)}Z` })];
  });
}

/** Pixels by which a thing has to stand elsewhere for that to be drawn. */
const leastChange = 1.5;

/** The outlines of things that stand elsewhere than before, dashed; empty where none does. */
export function drawnChanges(
  before: readonly SeenThing[],
  after: readonly SeenThing[],
  placing: Placing,
): string {
  const changed = after.filter(({ index, points }) => {
    const was = before.find((one) => one.index === index);
    return points.some((point, n) => {
      const [x, y] = placing.place(point);
      const [wasX, wasY] = placing.place(was?.points[n] ?? point);
      return Math.hypot(x - wasX, y - wasY) >= leastChange;
    });
  });
  return changed.map((seen) => drawnThing(seen, placing, "fixed-thing")).join("");
}
