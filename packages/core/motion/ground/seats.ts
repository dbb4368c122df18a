import { referenceRate } from "../../base/constants.ts";
import { conjugateInto, rotateVector } from "../../base/quaternion.ts";
import { bytes, floats } from "../../base/room.ts";
import { measure, type Study } from "../../base/study.ts";
import { headerOf } from "../../document/inputs.ts";
import { figureOfNode, statureOf } from "../../rig/body.ts";
import { limbsOf } from "../../rig/limb.ts";
import { type World, worldOf } from "../../rig/pose.ts";
import { gapTo } from "../../rig/prop-shape.ts";
import { type Prop, propsOf } from "../../rig/props.ts";
import { rigOf } from "../../rig/rig.ts";
import { gridOf } from "../../time/grid.ts";
import type { Span } from "../../time/span.ts";
import { groundOf, standingWindow } from "./foot.ts";
import { plantsIn, standingSpeeds } from "./plant.ts";
import { plantLimitsFor } from "./plant-limits.ts";
import { declaredSurfacesOf, heightsOver, type Surface } from "./surface.ts";
import { type Bounds, boundsOf, isWithin } from "./surface-bounds.ts";

/** A stretch in which a figure sits on something, or leans on it with its seat. */
export interface Seat extends Span {
  /**
   * Whether the pelvis rests on a thing of its own, a chair or a crate, for as long as a body that nothing holds would
   * fall by 1.2 m: then this is what carries it, and nothing else that low does.
   */
  readonly isChair: boolean;
}

/**
 * How high hip joints are over what one sits on, body heights: sitting height (0.527 of stature: Huston 2009, US adults)
 * less what is above the hip joints (0.470: they are at 0.530, Drillis & Contini 1966).
 */
const fleshShare = 0.057;
/** A side that faces up by less than this, as the cosine of its slope, carries nobody: 60°, as for walls. */
const leastUp = 0.5;
/** Frames (at 24 per second) for which a body has to keep on a thing to be seen to sit on it: as for feet on a ledge. */
const leastFrames = 12;

/**
 * Where a figure's pelvis or thighs rest on something that can carry them: the ground, a declared surface with edges, or the
 * shape of a prop that the figure does not carry itself. They are as near to it, over their flesh, as a foot that stands
 * is to the ground, and as slow upon it, and are down to where they sit. Of a level without edges only the ground counts.
 * @param figure index into `figuresOf`
 * @returns stretches of samples; those of different points and things may overlap
 */
export const seatsOf = measure(
  "seats",
  (study, figure: number): readonly Seat[] => {
    const seats: Seat[] = [];
    const stature = statureOf(study, figure);
    const { rate, dt, count } = gridOf(study);
    const flesh = fleshShare * stature;
    const limits = plantLimitsFor(stature, rate);
    const least = Math.round((leastFrames * rate) / referenceRate);
    const things = propsOf(study).filter(
      ({ shapes, node }) => shapes.length > 0 && isFree(study, figure, node),
    );
    const levels = levelsOf(study, flesh + limits.leaveHeight);
    if (things.length === 0 && levels.length === 0) return seats;
    const points = restingPoints(study, figure);
    const add = (heights: Float64Array, path: Float64Array, isPelvis: boolean, isThing: boolean) => {
      for (let i = 0; i < count; i++) heights[i] -= flesh;
      const speed = standingSpeeds(path, standingWindow(rate), dt);
      for (const plant of plantsIn(heights, speed, limits)) {
        const from = settledFrom(heights, plant, limits.enterHeight, least);
        seats.push({ from, to: plant.to, isChair: isThing && isPelvis && plant.to - from + 1 >= least });
      }
    };
    for (const [k, path] of points.entries()) {
      for (const { surface, bounds } of levels) {
        const heights = heightsOver(surface, path);
        for (let i = 0; bounds !== null && i < count; i++)
          if (!isWithin(bounds, path, 3 * i)) heights[i] = Number.POSITIVE_INFINITY;
        add(heights, path, k === 0, bounds !== null);
      }
      for (const prop of things) {
        const world = worldOf(study, prop.node);
        const heights = heightsOnTop(study, figure, prop, world, path, flesh + limits.leaveHeight);
        if (heights !== null) add(heights, world.still ? path : pathUpon(world, path), k === 0, true);
      }
    }
    return seats;
  },
  (a, b) =>
    a.length === b.length &&
    a.every((seat, k) => seat.from === b[k].from && seat.to === b[k].to && seat.isChair === b[k].isChair),
);

/** First sample of a stretch at which a point is down on what it sits on: what still comes down is not carried yet. */
function settledFrom(heights: Float64Array, { from, to }: Span, near: number, soon: number): number {
  for (let first = from; first < to; first++) {
    let lowest = heights[first];
    for (let i = first + 1; i <= Math.min(to, first + soon); i++) lowest = Math.min(lowest, heights[i]);
    if (heights[first] <= lowest + near) return first;
  }
  return to;
}

/** 1 at the samples at which a seat carries a figure, see {@link seatsOf}. */
export const seatedAt = measure(
  "seated",
  (study, figure: number): Uint8Array => {
    const seated = bytes(gridOf(study).count);
    for (const { from, to } of seatsOf(study, figure)) seated.fill(1, from, to + 1);
    return seated;
  },
  (a, b) => a.length === b.length && a.every((value, i) => value === b[i]),
);

/** Whether a thing may carry a figure: it is no part of the figure, nor hangs on it. */
function isFree(study: Study, figure: number, node: number): boolean {
  const { parent } = rigOf(study);
  for (let above = node; above >= 0; above = parent[above])
    if (figureOfNode(study, above) === figure) return false;
  return true;
}

/** The ground and the level surfaces with edges, where they are declared. */
function levelsOf(study: Study, more: number): { surface: Surface; bounds: Bounds | null }[] {
  const ground = groundOf(study);
  return declaredSurfacesOf(study).flatMap((surface) => {
    const bounds = boundsOf(study, surface.id, more);
    const isSeat = surface.normal[1] >= leastUp && (bounds !== null || surface.id === ground.id);
    return isSeat ? [{ surface, bounds: surface.id === ground.id ? null : bounds }] : [];
  });
}

/** Paths of what a figure with two legs sits on: between its hip joints, and the middles of its thighs. */
function restingPoints(study: Study, figure: number): Float64Array[] {
  const legs = limbsOf(study, figure).filter(({ kind }) => kind === "leg");
  if (legs.length !== 2) return [];
  const middleOf = (a: number, b: number) => {
    const from = worldOf(study, a).position;
    const to = worldOf(study, b).position;
    const path = floats(from.length);
    for (let k = 0; k < path.length; k++) path[k] = (from[k] + to[k]) / 2;
    return path;
  };
  return [middleOf(legs[0].root, legs[1].root), ...legs.map(({ root, middle }) => middleOf(root, middle))];
}

const down = new Float64Array(3);
const back = new Float64Array(4);
const point = new Float64Array(3);

/**
 * Height of each point of a path over the shape of a prop, metres, where the nearest of its sides faces up and nobody of the
 * figure holds it; Infinity elsewhere. Null where the path is nowhere near it.
 * @param near metres
 */
function heightsOnTop(
  study: Study,
  figure: number,
  prop: Prop,
  world: World,
  path: Float64Array,
  near: number,
): Float64Array | null {
  const count = path.length / 3;
  const reach = (near + radiusOf(prop)) ** 2;
  let heights: Float64Array | null = null;
  for (let i = 0; i < count; i++) {
    let squared = 0;
    for (let k = 3 * i; k < 3 * i + 3; k++) squared += (path[k] - world.position[k]) ** 2;
    if (squared > reach) continue;
    const gap = gapTo(prop, world, i, path, i);
    if (gap > near) continue;
    for (let axis = 0; axis < 3; axis++) down[axis] = path[3 * i + axis];
    down[1] -= near / 10;
    if (gap - gapTo(prop, world, i, down, 0) < (leastUp * near) / 10) continue;
    heights ??= floats(count).fill(Number.POSITIVE_INFINITY);
    heights[i] = gap;
  }
  if (heights === null) return null;
  const { frames } = gridOf(study);
  const { indexOf, ids } = rigOf(study);
  const holds = headerOf(study).props?.find(({ node }) => node === ids[prop.node])?.heldBy ?? [];
  for (const { node, frames: held } of holds) {
    if (figureOfNode(study, indexOf.get(node) ?? -1) !== figure) continue;
    for (let i = 0; i < count; i++)
      if (frames[i] >= held[0] && frames[i] <= held[1]) heights[i] = Number.POSITIVE_INFINITY;
  }
  return heights;
}

/** How far a prop's shapes reach from its node, metres. */
function radiusOf({ shapes }: Prop): number {
  let most = 0;
  for (const shape of shapes) {
    if (shape.kind === "capsule")
      most = Math.max(most, shape.radius + Math.max(Math.hypot(...shape.from), Math.hypot(...shape.to)));
    else {
      const half = shape.kind === "box" ? Math.hypot(...shape.size) / 2 : shape.radius;
      most = Math.max(most, half + Math.hypot(...(shape.centre ?? [0])));
    }
  }
  return most;
}

/** A path as it is seen upon a thing that moves, metres. */
function pathUpon({ position, orientation }: World, path: Float64Array): Float64Array {
  const own = floats(path.length);
  for (let i = 0; i < path.length / 3; i++) {
    conjugateInto(orientation, 4 * i, back, 0);
    for (let axis = 0; axis < 3; axis++) point[axis] = path[3 * i + axis] - position[3 * i + axis];
    rotateVector(back, 0, point, 0, own, 3 * i);
  }
  return own;
}
