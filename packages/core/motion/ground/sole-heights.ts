import { measure, type Study } from "../../base/study.ts";
import { statureOf } from "../../rig/body.ts";
import { worldOf } from "../../rig/pose.ts";
import { groundOf } from "./contact.ts";
import { footPointsOf } from "./feet.ts";
import { besideShare, slowShare, standingSpeedOf } from "./foot.ts";
import { type FootPointKind, levelWidthShare } from "./foot-points.ts";
import { usualLevel } from "./plant.ts";
import { standingsOf } from "./standing.ts";
import { heightsOver, type Surface } from "./surface.ts";

/** A point of a foot over a surface. */
export interface PointOverSurface {
  readonly node: number;
  /** Distance of the sole under it from the surface, one number per sample, metres; negative below the surface. */
  readonly height: Float64Array;
}

/** The points of one foot over a surface. */
export interface FootOverSurface {
  /** Its first point: the ankle, where the rig has one. */
  readonly ankle: number;
  readonly points: readonly PointOverSurface[];
}

type SolePoint = FootPointKind | "tip" | "end";

/**
 * How high each point of a figure's feet usually stands over the ground: the lowest level at which a good share of the
 * slow samples of all points of its kind lie, not far over the lowest of all (see `standingsOf`), so that neither a foot
 * that dips nor one that hovers for a while sets it. Where a sole is known, that is it.
 */
const usualStandingOf = measure("usual standing", (study, figure: number): ReadonlyMap<number, number> => {
  const stature = statureOf(study, figure);
  const ground = groundOf(study);
  const standings = standingsOf(study, figure);
  const levels = new Map<number, number>();
  const kinds = new Map<SolePoint, number[]>();
  for (const { node, kind } of solePoints(study, figure)) {
    const standing = standings.get(node);
    levels.set(node, standing?.level ?? 0);
    // Ends of other limbs have a level each.
    if (standing?.known !== true && kind !== "end") kinds.set(kind, [...(kinds.get(kind) ?? []), node]);
  }
  for (const nodes of kinds.values()) {
    const pool: number[] = [];
    for (const node of nodes) {
      const highest = (levels.get(node) ?? 0) + besideShare * stature;
      const heights = heightsOver(ground, worldOf(study, node).position);
      const speed = standingSpeedOf(study, node);
      // Under the ground no foot stands: what is there is sunk.
      for (let i = 0; i < heights.length; i++) {
        const isNear = heights[i] >= 0 && heights[i] < highest;
        if (isNear && speed[i] < slowShare * stature) pool.push(heights[i]);
      }
    }
    if (pool.length === 0) continue;
    const level = usualLevel(Float64Array.from(pool).sort(), levelWidthShare * stature);
    for (const node of nodes) levels.set(node, level);
  }
  return levels;
});

function solePoints(study: Study, figure: number): { node: number; kind: SolePoint; foot: number }[] {
  const points: { node: number; kind: SolePoint; foot: number }[] = [];
  for (const { node, point, tip, foot, isNamed } of footPointsOf(study, figure)) {
    points.push({ node, kind: isNamed ? point : "end", foot });
    if (tip >= 0) points.push({ node: tip, kind: "tip", foot });
  }
  return points;
}

/**
 * Heights of the sole under each point of a figure's feet (ankle, ball, end of the toes) over a surface. How thick the
 * sole is under a joint is taken from the level at which the joint usually stands in the shot, where nothing says it.
 * Ends of toes are left out over a ground that is inferred: in many rigs nothing bends them.
 */
export function soleHeights(study: Study, figure: number, surface: Surface): FootOverSurface[] {
  const levels = usualStandingOf(study, figure);
  const feet = new Map<number, { ankle: number; points: PointOverSurface[] }>();
  for (const { node, kind, foot: own } of solePoints(study, figure)) {
    if (kind === "tip" && !surface.declared) continue;
    const height = heightsOver(surface, worldOf(study, node).position);
    const sole = levels.get(node) ?? 0;
    for (let i = 0; i < height.length; i++) height[i] -= sole;
    const foot = feet.get(own);
    if (foot === undefined) feet.set(own, { ankle: own, points: [{ node, height }] });
    else foot.points.push({ node, height });
  }
  return [...feet.values()];
}

/** Height of the lowest point of a foot at each sample, metres; worked out once. */
export function lowestOf(foot: FootOverSurface): Float64Array {
  const known = lowestKnown.get(foot);
  if (known !== undefined) return known;
  const { points } = foot;
  const lowest = points[0].height.slice();
  for (const { height } of points) {
    for (let i = 0; i < lowest.length; i++) lowest[i] = Math.min(lowest[i], height[i]);
  }
  lowestKnown.set(foot, lowest);
  return lowest;
}

const lowestKnown = new WeakMap<FootOverSurface, Float64Array>();
