import { measure } from "../../base/study.ts";
import { statureOf } from "../../rig/body.ts";
import { limbsOf } from "../../rig/limb.ts";
import { worldOf } from "../../rig/pose.ts";
import { gridOf } from "../../time/grid.ts";
import type { Span } from "../../time/span.ts";
import { groundOf, standingSpeedOf } from "./foot.ts";
import { plantsIn } from "./plant.ts";
import { plantLimitsFor } from "./plant-limits.ts";
import { declaredSurfacesOf, heightsOver, type Surface } from "./surface.ts";
import { boundsOf, isWithin } from "./surface-bounds.ts";

/** A stretch in which a hand stands still where a surface is. */
export interface RestingHand extends Span {
  readonly node: number;
  readonly surface: Surface;
}

/** A surface that faces up by less than this, as the upward part of its unit normal, is a wall: 60°. */
const wallUpTo = 0.5;

/**
 * Where the hands of a figure rest on declared surfaces, whether contacts say so or not: as near and as slow as a foot that
 * stands. A hand may press on what it rests on, so it may carry; that it does is not certain. Of a level without edges
 * only the ground counts: hands hang at the height of a table anywhere in a room.
 * @param figure index into `figuresOf`
 */
export const restingHandsOf = measure(
  "resting hands",
  (study, figure: number): readonly RestingHand[] => {
    const found: RestingHand[] = [];
    const surfaces = declaredSurfacesOf(study);
    if (surfaces.length === 0) return found;
    const limits = plantLimitsFor(statureOf(study, figure), gridOf(study).rate);
    // What is no wall without edges and no ground bounds nothing that a hand could rest on.
    const bounded = surfaces.flatMap((surface) => {
      const bounds = boundsOf(study, surface.id, limits.enterHeight);
      const isOpen = surface.normal[1] < wallUpTo || surface.id === groundOf(study).id;
      return bounds === null && !isOpen ? [] : [{ surface, bounds }];
    });
    for (const { kind, end: node } of limbsOf(study, figure)) {
      if (kind !== "arm") continue;
      const { position } = worldOf(study, node);
      for (const { surface, bounds } of bounded) {
        const heights = heightsOver(surface, position);
        const tight = { ...limits, deepest: limits.enterHeight, leaveHeight: limits.enterHeight };
        for (const span of plantsIn(heights, standingSpeedOf(study, node), tight)) {
          const middle = 3 * ((span.from + span.to) >> 1);
          if (bounds === null || isWithin(bounds, position, middle)) found.push({ node, surface, ...span });
        }
      }
    }
    return found;
  },
  (a, b) =>
    a.length === b.length &&
    a.every(
      (hand, k) =>
        hand.node === b[k].node &&
        hand.from === b[k].from &&
        hand.to === b[k].to &&
        hand.surface === b[k].surface,
    ),
);
