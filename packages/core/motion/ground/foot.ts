import { bytes, floats } from "../../base/room.ts";
import { measure, type Study, shotMeasure } from "../../base/study.ts";
import { type Figure, figuresOf, statureOf } from "../../rig/body.ts";
import { worldOf } from "../../rig/pose.ts";
import { type Rig, rigOf } from "../../rig/rig.ts";
import { gridOf } from "../../time/grid.ts";
import { declaredFootPointsOf } from "./declared-soles.ts";
import { foreFootPointsOf, levelWidthShare, namedFootPointsOf } from "./foot-points.ts";
import { lowestCluster, standingLevel, standingSpeeds, standsAtZero, usualLevel } from "./plant.ts";
import { platformsOver } from "./platforms.ts";
import { restStandOf } from "./rest-stand.ts";
import { declaredSurfacesOf, heightsOver, type Surface, sameSurface } from "./surface.ts";

/** Slower than this a point may stand, body heights per second; a walking foot swings ten times faster (our choice). */
export const slowShare = 0.25;

/** Speed of a foot's point for telling whether it stands, m/s; see {@link standingSpeeds}. Looks 1/50 s both ways. */
export const standingSpeedOf = measure("standing speed", (study, node: number): Float64Array => {
  const { rate, dt } = gridOf(study);
  return standingSpeeds(worldOf(study, node).position, standingWindow(rate), dt);
});

/** Samples over which a speed of standing looks both ways: 1/50 s. */
export function standingWindow(rate: number): number {
  return Math.max(1, Math.round(rate / 50));
}

/**
 * Farther than this, body heights (10 cm of a grown person), a foot is not on the ground beside it: it is lifted, or
 * stands on a step (our choice).
 */
export const besideShare = 0.06;

/**
 * The ground: the declared surface that faces up most (the lowest of several), else a level plane: that on which the
 * figures stand in the rest pose, where a foot stands on it in the shot; else that of the lowest plants of all figures'
 * feet, but for that of one foot alone that goes lower for a while; where no foot is ever slow, of the lowest heights that the figures reach.
 */
export const groundOf = shotMeasure<Surface>(
  "ground",
  (study) => {
    let ground: Surface | null = null;
    for (const surface of declaredSurfacesOf(study)) {
      if (surface.normal[1] < 0.5) continue;
      const lead = ground === null ? 1 : surface.normal[1] - ground.normal[1];
      if (ground === null || lead > 1e-6 || (lead > -1e-6 && surface.height < ground.height))
        ground = surface;
    }
    return ground ?? level(inferredHeight(study));
  },
  sameSurface,
);

/**
 * All surfaces: the declared ones, else the inferred ground; and levels high over all of these, on which a figure is seen
 * to stand (see `platforms.ts`).
 */
export const surfacesOf = shotMeasure<readonly Surface[]>(
  "surfaces",
  (study) => {
    const declared = declaredSurfacesOf(study);
    const known = declared.length > 0 ? declared : [groundOf(study)];
    return [...known, ...platformsOver(study, known, groundOf(study))];
  },
  (a, b) => a.length === b.length && a.every((surface, index) => sameSurface(surface, b[index])),
);

/** Whether a plane is one of the shot's surfaces, by what it holds: what is the same after an edit may be another object. */
export function isSurface(study: Study, plane: Surface): boolean {
  return surfacesOf(study).some((surface) => sameSurface(surface, plane));
}

/** The level at which a point stands over a surface, metres; null where it is never slow. */
export function levelOf(study: Study, node: number, ground: Surface, stature: number): number | null {
  const heights = heightsOver(ground, worldOf(study, node).position);
  return standingLevel(heights, standingSpeedOf(study, node), slowShare * stature, levelWidthShare * stature);
}

/**
 * The level at which points that are built alike stand over a surface, those of left and right: the lowest one that two of
 * them stand at. Where one alone stands lower, it may be sunk: its level counts if a good share of the samples at which any
 * of them is slow and near lies there.
 * @returns metres; null where none is ever slow
 */
export function sharedLevelOf(
  study: Study,
  nodes: readonly number[],
  surface: Surface,
  stature: number,
): number | null {
  const levels = nodes.map((node) => levelOf(study, node, surface, stature)).filter((at) => at !== null);
  levels.sort((a, b) => a - b);
  const [lowest = null, next = lowest] = levels;
  const width = levelWidthShare * stature;
  if (lowest === null || next === null || next - lowest <= width) return lowest;
  const pool: number[] = [];
  for (const node of nodes) {
    const heights = heightsOver(surface, worldOf(study, node).position);
    const speed = standingSpeedOf(study, node);
    for (let i = 0; i < heights.length; i++) {
      if (heights[i] < lowest + besideShare * stature && speed[i] < slowShare * stature)
        pool.push(heights[i]);
    }
  }
  return usualLevel(Float64Array.from(pool).sort(), width);
}

/** Nearer than this to where it stands at rest, body heights (2 mm of a grown person), a foot stands exactly so (our choice). */
const exactShare = 0.001;
/** Seconds for which left and right stand exactly so at once: no two feet that sink or float are held so by chance (our choice). */
const exactTime = 0.25;

/**
 * Whether points that are built alike stand over a surface as they do at rest, among the samples at which they are slow
 * and near it: exactly so for as many as make a cluster, or all of them at once for a quarter of a second, or near it for
 * most. One foot that is sunk, or floats, may happen to come near, and for most of the shot. What stands on a step, or on a
 * ledge from which it jumps, is not asked.
 * @param rests height over the surface at which each of them stands at rest, metres
 */
export function standAtRest(
  study: Study,
  nodes: readonly number[],
  surface: Surface,
  stature: number,
  rests: readonly number[],
): boolean {
  const slow = slowShare * stature;
  const near = besideShare * stature;
  const exact = exactShare * stature;
  const off: number[] = [];
  const { count, rate } = gridOf(study);
  const standing = bytes(count);
  nodes.forEach((node, k) => {
    const heights = heightsOver(surface, worldOf(study, node).position);
    const speed = standingSpeedOf(study, node);
    for (let i = 0; i < heights.length; i++) {
      const way = heights[i] - rests[k];
      if (!(speed[i] < slow && Math.abs(way) <= near)) continue;
      off.push(way);
      if (Math.abs(way) <= exact) standing[i]++;
    }
  });
  let together = 0;
  for (let i = 0; i < count && nodes.length > 1; i++) {
    together = standing[i] === nodes.length ? together + 1 : 0;
    if (together >= exactTime * rate) return true;
  }
  return standsAtZero(Float64Array.from(off).sort(), levelWidthShare * stature, exact);
}

function level(height: number): Surface {
  return { id: "ground", normal: [0, 1, 0], height, declared: false };
}

function inferredHeight(study: Study): number {
  const rig = rigOf(study);
  const zero = level(0);
  let lowest = Number.POSITIVE_INFINITY;
  figuresOf(study).forEach((figure, index) => {
    const stature = statureOf(study, index);
    let own = Number.POSITIVE_INFINITY;
    for (const alike of pointsAlike(rig, figure))
      own = Math.min(own, sharedLevelOf(study, alike, zero, stature) ?? own);
    // Forefeet that stand a little lower than the hind ones say where the ground is, too.
    const hind = own;
    for (const { node } of foreFootPointsOf(rig, figure)) {
      const fore = levelOf(study, node, zero, stature);
      if (fore !== null && fore > hind - besideShare * stature) own = Math.min(own, fore);
    }
    const stand = restStandOf(study, index);
    for (const end of own === Number.POSITIVE_INFINITY ? (stand?.ends ?? []) : []) {
      own = Math.min(own, levelOf(study, end, zero, stature) ?? own);
    }
    const isOnFloor =
      stand !== null &&
      own > stand.floor - besideShare * stature &&
      [...pointsAlike(rig, figure), ...stand.ends.map((end) => [end])].some((alike) =>
        standAtRest(
          study,
          alike,
          zero,
          stature,
          alike.map((node) => stand.points.get(node)?.[1] ?? stand.floor),
        ),
      );
    const isNamed = namedFootPointsOf(rig, figure).length > 0;
    if (!isOnFloor && !isNamed) return;
    const floor = isOnFloor ? stand.floor : own;
    lowest = Math.min(lowest, floor);
    // What is known of a sole's thickness lies between its joint and the ground.
    for (const { node, sole } of declaredFootPointsOf(study, index)) {
      const at = sole === null || sole === 0 ? null : levelOf(study, node, zero, stature);
      if (at === null || sole === null || at - sole < floor - besideShare * stature) continue;
      lowest = Math.min(lowest, at - sole);
    }
  });
  if (lowest < Number.POSITIVE_INFINITY) return lowest;
  figuresOf(study).forEach((figure, index) => {
    const heights = lowestHeights(study, figure.nodes).sort();
    const cluster = lowestCluster(heights, levelWidthShare * statureOf(study, index));
    if (cluster < lowest) lowest = cluster;
  });
  return lowest < Number.POSITIVE_INFINITY ? lowest : 0;
}

/** Points of a figure's named feet, those of left and right together: ankles, balls, ends of toes. */
function pointsAlike(rig: Rig, figure: Figure): Iterable<readonly number[]> {
  const alike = new Map<string, number[]>();
  const add = (kind: string, node: number) => alike.set(kind, [...(alike.get(kind) ?? []), node]);
  for (const { node, point, tip } of namedFootPointsOf(rig, figure)) {
    add(point === "toe" ? "ball" : "ankle", node);
    if (tip >= 0) add("tip", tip);
  }
  return alike.values();
}

function lowestHeights(study: Study, nodes: readonly number[]): Float64Array {
  const heights = floats(gridOf(study).count).fill(Number.POSITIVE_INFINITY);
  for (const node of nodes) {
    const { position } = worldOf(study, node);
    for (let i = 0; i < heights.length; i++) heights[i] = Math.min(heights[i], position[3 * i + 1]);
  }
  return heights;
}
