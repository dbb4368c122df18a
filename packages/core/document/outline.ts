import type { SurfaceSpec } from "./schema.ts";

type Vector = readonly [number, number, number];
type Corner = readonly [number, number];
type Up = "x" | "y" | "z";

/** A plane that faces up or down by at least this, as the upward part of its unit normal, is seen from above: 60°. */
const levelFrom = 0.5;

/** The normal of a surface as it is written, or straight up where it is left out. */
export function normalOf({ normal }: Pick<SurfaceSpec, "normal">, up: Up): Vector {
  return normal ?? [Number(up === "x"), Number(up === "y"), Number(up === "z")];
}

/**
 * The axes (0 to 2 for x to z) of which the corners of a surface hold the coordinates: all but the up axis; where the
 * plane is steeper than 60°, all but the level axis that its normal is nearest to, the first of two that are as near.
 */
export function edgeAxesOf(normal: Vector, up: Up): readonly [number, number] {
  const upward = "xyz".indexOf(up);
  const [first, second] = others(upward);
  if (Math.abs(normal[upward]) >= levelFrom * Math.hypot(...normal)) return [first, second];
  return others(Math.abs(normal[second]) > Math.abs(normal[first]) ? second : first);
}

function others(axis: number): readonly [number, number] {
  return axis === 0 ? [1, 2] : axis === 1 ? [0, 2] : [0, 1];
}

/** The corners of an outline in their order; two are opposite corners of a rectangle. */
export function cornersOf(edges: readonly Corner[]): readonly Corner[] {
  if (edges.length !== 2) return edges;
  const [[a, b], [c, d]] = edges;
  return [
    [a, b],
    [c, b],
    [c, d],
    [a, d],
  ];
}

/**
 * The outline of a surface: where its corners lie, in the document's units, in its space or that of the node that
 * carries the surface.
 * @returns three numbers per corner; null for a surface without edges, or whose edges or normal cannot be used
 */
export function outlineOf(surface: SurfaceSpec, up: Up): Float64Array | null {
  const { edges, height } = surface;
  if (edges === undefined) return null;
  const normal = normalOf(surface, up);
  const length = Math.hypot(...normal);
  const corners = cornersOf(edges);
  if (!(length > 0) || outlineFault(corners) !== null) return null;
  const [a, b] = edgeAxesOf(normal, up);
  const away = 3 - a - b;
  const outline = new Float64Array(3 * corners.length);
  corners.forEach((corner, index) => {
    outline[3 * index + a] = corner[0];
    outline[3 * index + b] = corner[1];
    outline[3 * index + away] =
      (height * length - normal[a] * corner[0] - normal[b] * corner[1]) / normal[away];
  });
  return outline;
}

/** Why corners bound nothing that can be stood on: they enclose no area, or the outline meets itself; null if they do. */
export function outlineFault(corners: readonly Corner[]): "empty" | "crossing" | null {
  const count = corners.length;
  let area = 0;
  let reach = 0;
  for (let i = 0; i < count; i++) {
    const [x, y] = minus(corners[i], corners[0]);
    const [nextX, nextY] = minus(corners[(i + 1) % count], corners[0]);
    area += x * nextY - y * nextX;
    reach = Math.max(reach, Math.hypot(x, y));
  }
  for (let i = 0; i < count; i++) {
    for (let k = i + 1; k < count; k++)
      if (meet(corners, i, k)) return collinear(corners) ? "empty" : "crossing";
  }
  return Math.abs(area) <= 1e-12 * reach * reach ? "empty" : null;
}

/** Whether all corners lie on one line, or on one point. */
function collinear(corners: readonly Corner[]): boolean {
  const [first] = corners;
  const far = corners.reduce((a, b) => (distance(first, b) > distance(first, a) ? b : a));
  return corners.every((corner) => turn(first, far, corner) === 0);
}

/** Whether the edges that start at two corners share more than a corner at which one follows the other. */
function meet(corners: readonly Corner[], i: number, k: number): boolean {
  const count = corners.length;
  const [a, b] = [corners[i], corners[(i + 1) % count]];
  const [c, d] = [corners[k], corners[(k + 1) % count]];
  if (k === i + 1) return distance(a, b) === 0 || turnsBack(a, b, d);
  if ((k + 1) % count === i) return distance(c, d) === 0 || turnsBack(c, d, b);
  return (
    (opposite(turn(a, b, c), turn(a, b, d)) && opposite(turn(c, d, a), turn(c, d, b))) ||
    lies(c, a, b) ||
    lies(d, a, b) ||
    lies(a, c, d) ||
    lies(b, c, d)
  );
}

/** Whether a way from a to b goes on to c along itself backwards. */
function turnsBack(a: Corner, b: Corner, c: Corner): boolean {
  const [x, y] = minus(b, a);
  const [u, v] = minus(c, b);
  return turn(a, b, c) === 0 && x * u + y * v < 0;
}

/** Whether a point lies on the edge from a to b. */
function lies(point: Corner, a: Corner, b: Corner): boolean {
  const within = (k: 0 | 1) => point[k] >= Math.min(a[k], b[k]) && point[k] <= Math.max(a[k], b[k]);
  return turn(a, b, point) === 0 && within(0) && within(1);
}

function opposite(a: number, b: number): boolean {
  return (a > 0 && b < 0) || (a < 0 && b > 0);
}

/** Twice the area of the triangle a, b, c: positive where it runs against the clock. */
function turn(a: Corner, b: Corner, c: Corner): number {
  return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);
}

function distance(a: Corner, b: Corner): number {
  return Math.hypot(...minus(a, b));
}

function minus(a: Corner, b: Corner): [number, number] {
  return [a[0] - b[0], a[1] - b[1]];
}
