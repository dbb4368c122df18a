import { floats } from "../../base/room.ts";
import { measure, type Study, shotMeasure } from "../../base/study.ts";
import type { BodyPart } from "../../document/schema.ts";
import { type Figure, figuresOf, statureOf } from "../../rig/body.ts";
import { worldOf } from "../../rig/pose.ts";
import { type Rig, rigOf } from "../../rig/rig.ts";
import { gridOf } from "../../time/grid.ts";
import { lowestCluster, standingLevel, standingSpeeds } from "./plant.ts";
import { declaredSurfacesOf, heightsOver, type Surface, sameSurface } from "./surface.ts";

/** Which point of a foot a node stands for: the ankle for the heel, the ball for the toe; the ankle alone: whole. */
export type FootPointKind = "heel" | "toe" | "whole";

/** A point of a foot whose plants are looked for. */
export interface FootPoint {
  readonly node: number;
  readonly point: FootPointKind;
  /** End of the toes beyond the ball, which is planted longest at toe-off; -1 where the rig has none. */
  readonly tip: number;
}

/** Slower than this a point may stand, body heights per second; a walking foot swings ten times faster (our choice). */
export const slowShare = 0.25;
/**
 * Heights of one standing level lie within this many body heights (about 2 cm), a little more than the sole of a shoe
 * is thick (our choice).
 */
export const levelWidthShare = 0.012;
/**
 * Farthest that a planted point stands over the surface, body heights. The ankle's own height is 0.039 (Winter, after
 * Drillis & Contini; from memory), the rest is for heels of shoes and drawn proportions; the end of the toes has a sole
 * of at most 2 cm under it. What stands higher does not stand: it hovers.
 */
const highestShares = { ankle: 0.07, ball: 0.03, tip: 0.012 } as const;

/** Points of a figure's feet, left before right, heel before toe. */
export function footPointsOf(rig: Rig, figure: Figure): FootPoint[] {
  const points: FootPoint[] = [];
  for (const side of ["left", "right"] as const) {
    const ankle = figure.parts.get(`${side}Foot` satisfies BodyPart)?.[0];
    const toes = (figure.parts.get(`${side}Toes` satisfies BodyPart) ?? []).filter((node) => node !== ankle);
    if (ankle !== undefined) {
      points.push({ node: ankle, point: toes.length > 0 ? "heel" : "whole", tip: -1 });
    }
    if (toes.length > 0) points.push({ node: toes[0], point: "toe", tip: tipOf(rig, toes) });
  }
  return points;
}

function tipOf(rig: Rig, toes: readonly number[]): number {
  const last = toes[toes.length - 1];
  const below = rig.children[last];
  if (below.length === 1 && rig.children[below[0]].length === 0) return below[0];
  return toes.length > 1 ? last : -1;
}

/** Speed of a foot's point for telling whether it stands, m/s; see {@link standingSpeeds}. Looks 1/50 s both ways. */
export const standingSpeedOf = measure("standing speed", (study, node: number): Float64Array => {
  const { rate, dt } = gridOf(study);
  return standingSpeeds(worldOf(study, node).position, Math.max(1, Math.round(rate / 50)), dt);
});

/**
 * The ground: the declared surface that faces up most (the lowest of several), else a level plane inferred from the
 * lowest plants of all figures' feet; where no foot is ever slow, from the lowest heights that the figures reach.
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

/** All surfaces: the declared ones, else the inferred ground alone. */
export const surfacesOf = shotMeasure<readonly Surface[]>("surfaces", (study) => {
  const declared = declaredSurfacesOf(study);
  return declared.length > 0 ? declared : [groundOf(study)];
});

/** Heights at which the points of a figure's feet stand over a surface when planted, metres. */
export interface Standing {
  readonly heel: number;
  readonly toe: number;
  readonly tip: number;
}

/**
 * How high a figure's ankles, balls and toe ends stand over the ground when planted: joints lie inside the foot, so
 * that this is the thickness of the sole and what is above it. Left and right share it, and the lower one counts; it is
 * never negative nor more than a foot's build explains, so that a figure that floats or sinks all through a shot does.
 */
export const standingOf = measure(
  "standing",
  (study, figure: number): Standing => {
    const points = footPointsOf(rigOf(study), figuresOf(study)[figure]);
    const ground = groundOf(study);
    const stature = statureOf(study, figure);
    const lowest = (nodes: number[], share: number) => {
      const levels = nodes.map((node) => levelOf(study, node, ground, stature));
      const found = levels.filter((height) => height !== null);
      return Math.max(0, Math.min(...found, share * stature));
    };
    const isBall = ({ point }: FootPoint) => point === "toe";
    return {
      heel: lowest(
        points.filter((p) => !isBall(p)).map((p) => p.node),
        highestShares.ankle,
      ),
      toe: lowest(
        points.filter(isBall).map((p) => p.node),
        highestShares.ball,
      ),
      tip: lowest(
        points.filter((p) => p.tip >= 0).map((p) => p.tip),
        highestShares.tip,
      ),
    };
  },
  (a, b) => a.heel === b.heel && a.toe === b.toe && a.tip === b.tip,
);

function levelOf(study: Study, node: number, ground: Surface, stature: number): number | null {
  const heights = heightsOver(ground, worldOf(study, node).position);
  return standingLevel(heights, standingSpeedOf(study, node), slowShare * stature, levelWidthShare * stature);
}

function level(height: number): Surface {
  return { id: "ground", normal: [0, 1, 0], height, declared: false };
}

function inferredHeight(study: Study): number {
  const rig = rigOf(study);
  const zero = level(0);
  let lowest = Number.POSITIVE_INFINITY;
  figuresOf(study).forEach((figure, index) => {
    for (const { node, tip } of footPointsOf(rig, figure)) {
      for (const point of tip >= 0 ? [node, tip] : [node]) {
        lowest = Math.min(lowest, levelOf(study, point, zero, statureOf(study, index)) ?? lowest);
      }
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

function lowestHeights(study: Study, nodes: readonly number[]): Float64Array {
  const heights = floats(gridOf(study).count).fill(Number.POSITIVE_INFINITY);
  for (const node of nodes) {
    const { position } = worldOf(study, node);
    for (let i = 0; i < heights.length; i++) heights[i] = Math.min(heights[i], position[3 * i + 1]);
  }
  return heights;
}
