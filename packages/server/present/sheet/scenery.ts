import { gridOf, headerOf, inDegrees, pointAt, rigOf, rotated, type Study, type Vector } from "@keyside/core";
import { isVisible, type Lens, lensOf, outlinesOf } from "@keyside/core/internal";
import type { MotionCamera, MotionEdge, MotionLens, MotionShape, MotionThing } from "@keyside/player/motion";
import { drawnThingsOf } from "./draw/things.ts";
import type { Points } from "./points.ts";

/** What is around the figures, as the player takes it: things, edges, the camera. */

/** Corners by which a box is known: one, and those beside it along its x, y and z. */
const cornersTold = [0, 1, 2, 4];

/** Props and whatever has a shape, one for each node. */
export function thingsOf(study: Study, points: Points): MotionThing[] {
  const { ids } = rigOf(study);
  const shapes = new Map<number, MotionShape[]>();
  drawnThingsOf(study).forEach(({ node, paths, radius }, index) => {
    const list = shapes.get(node) ?? [];
    shapes.set(node, list);
    if (paths.length === 1 && radius === 0) return;
    const told = paths.length === 8 ? cornersTold : paths.map((_, k) => k);
    list.push({
      points: told.map((k) => points.known(`thing ${index} ${k}`, (of) => drawnThingsOf(of)[index].paths[k])),
      radius: Math.round(radius * 1e4) / 1e4,
    });
  });
  return [...shapes].map(([node, list]) => {
    const seen = stretchesSeen(study, node);
    return {
      id: ids[node],
      point: points.of(node),
      ...(list.length === 0 ? {} : { shapes: list }),
      ...(seen === null ? {} : { seen }),
    };
  });
}

/** The judged frames on which a node is seen, as stretches; null where it is on all. */
export function stretchesSeen(study: Study, node: number): [number, number][] | null {
  const { count } = gridOf(study);
  const stretches: [number, number][] = [];
  for (let i = 0; i < count; i++) {
    if (!isVisible(study, node, i)) continue;
    const last = stretches.at(-1);
    if (last !== undefined && last[1] === i - 1) last[1] = i;
    else stretches.push([i, i]);
  }
  return stretches.length === 1 && stretches[0][0] === 0 && stretches[0][1] === count - 1 ? null : stretches;
}

export function edgesOf(study: Study, points: Points): MotionEdge[] {
  return outlinesOf(study).map(({ id, corners }, index) => ({
    id,
    points: corners.map((_, k) =>
      points.known(`edge ${index} ${k}`, (of) => outlinesOf(of)[index].corners[k]),
    ),
  }));
}

/** What the shot is seen through; null where no frame has a camera. */
export function cameraOf(study: Study, points: Points): MotionCamera | null {
  const lens = lensOf(study);
  if (lens === null) return null;
  const { count } = gridOf(study);
  const lenses: MotionLens[] = [];
  let first: MotionLens | null = null;
  for (let i = 0; i < count; i++) {
    const now = lensAt(lens, i);
    if (first === null && lens.seen[i] === 1) first = now;
    const last = lenses.at(-1);
    if (last === undefined || !isSameLens(last, now)) lenses.push(now);
  }
  if (first === null) return null;
  const { from, ...picture } = first;
  const { id } = (headerOf(study).cameras ?? [])[lens.camera[from]];
  const through = (way: Vector, name: string) =>
    points.known(`camera ${name}`, (of) => pathThrough(lensOf(of) ?? lens, way));
  return {
    id,
    at: through([0, 0, 0], "at"),
    ahead: through([0, 0, -1], "ahead"),
    above: through([0, 1, 0], "above"),
    ...picture,
    ...(lenses.length > 1 ? { lenses } : {}),
  };
}

function lensAt({ seen, flat, half, aspect }: Lens, i: number): MotionLens {
  if (seen[i] === 0) return { from: i, fieldOfView: 0, aspect: 1 };
  return flat[i] === 1
    ? { from: i, fieldOfView: 0, extent: rounded(2 * half[i]), aspect: aspect[i] }
    : { from: i, fieldOfView: rounded(2 * inDegrees(Math.atan(half[i]))), aspect: aspect[i] };
}

/** A millionth of a degree or of a metre is no zoom. */
const rounded = (value: number) => Math.round(value * 1e6) / 1e6;

function isSameLens(a: MotionLens, b: MotionLens): boolean {
  return a.fieldOfView === b.fieldOfView && a.extent === b.extent && a.aspect === b.aspect;
}

/** The path of a point that goes with the camera; where none holds it stays where it was. */
function pathThrough({ seen, eye, turn }: Lens, way: Vector): Float64Array {
  const path = new Float64Array(eye.length);
  for (let i = 0, from = Math.max(0, seen.indexOf(1)); i < seen.length; i++) {
    if (seen[i] === 1) from = i;
    const [x, y, z] = pointAt(eye, from);
    const [ax, ay, az] = rotated(turn, way, 4 * from);
    path.set([x + ax, y + ay, z + az], 3 * i);
  }
  return path;
}
