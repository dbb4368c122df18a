import { figuresOf, statureOf } from "../rig/body.ts";
import { worldOf } from "../rig/pose.ts";
import { rigOf } from "../rig/rig.ts";
import type { Study } from "../study/study.ts";
import { footPointsOf, standingOf } from "./foot.ts";
import { heightsOver, type Surface } from "./surface.ts";

/** A point of a foot over a surface. */
export interface PointOverSurface {
  readonly node: number;
  /** Distance of the sole under it from the surface, one number per sample, metres; negative below the surface. */
  readonly height: Float64Array;
}

/**
 * Highest that joints stand over their soles, in body heights: an ankle's own height is 0.039 (Winter, after Drillis &
 * Contini; from memory), a ball's and a toe's less; the rest is for thick soles and drawn proportions.
 */
const thickestSole = { heel: 0.08, whole: 0.08, toe: 0.045, tip: 0.03 } as const;

/**
 * Heights of the sole under each point of a figure's feet (ankle, ball, end of the toes) over a surface. How thick the
 * sole is under a joint is not known; it is taken from the lowest level at which the joint stands in the shot, between
 * nothing and the most that a sole can be: a figure that hovers, or sinks, all through the shot is then off as well.
 * Ends of toes are left out over a ground that is worked out: in many rigs nothing bends them.
 */
export function soleHeights(
  study: Study,
  figure: number,
  surface: Surface,
): { side: "left" | "right"; ankle: number; points: PointOverSurface[] }[] {
  const body = figuresOf(study)[figure];
  const stature = statureOf(study, figure);
  const standing = standingOf(study, figure);
  const feet = new Map<string, { side: "left" | "right"; ankle: number; points: PointOverSurface[] }>();
  const over = (node: number, level: number, kind: keyof typeof thickestSole): PointOverSurface => {
    const height = heightsOver(surface, worldOf(study, node).position);
    // Without a declared surface the ground itself comes from the lowest plants.
    const sole = surface.declared ? Math.min(Math.max(level, 0), thickestSole[kind] * stature) : level;
    for (let i = 0; i < height.length; i++) height[i] -= sole;
    return { node, height };
  };
  for (const { node, point, tip } of footPointsOf(rigOf(study), body)) {
    const side = body.partOf.get(node)?.startsWith("right") ? "right" : "left";
    let foot = feet.get(side);
    if (foot === undefined) {
      foot = { side, ankle: node, points: [] };
      feet.set(side, foot);
    }
    foot.points.push(over(node, point === "toe" ? standing.toe : standing.heel, point));
    if (tip >= 0 && surface.declared) foot.points.push(over(tip, standing.tip, "tip"));
  }
  return [...feet.values()];
}
