import { conjugate, rotateVector } from "../../base/quaternion.ts";
import { bytes, floats } from "../../base/room.ts";
import { type Study, shotMeasure } from "../../base/study.ts";
import { distanceBetween, type Vector } from "../../base/vector.ts";
import { headerOf } from "../../document/inputs.ts";
import { figureOfNode, figuresOf, statureOf } from "../../rig/body.ts";
import { limbsOf } from "../../rig/limb.ts";
import { worldOf } from "../../rig/pose.ts";
import { gapTo } from "../../rig/prop-shape.ts";
import { lengthShare } from "../../rig/proportions.ts";
import { type Prop, propsOf } from "../../rig/props.ts";
import { isAbove, rigOf } from "../../rig/rig.ts";
import type { World } from "../../rig/world.ts";
import { gridOf, sampleAt } from "../../time/grid.ts";
import type { Span } from "../../time/span.ts";
import { fingerTipsOf, slipBetween } from "./grip-slip.ts";

/**
 * A stretch of samples, both included, in which a hand holds a thing that hangs on something else: the one source of
 * who holds what, and when. Where one ends as that of another hand begins, the thing is handed over.
 */
export interface Grip extends Span {
  readonly hand: number;
  readonly thing: number;
  readonly figure: number;
  /** Whether the document says so; else it is found from motion. */
  readonly declared: boolean;
  /** Whether the document says that the thing is meant to slip along the hand. */
  readonly slides: boolean;
}

/** A thing that stays within this of its place in a hand keeps it, in body heights: less than a finger's breadth. */
export const gripShare = 0.005;
/** It has to move by this much meanwhile, in body heights: a thing that lies beside a resting hand is not held. */
const carriedShare = 0.02;
/** Farthest from the hand's joint that a thing without a shape is held, by its own node, in body heights: half an arm. */
const nearShare = 0.25;
/** Farthest that one is held which keeps its place to within a finger's breadth, in body heights: the bar of a cart. */
const farShare = 1;
export const firmShare = 0.01;
/** Farthest from the hand's joint to the outside of a thing with a shape, in body heights: a hand's length. */
const touchShare = lengthShare.hand;
/** Shortest stretch in which a thing is held, seconds. */
const shortest = 0.25;
/**
 * Quickest that a held thing may shift in its hand, body heights per second: a hand's length in two thirds of a second. Hands
 * reach for things, and let go of them, several times as fast.
 */
const quickest = 0.16;
/** Slower than this, in body heights per second, a hand has come to a thing and has not left it yet: 3 cm in a second. */
const settled = 0.02;
/** A thing that jumps in its hand for so many samples is still held by it, if it stays within a hand's length. */
const longestJump = 3;

/** Where hands hold things: as declared, or where a thing goes with a hand, shifts slowly in it at the most, and is in reach. */
export const gripsOf = shotMeasure<readonly Grip[]>(
  "grips",
  (study) => {
    const props = propsOf(study);
    if (props.length === 0) return [];
    const declared = declaredGrips(study);
    const found = figuresOf(study).flatMap((_, figure) =>
      limbsOf(study, figure)
        .filter(({ kind }) => kind === "arm")
        .flatMap(({ end }) => props.flatMap((prop) => gripsBetween(study, figure, end, prop))),
    );
    const isSaid = (grip: Grip) =>
      declared.some(({ hand, thing }) => hand === grip.hand && thing === grip.thing);
    const grips = [...declared, ...found.filter((grip) => !isSaid(grip))];
    return grips.filter((grip) => grip.declared || !isBeside(study, grip, grips));
  },
  (a, b) => a.length === b.length && a.every((grip, i) => sameGrip(grip, b[i])),
);

function sameGrip(a: Grip, b: Grip): boolean {
  return (
    a.hand === b.hand &&
    a.thing === b.thing &&
    a.figure === b.figure &&
    a.from === b.from &&
    a.to === b.to &&
    a.declared === b.declared &&
    a.slides === b.slides
  );
}

/** What the document says of a hand and a thing stands for all that is found of the two. */
function declaredGrips(study: Study): Grip[] {
  const grid = gridOf(study);
  const { indexOf } = rigOf(study);
  const end = grid.frames[0] + (grid.count - 1) * grid.step;
  return (headerOf(study).props ?? []).flatMap(({ node, heldBy = [] }) =>
    heldBy.flatMap(({ node: by, frames: [first, last], slides = false }) => {
      const thing = indexOf.get(node);
      const hand = indexOf.get(by);
      const figure = hand === undefined ? -1 : figureOfNode(study, hand);
      if (thing === undefined || hand === undefined || figure < 0) return [];
      if (last < grid.frames[0] || first > end) return [];
      const from = sampleAt(grid, first);
      const to = sampleAt(grid, last);
      return [{ hand, thing, figure, from, to, declared: true, slides }];
    }),
  );
}

/** A hand and a thing, whatever of their motion tells whether the one holds the other. */
interface Pair {
  readonly hand: World;
  readonly thing: World;
  /** Finger tips in the hand's space, metres. */
  readonly tip: Vector;
  readonly stature: number;
  /** Samples in which something is held at the least. */
  readonly least: number;
  /** Metres between two samples: shifts of a hand that has come, and the largest of one that holds. */
  readonly slow: number;
  readonly limit: number;
}

function gripsBetween(study: Study, figure: number, hand: number, prop: Prop): Grip[] {
  const thing = prop.node;
  if (isAbove(rigOf(study), hand, thing)) return [];
  const { rate } = gridOf(study);
  const stature = statureOf(study, figure);
  const held = worldOf(study, thing);
  const holding = worldOf(study, hand);
  if (held.still || holding.still) return [];
  const pair: Pair = {
    hand: holding,
    thing: held,
    tip: fingerTipsOf(study, figure, hand),
    stature,
    least: Math.max(3, Math.round(shortest * rate)),
    slow: (settled * stature) / rate,
    limit: (quickest * stature) / rate,
  };
  const isWithin = (share: number) => (i: number) =>
    distanceBetween(held.position, i, holding.position, i) < share * stature;
  const touches = (i: number) => gapTo(prop, held, i, holding.position, i) < touchShare * stature;
  let spans = looseSpans(pair, prop.shapes.length > 0 ? touches : isWithin(nearShare));
  // A handle that no shape shows is held as well: where the thing keeps its place to the hand, it reaches there.
  if (spans.length === 0) spans = joined(pair, firmSpans(pair, isWithin(farShare)));
  return spans.map((span) => ({ hand, thing, figure, ...span, declared: false, slides: false }));
}

/** Where a thing goes with a hand near by, and shifts slowly in it at the most. */
function looseSpans(pair: Pair, isNear: (i: number) => boolean): Span[] {
  const { hand, thing, tip, stature, slow, limit } = pair;
  const count = thing.position.length / 3;
  let first = 0;
  while (first < count && !isNear(first)) first++;
  if (first === count) return [];
  const steps = floats(count);
  for (let i = 1; i < count; i++) steps[i] = slipBetween(hand, thing, tip, i - 1, i);
  const goesAlong = (i: number) => steps[i] < limit && isNear(i);
  const spans: Span[] = [];
  for (let from = first; from < count; from++) {
    if (!isNear(from)) continue;
    let to = from;
    for (let next = from + 1; next < count && next - to <= longestJump + 1; next++) {
      if (!goesAlong(next)) continue;
      // What is beside a hand again after a jump is still held if it was carried before, stayed in reach of the fingers,
      // and moved itself.
      const isJump = next - to > 1;
      if (isJump && wayOf(thing, { from, to }) <= carriedShare * stature) break;
      if (isJump && slipBetween(hand, thing, tip, to, next) > touchShare * stature) break;
      if (isJump && distanceBetween(thing.position, to, thing.position, next) < slow) break;
      to = next;
    }
    const span = settledIn(pair, steps, from, to);
    if (isCarried(pair, span)) spans.push(span);
    from = to;
  }
  return spans;
}

/** Where a thing keeps its place to a hand: as seen from the middle of a stretch, in which the hand surely holds. */
function firmSpans(pair: Pair, isNear: (i: number) => boolean): Span[] {
  const { hand, thing, tip, stature } = pair;
  const count = thing.position.length / 3;
  const keepsPlace = (at: number, i: number, share: number) =>
    slipBetween(hand, thing, tip, at, i) < share * stature;
  const spans: Span[] = [];
  for (let from = 0; from < count; from++) {
    if (!isNear(from)) continue;
    let to = from;
    while (to + 1 < count && keepsPlace(from, to + 1, 2 * firmShare)) to++;
    if (!isCarried(pair, { from, to })) continue;
    const middle = (from + to) >> 1;
    const after = spans.length === 0 ? 0 : spans[spans.length - 1].to + 1;
    let first = middle;
    let last = middle;
    while (first > after && keepsPlace(middle, first - 1, firmShare)) first--;
    while (last + 1 < count && keepsPlace(middle, last + 1, firmShare)) last++;
    if (isCarried(pair, { from: first, to: last })) spans.push({ from: first, to: last });
    from = Math.max(to, last);
  }
  return spans;
}

/** Stretches as one where the thing shifts in the hand between them, as slowly as in one that holds, and goes along. */
function joined({ hand, thing, tip, stature, limit, slow }: Pair, spans: readonly Span[]): Span[] {
  const all: Span[] = [];
  for (const span of spans) {
    const before = all.at(-1);
    const goesOn = (from: number, to: number) => {
      for (let i = from + 1; i <= to; i++) {
        if (slipBetween(hand, thing, tip, i - 1, i) > limit) return false;
        if (distanceBetween(thing.position, i - 1, thing.position, i) < slow) return false;
      }
      return slipBetween(hand, thing, tip, from, to) < touchShare * stature;
    };
    if (before !== undefined && goesOn(before.to, span.from))
      all[all.length - 1] = { from: before.from, to: span.to };
    else all.push(span);
  }
  return all;
}

/** Whether a stretch is long enough, and the thing goes far enough in it, to be a hold. */
function isCarried({ thing, least, stature }: Pair, span: Span): boolean {
  return span.to - span.from >= least && wayOf(thing, span) > carriedShare * stature;
}

/**
 * Whether a hand only goes beside a thing that another one holds: for most of the time that one does, and lets it slip less
 * than half as far.
 */
function isBeside(study: Study, grip: Grip, all: readonly Grip[]): boolean {
  const slip = slipIn(study, grip);
  if (slip <= gripShare * statureOf(study, grip.figure)) return false;
  return all.some((other) => {
    if (other.thing !== grip.thing || other.hand === grip.hand) return false;
    const shared = Math.min(other.to, grip.to) - Math.max(other.from, grip.from);
    return 2 * shared >= grip.to - grip.from && 2 * slipIn(study, other) < slip;
  });
}

/** Farthest that a thing shifts in a hand from where it was taken, metres. */
function slipIn(study: Study, { hand, thing, figure, from, to }: Grip): number {
  const holding = worldOf(study, hand);
  const held = worldOf(study, thing);
  const tip = fingerTipsOf(study, figure, hand);
  let slip = 0;
  for (let i = from; i <= to; i++) slip = Math.max(slip, slipBetween(holding, held, tip, from, i));
  return slip;
}

/** A stretch without the frames in which a hand is still coming to a thing that rests, or leaves it lying. */
function settledIn({ thing, slow }: Pair, steps: Float64Array, first: number, last: number): Span {
  let from = first;
  let to = last;
  const isHandAlone = (i: number) =>
    steps[i] > slow && distanceBetween(thing.position, i - 1, thing.position, i) < 0.25 * steps[i];
  while (from < to && isHandAlone(from + 1)) from++;
  while (to > from && isHandAlone(to)) to--;
  return { from, to };
}

/** Farthest that a thing is from where a hand took it, metres. */
function wayOf({ position }: World, { from, to }: Span): number {
  let way = 0;
  for (let i = from; i <= to; i++) way = Math.max(way, distanceBetween(position, from, position, i));
  return way;
}

/** 1 where both hands hold one thing. */
export function heldByBoth(study: Study, left: number, right: number): Uint8Array {
  const held = bytes(gridOf(study).count);
  const grips = gripsOf(study);
  for (const a of grips) {
    if (a.hand !== left) continue;
    for (const b of grips) {
      if (b.hand !== right || b.thing !== a.thing) continue;
      const from = Math.max(a.from, b.from);
      const to = Math.min(a.to, b.to);
      if (to >= from) held.fill(1, from, to + 1);
    }
  }
  return held;
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

/** Distance between two nodes at each sample, metres. */
export function distances(study: Study, one: number, other: number): Float64Array {
  const a = worldOf(study, one).position;
  const b = worldOf(study, other).position;
  const apart = floats(a.length / 3);
  for (let i = 0; i < apart.length; i++) apart[i] = distanceBetween(a, i, b, i);
  return apart;
}
