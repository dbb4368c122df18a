import { floats } from "../../base/room.ts";
import { measure } from "../../base/study.ts";
import type { ShapeSpec } from "../../document/schema.ts";
import { statureOf } from "../../rig/body.ts";
import { limbsOf } from "../../rig/limb.ts";
import { type World, worldOf } from "../../rig/pose.ts";
import { gapTo } from "../../rig/prop-shape.ts";
import { lengthShare } from "../../rig/proportions.ts";
import { type Prop, propsOf } from "../../rig/props.ts";
import { gridOf } from "../../time/grid.ts";
import type { Span } from "../../time/span.ts";
import { groundOf, standingSpeedOf } from "./foot.ts";
import { plantsIn } from "./plant.ts";
import { plantLimitsFor } from "./plant-limits.ts";
import { declaredSurfacesOf, heightsOver } from "./surface.ts";
import { boundsOf, isWithin } from "./surface-bounds.ts";

/** A stretch in which a hand stands still where a surface is, or a thing that never moves. */
export interface RestingHand extends Span {
  readonly node: number;
  /** Whether the hand can close about a part of that thing: then it pulls as well as it presses. */
  readonly grasps: boolean;
}

/** Share of the hand's length from its joint to the middle of what it grasps: common proportion. */
const graspShare = 0.5;

/** A surface that faces up by less than this, as the upward part of its unit normal, is a wall: 60°. */
const wallUpTo = 0.5;

/**
 * Where the hands of a figure rest on declared surfaces, whether contacts say so or not: as near and as slow as a foot that
 * stands. A hand may press on what it rests on, so it may carry; that it does is not certain. Of a level without edges
 * only the ground counts: hands hang at the height of a table anywhere in a room. What never moves in the shot, as a ladder or
 * a post, bears whoever grasps it.
 * @param figure index into `figuresOf`
 */
export const restingHandsOf = measure(
  "resting hands",
  (study, figure: number): readonly RestingHand[] => {
    const found: RestingHand[] = [];
    const stature = statureOf(study, figure);
    const surfaces = declaredSurfacesOf(study);
    const fixed = propsOf(study).filter(
      ({ shapes, node }) => shapes.length > 0 && worldOf(study, node).still,
    );
    if (surfaces.length === 0 && fixed.length === 0) return found;
    const limits = plantLimitsFor(stature, gridOf(study).rate);
    // What is no wall without edges and no ground bounds nothing that a hand could rest on.
    const bounded = surfaces.flatMap((surface) => {
      const bounds = boundsOf(study, surface.id, limits.enterHeight);
      const isOpen = surface.normal[1] < wallUpTo || surface.id === groundOf(study).id;
      return bounds === null && !isOpen ? [] : [{ surface, bounds }];
    });
    const palm = graspShare * lengthShare.hand * stature;
    const grasp = { ...limits, enterHeight: palm, leaveHeight: palm, deepest: palm };
    for (const { kind, end: node } of limbsOf(study, figure)) {
      if (kind !== "arm") continue;
      const { position } = worldOf(study, node);
      for (const { surface, bounds } of bounded) {
        const heights = heightsOver(surface, position);
        const tight = { ...limits, deepest: limits.enterHeight, leaveHeight: limits.enterHeight };
        for (const span of plantsIn(heights, standingSpeedOf(study, node), tight)) {
          const middle = 3 * ((span.from + span.to) >> 1);
          if (bounds === null || isWithin(bounds, position, middle))
            found.push({ node, grasps: false, ...span });
        }
      }
      for (const prop of fixed) {
        const gaps = gapsTo(prop, worldOf(study, prop.node), position);
        const grasps = prop.shapes.some((shape) => thicknessOf(shape) <= lengthShare.hand * stature);
        for (const span of plantsIn(gaps, standingSpeedOf(study, node), grasp))
          found.push({ node, grasps, ...span });
      }
    }
    return found;
  },
  (a, b) =>
    a.length === b.length &&
    a.every((hand, k) => hand.node === b[k].node && hand.from === b[k].from && hand.to === b[k].to),
);

/** How thick a shape is where it is thinnest, metres. */
function thicknessOf(shape: ShapeSpec): number {
  return shape.kind === "box" ? Math.min(...shape.size) : 2 * shape.radius;
}

/** Gaps between the points of a path and the shapes of a prop, metres. */
function gapsTo(prop: Prop, world: World, path: Float64Array): Float64Array {
  const gaps = floats(path.length / 3);
  for (let i = 0; i < gaps.length; i++) gaps[i] = gapTo(prop, world, i, path, i);
  return gaps;
}
