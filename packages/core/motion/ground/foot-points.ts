import type { BodyPart } from "../../document/schema.ts";
import { type Figure, standsOnFour } from "../../rig/body.ts";
import type { Rig } from "../../rig/rig.ts";

/** Which point of a foot a node stands for: the ankle for the heel, the ball for the toe; the ankle alone: whole. */
export type FootPointKind = "heel" | "toe" | "whole";

/** A point of a foot whose plants are looked for. */
export interface FootPoint {
  readonly node: number;
  readonly point: FootPointKind;
  /** End of the toes beyond the ball, which is planted longest at toe-off; -1 where the rig has none. */
  readonly tip: number;
  /** The first point of the foot to which it belongs. */
  readonly foot: number;
  /** How thick the sole is under it, metres, where the document declares it; else null. */
  readonly sole: number | null;
}

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
export const highestShares = { ankle: 0.07, ball: 0.03, tip: 0.012 } as const;

/** Points of the feet that the body map names, left before right, heel before toe. */
export function namedFootPointsOf(rig: Rig, figure: Figure): FootPoint[] {
  const points: FootPoint[] = [];
  for (const side of ["left", "right"] as const) {
    const ankle = figure.parts.get(`${side}Foot` satisfies BodyPart)?.[0];
    const toes = (figure.parts.get(`${side}Toes` satisfies BodyPart) ?? []).filter((node) => node !== ankle);
    const foot = ankle ?? toes[0];
    if (ankle !== undefined) {
      points.push({ node: ankle, point: toes.length > 0 ? "heel" : "whole", tip: -1, foot, sole: null });
    }
    if (toes.length > 0)
      points.push({ node: toes[0], point: "toe", tip: tipOf(rig, toes), foot, sole: null });
  }
  return points;
}

/**
 * Points of the forefeet of a figure that goes on its hands as on its feet, left before right: the toes, which the body
 * map has as fingers, and the hand where it has none. The joint above the toes rolls over them, and is no heel.
 */
export function foreFootPointsOf(rig: Rig, figure: Figure): FootPoint[] {
  if (!standsOnFour(figure)) return [];
  const points: FootPoint[] = [];
  for (const side of ["left", "right"] as const) {
    const hand = figure.parts.get(`${side}Hand`)?.[0];
    if (hand === undefined) continue;
    const toes = (figure.parts.get(`${side}Fingers`) ?? []).filter((node) => rig.parent[node] === hand);
    // Of several toes beside each other the middle one stands for all.
    const node = toes[toes.length >> 1] ?? hand;
    const [tip = -1, ...others] = node === hand ? [] : rig.children[node];
    const point = node === hand ? "whole" : "toe";
    points.push({ node, point, tip: others.length === 0 ? tip : -1, foot: node, sole: null });
  }
  return points;
}

function tipOf(rig: Rig, toes: readonly number[]): number {
  const last = toes[toes.length - 1];
  const below = rig.children[last];
  if (below.length === 1 && rig.children[below[0]].length === 0) return below[0];
  return toes.length > 1 ? last : -1;
}
