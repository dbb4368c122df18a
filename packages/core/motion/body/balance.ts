import { standardGravity } from "../../base/constants.ts";
import { measure, type Study } from "../../base/study.ts";
import { lengthOf } from "../../base/vector.ts";
import { worldOf } from "../../rig/pose.ts";
import { gridOf } from "../../time/grid.ts";
import { spansAt } from "../../time/span.ts";
import { contactsOf } from "../ground/contact.ts";
import { type GroundPoint, solesOf } from "../ground/soles.ts";
import { touchesOf } from "../ground/touch-down.ts";
import { massCentreAccelerationOf, massCentreOf, massCentreVelocityOf } from "./mass-centre.ts";

export type { GroundPoint } from "../ground/soles.ts";

/**
 * Extrapolated centre of mass along one axis: x + v / ω₀ with ω₀ = √(g / l). It has to lie in the base of support for
 * a stand that needs no step. Source: Hof, Gazendam & Sinke 2005.
 * @param length length of the pendulum, metres: height of the centre of mass over the ground, or 1.2 to 1.24 times
 * that of the hip joint
 */
export function extrapolated(position: number, velocity: number, length: number): number {
  return position + velocity / Math.sqrt(standardGravity / length);
}

/**
 * Zero-moment point along one axis, over a ground at height 0: x − z·ẍ / (g + z̈), without the rate of angular
 * momentum. In free fall (g + z̈ near 0) nothing is pressed on the ground: NaN.
 * @param height of the centre of mass over the ground, metres
 * @param acceleration horizontal, m/s²
 * @param lift vertical acceleration, m/s²; 0 gives the form for a constant height
 */
export function zeroMomentPoint(position: number, height: number, acceleration: number, lift = 0): number {
  const press = standardGravity + lift;
  return press > leastPress ? position - (height * acceleration) / press : Number.NaN;
}

/**
 * Share of the body's weight under which the ground counts as not pressed: 5 %, in m/s², under which a quotient by the
 * force says nothing (our choice).
 */
const leastPress = 0.05 * standardGravity;

/**
 * Friction that a ground has to give: horizontal over vertical force. Infinite where the body pulls away from the
 * ground while it is pushed sideways. Walking needs about 0.2; dry rubber gives 0.5 to 0.9 (published, disputed).
 * @param horizontal horizontal acceleration of the centre of mass, m/s², never negative
 * @param lift its vertical acceleration, m/s²
 */
export function requiredFriction(horizontal: number, lift: number): number {
  const press = standardGravity + lift;
  return press > leastPress ? horizontal / press : horizontal > 0 ? Number.POSITIVE_INFINITY : 0;
}

/**
 * Convex hull of points on the ground, counter-clockwise seen with x to the right and z up, without points that lie on
 * an edge (monotone chain, Andrew 1979). One or two points for a support that is a point or a line.
 */
export function convexHull(points: readonly GroundPoint[]): GroundPoint[] {
  const unique: GroundPoint[] = [];
  // Sorted as they come in: a body stands on a handful of points, and a hull is asked for on every sample.
  for (const point of points) {
    let at = unique.length;
    while (at > 0 && isBefore(point, unique[at - 1])) at--;
    if (at > 0 && point[0] === unique[at - 1][0] && point[1] === unique[at - 1][1]) continue;
    unique.push(point);
    for (let k = unique.length - 1; k > at; k--) unique[k] = unique[k - 1];
    unique[at] = point;
  }
  if (unique.length < 3) return unique;
  const hull: GroundPoint[] = [];
  // The lower chain from the left to the right, then the upper one back; the last point of each begins the next.
  for (const way of [1, -1]) {
    const first = hull.length;
    for (let k = way > 0 ? 0 : unique.length - 1; k >= 0 && k < unique.length; k += way) {
      const point = unique[k];
      while (hull.length > first + 1 && turn(hull[hull.length - 2], hull[hull.length - 1], point) <= 0)
        hull.pop();
      hull.push(point);
    }
    hull.pop();
  }
  return hull;
}

/** Whether a point comes before another one from the left to the right, and from the near to the far. */
function isBefore(a: GroundPoint, b: GroundPoint): boolean {
  return a[0] < b[0] || (a[0] === b[0] && a[1] < b[1]);
}

/** Twice the area of a triangle, positive where it turns counter-clockwise. */
function turn(a: GroundPoint, b: GroundPoint, c: GroundPoint): number {
  return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);
}

/**
 * Margin of a point to the edge of a convex hull ({@link convexHull}), metres: positive inside, negative outside. A
 * hull that is a line or a point has no inside; without a hull the margin is −∞.
 */
export function marginTo(hull: readonly GroundPoint[], [x, z]: GroundPoint): number {
  return marginAt(hull, x, z);
}

/** The same as {@link marginTo} for a point by its numbers, for loops over frames. */
export function marginAt(hull: readonly GroundPoint[], x: number, z: number): number {
  let nearest = Number.POSITIVE_INFINITY;
  let inside = hull.length > 2;
  for (let i = 0; i < hull.length; i++) {
    const a = hull[i];
    const b = hull[i + 1 < hull.length ? i + 1 : 0];
    nearest = Math.min(nearest, distanceToEdge(a, b, x, z));
    if (inside && (b[0] - a[0]) * (z - a[1]) - (b[1] - a[1]) * (x - a[0]) < 0) inside = false;
  }
  return inside ? nearest : -nearest;
}

/** The point of a convex hull's edges that is nearest to a point by its numbers; the hull has a corner and more. */
export function nearestTo(hull: readonly GroundPoint[], x: number, z: number): GroundPoint {
  let nearest: GroundPoint = hull[0];
  for (let i = 0; i < hull.length; i++) {
    const a = hull[i];
    const b = hull[i + 1 < hull.length ? i + 1 : 0];
    const t = alongEdge(a, b, x, z);
    const point: GroundPoint = [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])];
    if (lengthOf(x - point[0], z - point[1]) < lengthOf(x - nearest[0], z - nearest[1])) nearest = point;
  }
  return nearest;
}

function distanceToEdge(a: GroundPoint, b: GroundPoint, x: number, z: number): number {
  const t = alongEdge(a, b, x, z);
  return lengthOf(x - a[0] - t * (b[0] - a[0]), z - a[1] - t * (b[1] - a[1]));
}

/** How far along an edge its point nearest to another one is, 0 to 1. */
function alongEdge(a: GroundPoint, b: GroundPoint, x: number, z: number): number {
  const dx = b[0] - a[0];
  const dz = b[1] - a[1];
  const squared = dx * dx + dz * dz;
  const along = squared > 0 ? ((x - a[0]) * dx + (z - a[1]) * dz) / squared : 0;
  return Math.min(1, Math.max(0, along));
}

/**
 * What a figure stands on at a sample: the convex hull, in x and z, of the soles of its points in contact there. A planted
 * ankle brings its heel, a planted ball its toes; a foot of a human is as long and as broad as published proportions say
 * ({@link solesOf}). Other bodies' feet are points. Empty in the air.
 * @param figure index into `figuresOf`
 * @param sample index of the judged frame
 * @returns corners [x, z] in metres, counter-clockwise; empty in the air
 */
export function supportPolygonOf(study: Study, figure: number, sample: number): readonly GroundPoint[] {
  return supportsOf(study, figure)(sample);
}

/** A figure's polygons by sample. Each is worked out when it is first asked for: most checks ask for a few. */
const supportsOf = measure("supports", (study, figure: number) => {
  const soles = solesOf(study, figure);
  const carriers = contactsOf(study, figure).map((contact) => ({
    ...touchesOf(study, figure, contact),
    path: worldOf(study, contact.node).position,
    sole: soles.get(contact.node),
  }));
  const bearing = spansAt(carriers, gridOf(study).count);
  const known: GroundPoint[][] = [];
  return (sample: number): readonly GroundPoint[] => {
    let polygon = known[sample];
    if (polygon !== undefined) return polygon;
    const points: GroundPoint[] = [];
    for (let at = bearing.starts[sample]; at < bearing.starts[sample + 1]; at++) {
      const { path, sole } = carriers[bearing.which[at]];
      if (sole === undefined) points.push([path[3 * sample], path[3 * sample + 2]]);
      else sole(sample, points);
    }
    known[sample] = polygon = convexHull(points);
    return polygon;
  };
});

/** How a figure keeps its balance at a sample. */
export interface Balance {
  /** Extrapolated centre of mass, zero-moment point (NaN in free fall), and what carries. */
  readonly extrapolated: GroundPoint;
  readonly zeroMoment: GroundPoint;
  readonly support: readonly GroundPoint[];
  /** Margins of the two points to the edge of the support, metres, negative outside. */
  readonly extrapolatedMargin: number;
  readonly zeroMomentMargin: number;
  /** Friction that the ground has to give. */
  readonly friction: number;
}

/**
 * Balance of a figure at a sample, over a ground at a height (metres). Works on central differences of the centre of
 * mass: one frame's error in a path is 1/dt² in the zero-moment point, so judge it over several samples.
 * @param figure index into `figuresOf`
 * @param sample index of the judged frame
 * @param ground height of the ground, metres
 * @returns points on the ground and margins, metres
 */
export function balanceAt(study: Study, figure: number, sample: number, ground: number): Balance {
  const position = massCentreOf(study, figure);
  const velocity = massCentreVelocityOf(study, figure);
  const acceleration = massCentreAccelerationOf(study, figure);
  const x = 3 * sample;
  const y = 3 * sample + 1;
  const z = 3 * sample + 2;
  const height = Math.max(0, position[y] - ground);
  const support = supportPolygonOf(study, figure, sample);
  const lift = acceleration[y];
  const moving: GroundPoint = [
    extrapolated(position[x], velocity[x], height),
    extrapolated(position[z], velocity[z], height),
  ];
  const zeroMoment: GroundPoint = [
    zeroMomentPoint(position[x], height, acceleration[x], lift),
    zeroMomentPoint(position[z], height, acceleration[z], lift),
  ];
  return {
    extrapolated: moving,
    zeroMoment,
    support,
    extrapolatedMargin: marginTo(support, moving),
    zeroMomentMargin: Number.isNaN(zeroMoment[0]) ? Number.NaN : marginTo(support, zeroMoment),
    friction: requiredFriction(lengthOf(acceleration[x], acceleration[z]), lift),
  };
}
