import { integers } from "../../base/room.ts";
import { measure, type Study } from "../../base/study.ts";
import { figuresOf, statureOf } from "../../rig/body.ts";
import { worldOf } from "../../rig/pose.ts";
import { rigOf } from "../../rig/rig.ts";
import { groundOf } from "./contact.ts";
import { besideShare, slowShare, standingOf, standingSpeedOf } from "./foot.ts";
import { type FootPointKind, footPointsOf, levelWidthShare } from "./foot-points.ts";
import { heightsOver, type Surface } from "./surface.ts";

/** A point of a foot over a surface. */
export interface PointOverSurface {
  readonly node: number;
  /** Distance of the sole under it from the surface, one number per sample, metres; negative below the surface. */
  readonly height: Float64Array;
}

/** The points of one foot over a surface. */
export interface FootOverSurface {
  readonly side: "left" | "right";
  /** Its first point: the ankle, where the rig has one. */
  readonly ankle: number;
  readonly points: readonly PointOverSurface[];
}

type SolePoint = FootPointKind | "tip";

/**
 * How high each kind of point of a figure's feet usually stands over the ground: the lowest level at which a good share
 * of the slow samples of both feet lie, not far over the lowest of all (see `standingOf`), so that neither a foot that
 * dips nor one that hovers for a while sets it. Where the rest pose says it, that is it.
 */
const usualStandingOf = measure("usual standing", (study, figure: number): ReadonlyMap<SolePoint, number> => {
  const stature = statureOf(study, figure);
  const ground = groundOf(study);
  const standing = standingOf(study, figure);
  const pools = new Map<SolePoint, number[]>();
  for (const { node, kind } of solePoints(study, figure)) {
    const highest = lowestFor(standing, kind) + besideShare * stature;
    const heights = heightsOver(ground, worldOf(study, node).position);
    const speed = standingSpeedOf(study, node);
    const pool = pools.get(kind) ?? [];
    pools.set(kind, pool);
    // Under the ground no foot stands: what is there is sunk.
    for (let i = 0; i < heights.length; i++) {
      const isNear = heights[i] >= 0 && heights[i] < highest;
      if (isNear && speed[i] < slowShare * stature) pool.push(heights[i]);
    }
  }
  const levels = new Map<SolePoint, number>();
  for (const [kind, pool] of pools) {
    const lowest = lowestFor(standing, kind);
    const isKnown =
      kind === "toe" ? standing.known.toe : kind === "tip" ? standing.known.tip : standing.known.heel;
    levels.set(
      kind,
      isKnown || pool.length === 0
        ? lowest
        : usualLevel(Float64Array.from(pool).sort(), levelWidthShare * stature),
    );
  }
  return levels;
});

function lowestFor(standing: { heel: number; toe: number; tip: number }, kind: SolePoint): number {
  return kind === "toe" ? standing.toe : kind === "tip" ? standing.tip : standing.heel;
}

/** A level counts from this share of the fullest one on: a foot that dips for a moment makes none (our choice). */
const levelFill = 0.4;

/** Median of the lowest window of `width` that holds enough of some sorted numbers; it moves on while it fills up. */
function usualLevel(sorted: Float64Array, width: number): number {
  const sizes = integers(sorted.length);
  let fullest = 0;
  for (let first = 0, end = 0; first < sorted.length; first++) {
    while (end < sorted.length && sorted[end] - sorted[first] <= width) end++;
    sizes[first] = end - first;
    fullest = Math.max(fullest, sizes[first]);
  }
  const lowest = sizes.findIndex((size) => size >= levelFill * fullest);
  let best = lowest;
  for (let k = lowest; k < sorted.length && sorted[k] - sorted[lowest] <= width / 2; k++) {
    if (sizes[k] > sizes[best]) best = k;
  }
  return sorted[best + ((sizes[best] - 1) >> 1)];
}

function solePoints(
  study: Study,
  figure: number,
): { node: number; kind: SolePoint; side: "left" | "right" }[] {
  const body = figuresOf(study)[figure];
  const points: { node: number; kind: SolePoint; side: "left" | "right" }[] = [];
  for (const { node, point, tip } of footPointsOf(rigOf(study), body)) {
    const side = body.partOf.get(node)?.startsWith("right") ? "right" : "left";
    points.push({ node, kind: point, side });
    if (tip >= 0) points.push({ node: tip, kind: "tip", side });
  }
  return points;
}

/**
 * Heights of the sole under each point of a figure's feet (ankle, ball, end of the toes) over a surface. How thick the
 * sole is under a joint is not known; it is taken from the level at which the joint usually stands in the shot. Ends of
 * toes are left out over a ground that is inferred: in many rigs nothing bends them.
 */
export function soleHeights(study: Study, figure: number, surface: Surface): FootOverSurface[] {
  const levels = usualStandingOf(study, figure);
  const feet = new Map<string, { side: "left" | "right"; ankle: number; points: PointOverSurface[] }>();
  for (const { node, kind, side } of solePoints(study, figure)) {
    if (kind === "tip" && !surface.declared) continue;
    const height = heightsOver(surface, worldOf(study, node).position);
    const sole = levels.get(kind) ?? 0;
    for (let i = 0; i < height.length; i++) height[i] -= sole;
    const foot = feet.get(side);
    if (foot === undefined) feet.set(side, { side, ankle: node, points: [{ node, height }] });
    else foot.points.push({ node, height });
  }
  return [...feet.values()];
}

/** Height of the lowest point of a foot at each sample, metres. */
export function lowestOf({ points }: FootOverSurface): Float64Array {
  const lowest = points[0].height.slice();
  for (const { height } of points) {
    for (let i = 0; i < lowest.length; i++) lowest[i] = Math.min(lowest[i], height[i]);
  }
  return lowest;
}
