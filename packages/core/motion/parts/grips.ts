import { conjugate, rotateVector } from "../../base/quaternion.ts";
import { floats } from "../../base/room.ts";
import { type Study, shotMeasure } from "../../base/study.ts";
import { distanceBetween } from "../../base/vector.ts";
import { headerOf } from "../../document/inputs.ts";
import { figureOfNode, figuresOf, statureOf } from "../../rig/body.ts";
import { limbsOf } from "../../rig/limb.ts";
import { worldOf } from "../../rig/pose.ts";
import { isAbove, rigOf } from "../../rig/rig.ts";
import type { World } from "../../rig/world.ts";
import { gridOf } from "../../time/grid.ts";
import type { Span } from "../../time/span.ts";

/** A stretch of samples, both included, in which a hand holds a thing that hangs on something else. */
export interface Grip extends Span {
  readonly hand: number;
  readonly thing: number;
  readonly figure: number;
}

/** A thing that stays within this of its place in a hand is held by it, in body heights: less than a finger's breadth. */
export const gripShare = 0.005;
/** It has to move by this much meanwhile, in body heights: a thing that lies beside a resting hand is not held. */
const carriedShare = 0.02;
/** Farthest from the hand's joint that a thing is held, by its own node, in body heights: an arm's length. */
const nearShare = 0.5;
/** Shortest stretch in which a thing is held, seconds. */
const shortest = 0.25;

/** Where things stay in a hand while both move; things that hang on the hand itself are carried, not held. */
export const gripsOf = shotMeasure<readonly Grip[]>("grips", (study) => {
  const things = thingsOf(study);
  if (things.length === 0) return [];
  return figuresOf(study).flatMap((_, figure) =>
    limbsOf(study, figure)
      .filter(({ kind }) => kind === "arm")
      .flatMap(({ end }) => things.flatMap((thing) => gripsBetween(study, figure, end, thing))),
  );
});

/** Declared things, and nodes without a parent that belong to no body. */
function thingsOf(study: Study): number[] {
  const { parent, indexOf } = rigOf(study);
  const figures = figuresOf(study);
  const things = new Set((headerOf(study).props ?? []).flatMap(({ node }) => indexOf.get(node) ?? []));
  for (let node = 0; node < parent.length; node++) {
    const owner = figureOfNode(study, node);
    if (parent[node] < 0 && (owner < 0 || figures[owner].kind === "other")) things.add(node);
  }
  return [...things];
}

function gripsBetween(study: Study, figure: number, hand: number, thing: number): Grip[] {
  if (isAbove(rigOf(study), hand, thing)) return [];
  const { count, rate } = gridOf(study);
  const stature = statureOf(study, figure);
  const [held, holding] = [worldOf(study, thing), worldOf(study, hand)];
  if (held.still || holding.still) return [];
  const places = placesIn(holding, held);
  const least = Math.max(3, Math.round(shortest * rate));
  const grips: Grip[] = [];
  for (let from = 0; from + least < count; ) {
    let to = from;
    let carried = 0;
    while (to + 1 < count && distanceBetween(places, from, places, to + 1) < gripShare * stature) {
      carried = Math.max(carried, distanceBetween(held.position, from, held.position, ++to));
    }
    const isNear = distanceBetween(held.position, from, holding.position, from) < nearShare * stature;
    if (isNear && to - from >= least && carried > carriedShare * stature) {
      grips.push({ hand, thing, figure, from, to });
      from = to;
    } else from++;
  }
  return grips;
}

/** Where a thing is in a hand's own space, 3 numbers per sample, metres. */
export function placesIn(hand: World, thing: World): Float64Array {
  const places = floats(thing.position.length);
  const back = new Float64Array(4);
  for (let i = 0; 3 * i < places.length; i++) {
    for (let k = 3 * i; k < 3 * i + 3; k++) places[k] = thing.position[k] - hand.position[k];
    back.set(conjugate(hand.orientation, 4 * i));
    rotateVector(back, 0, places, 3 * i, places, 3 * i);
  }
  return places;
}
