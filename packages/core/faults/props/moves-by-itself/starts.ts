import { type Study, shotMeasure } from "../../../base/study.ts";
import { distanceBetween } from "../../../base/vector.ts";
import { headerOf } from "../../../document/inputs.ts";
import { heightAt, mediumLevelsOf } from "../../../motion/ground/surface.ts";
import { gripsOf, placesIn } from "../../../motion/parts/grips.ts";
import { cutsOf, isCutBetween } from "../../../motion/path/cuts.ts";
import { figureOfNode, figuresOf, statureOf } from "../../../rig/body.ts";
import { limbsOf } from "../../../rig/limb.ts";
import { worldOf } from "../../../rig/pose.ts";
import { gapTo } from "../../../rig/prop-shape.ts";
import { type Prop, propsOf } from "../../../rig/props.ts";
import { rigOf } from "../../../rig/rig.ts";
import { handThickness } from "../../../staging/flesh.ts";
import { pathsOf, solidsOf } from "../../../staging/solids.ts";
import { gridOf, sampleAt } from "../../../time/grid.ts";
import { byBody, byThing, touchedAt } from "../../shared/things/touched.ts";

/** A thing that gets going with nobody at it, or much faster, and that somebody comes to while it moves. */
export interface Start {
  readonly thing: number;
  /** Figure that comes to it. */
  readonly figure: number;
  /** Last sample at which it rests or a body is at it, first one at which the figure is at it, and last one of its move. */
  readonly at: number;
  readonly touched: number;
  readonly to: number;
  /** Metres that it has moved by then, at its point that moves most. */
  readonly way: number;
  /** Whether a body has let go of it before: it gets faster then. */
  readonly isLeft: boolean;
}

/** A thing that keeps its place to within this for as long rests, body heights and seconds: as for all things. */
const restShare = 0.001;
const restTime = 0.25;
/** It has to be moved by so much, body heights: as for holds. */
const movedShare = 0.02;
/** What sinks by so much of its way falls, rolls or swings down by itself: wheels roll on a slope of three degrees (our choice). */
const sinks = 0.05;
/** Nearer than this, body heights, another thing that moves is at it: as flesh is. */
const near = 2 * handThickness;
/** A hand within this of it may hold it where no shape shows, body heights: as for holds. */
const reach = 0.25;
/** Share of the thing's way that it may shift in a hand that takes it along from the start (our choice). */
const shifts = 0.5;
/** Two moments that are no farther apart are one: two frames at 24 per second, seconds. */
const together = 1 / 12;
/**
 * A thing that gets so many times as fast as it was left has been pushed anew: naive viewers notice a change of speed of
 * 18 % (Scientific Reports 2017, 7:15379, abstract).
 */
const faster = 1.18;
/** Who comes to it later than this is not late: the two have nothing to do with each other (our choice), seconds. */
const longest = 1;

/** The starts of all things by themselves, in the order of the things. */
export const startsOf = shotMeasure<readonly Start[]>(
  "starts of things",
  (study) => {
    if (figuresOf(study).length === 0) return [];
    return propsOf(study).flatMap((prop) => {
      const up = rigOf(study).parent[prop.node];
      if (prop.shapes.length === 0 || worldOf(study, prop.node).still) return [];
      if (up >= 0 && !worldOf(study, up).still) return [];
      return startsOfThing(study, prop);
    });
  },
  (a, b) =>
    a.length === b.length &&
    a.every(
      (start, i) =>
        start.thing === b[i].thing &&
        start.figure === b[i].figure &&
        start.at === b[i].at &&
        start.touched === b[i].touched &&
        start.to === b[i].to &&
        start.way === b[i].way &&
        start.isLeft === b[i].isLeft,
    ),
);

/** A thing's outside, and where that was. */
interface Hull {
  readonly prop: Prop;
  readonly points: readonly { readonly path: Float64Array; readonly radius: number }[];
  readonly stature: number;
}

function startsOfThing(study: Study, prop: Prop): Start[] {
  const { count, rate } = gridOf(study);
  const stature = Math.max(...figuresOf(study).map((_, figure) => statureOf(study, figure)));
  const hull: Hull = { prop, points: hullOf(study, prop.node), stature };
  const rest = Math.max(2, Math.round(restTime * rate));
  const found: Start[] = [];
  for (let from = 0; from < count; ) {
    let at = from;
    while (at + 1 < count && wayBetween(hull, from, at + 1) <= restShare * stature) at++;
    const rests = at - from >= rest;
    from = at + 1;
    if (!rests || from >= count) continue;
    const to = endOfMove(hull, at, count, rest);
    const start = startIn(study, hull, at, to);
    if (start !== null) found.push(start);
    from = to;
  }
  return found;
}

/** The first stretch of a move in which a thing gets going, or gets much faster, with nobody at it. */
function startIn(study: Study, hull: Hull, at: number, to: number): Start | null {
  const { rate } = gridOf(study);
  const touched = touchedAt(study, hull.prop.node);
  const rest = Math.max(2, Math.round(restTime * rate));
  let isFree = true;
  for (let i = Math.max(0, at - rest); i <= at; i++) if (touched[i] === byBody) isFree = false;
  const start = isFree ? startAt(study, hull, at, to, -1) : null;
  if (start !== null) return start;
  for (let i = at + 1; i < to; i++) {
    if (touched[i] !== byBody || touched[i + 1] === byBody) continue;
    const fastest = fastestAfter(hull, touched, i, to, rate);
    const again = fastest < 0 ? null : startAt(study, hull, i, to, fastest);
    if (again !== null) return again;
  }
  return null;
}

/**
 * The sample at which a thing that a body has let go of is fastest, where it lies on something or hangs on it and gets faster
 * with nobody at it; −1 where it does not.
 */
function fastestAfter(hull: Hull, touched: Uint8Array, left: number, to: number, rate: number): number {
  const late = left + Math.max(1, Math.round(together * rate));
  let [own, most, farther, fastest] = [0, 0, 0, -1];
  for (let i = left; i < to && (i <= left || touched[i] === byThing); i++) {
    const step = wayBetween(hull, i, i + 1);
    if (i < late) own = Math.max(own, step);
    else farther += Math.max(0, step - own);
    if (i >= late && step > most) [most, fastest] = [step, i + 1];
  }
  return most > faster * own && farther > movedShare * hull.stature ? fastest : -1;
}

/** Where a thing that moves from a sample on rests again, or the shot ends. */
function endOfMove(hull: Hull, at: number, count: number, rest: number): number {
  for (let i = at + 1; i + rest < count; i++) {
    let to = i;
    while (to < i + rest && wayBetween(hull, i, to + 1) <= restShare * hull.stature) to++;
    if (to === i + rest) return i;
  }
  return count - 1;
}

/** @param fastest sample at which a thing is fastest that a body has let go of; −1 for one that rests */
function startAt(study: Study, hull: Hull, at: number, to: number, fastest: number): Start | null {
  const { rate } = gridOf(study);
  const { prop, stature } = hull;
  const thing = prop.node;
  const touched = touchedAt(study, thing);
  let gone = at + 1;
  while (gone < to && wayBetween(hull, at, gone) <= movedShare * stature) gone++;
  if (wayBetween(hull, at, gone) <= movedShare * stature) return null;
  if (isCutBetween(cutsOf(study, thing), at, gone)) return null;
  if (fallsFrom(hull, at, gone) || isWet(study, hull, at)) return null;
  if (isTakenAlong(study, hull, at, fastest < 0 ? gone : fastest) || isPushed(study, hull, at, gone))
    return null;
  const latest = Math.min(to, at + Math.round(longest * rate));
  let first = at + 1;
  while (first <= latest && touched[first] !== byBody) first++;
  const said = saidTouch(study, thing, at, latest);
  if (said === null && first > latest) return null;
  const when = Math.min(first, said?.from ?? first);
  const figure = said !== null && said.from <= first ? said.figure : nearestFigure(study, hull, first);
  return { thing, figure, at, touched: when, to, way: wayBetween(hull, at, when), isLeft: fastest >= 0 };
}

/** The first touch of a body after a sample, as the document says it. */
function saidTouch(
  study: Study,
  thing: number,
  at: number,
  latest: number,
): { readonly figure: number; readonly from: number } | null {
  const { indexOf, ids } = rigOf(study);
  const grid = gridOf(study);
  const said = (headerOf(study).contacts ?? [])
    .filter(({ with: on }) => on === ids[thing])
    .flatMap(({ node, frames }) => {
      const hand = indexOf.get(node);
      const figure = hand === undefined ? -1 : figureOfNode(study, hand);
      return figure < 0 ? [] : [{ figure, from: sampleAt(grid, frames[0]), to: sampleAt(grid, frames[1]) }];
    });
  const held = gripsOf(study).filter((grip) => grip.declared && grip.thing === thing);
  const first = [...said, ...held].filter(({ to }) => to > at).sort((a, b) => a.from - b.from)[0];
  if (first === undefined || first.from > latest) return null;
  return { figure: first.figure, from: Math.max(at, first.from) };
}

/** Farthest that a point of a thing is at a sample from where it was at another, metres. */
function wayBetween({ points }: Hull, from: number, to: number): number {
  let way = 0;
  for (const { path } of points) way = Math.max(way, distanceBetween(path, from, path, to));
  return way;
}

function hullOf(study: Study, node: number): Hull["points"] {
  return solidsOf(study)
    .filter((solid) => solid.node === node && "shape" in solid.of)
    .flatMap((solid) => pathsOf(study, solid).map((path) => ({ path, radius: solid.radius })));
}

/** Whether a thing goes down from the start. */
function fallsFrom(hull: Hull, from: number, to: number): boolean {
  let rise = 0;
  for (const { path } of hull.points) rise += (path[3 * to + 1] - path[3 * from + 1]) / hull.points.length;
  return rise < -sinks * wayBetween(hull, from, to);
}

/** Whether any of a thing is in water, which may carry it along. */
function isWet(study: Study, { points }: Hull, i: number): boolean {
  return mediumLevelsOf(study).some((level) =>
    points.some(({ path, radius }) => heightAt(level, path, i) < radius),
  );
}

/** Whether a hand goes along with a thing from the start, as one that has it by a handle. */
function isTakenAlong(study: Study, hull: Hull, at: number, gone: number): boolean {
  const thing = worldOf(study, hull.prop.node);
  return figuresOf(study).some((_, figure) =>
    limbsOf(study, figure).some(({ end }) => {
      const { position } = worldOf(study, end);
      if (!(gapTo(hull.prop, thing, at, position, at) < reach * hull.stature)) return false;
      const own = placesIn(thing, worldOf(study, end));
      const way = distanceBetween(position, at, position, gone);
      return way > restShare * hull.stature && distanceBetween(own, at, own, gone) < shifts * way;
    }),
  );
}

/** Whether something else that moves is at a thing as it starts. */
function isPushed(study: Study, hull: Hull, at: number, gone: number): boolean {
  const close = near * hull.stature;
  const world = worldOf(study, hull.prop.node);
  return propsOf(study).some((other) => {
    const mover = worldOf(study, other.node);
    if (other.node === hull.prop.node || mover.still) return false;
    const points =
      other.shapes.length > 0 ? hullOf(study, other.node) : [{ path: mover.position, radius: 0 }];
    // What has no shape reaches as far as a hand does from where it holds it.
    const far = other.shapes.length > 0 ? close : reach * hull.stature;
    if (points.every(({ path }) => distanceBetween(path, at, path, gone) === 0)) return false;
    for (let i = at; i <= gone; i++) {
      for (const { path, radius } of points)
        if (gapTo(hull.prop, world, i, path, i) - radius < far) return true;
      for (const { path, radius } of hull.points)
        if (gapTo(other, mover, i, path, i) - radius < close) return true;
    }
    return false;
  });
}

/** The figure with a node nearest to a thing's outside at a sample. */
function nearestFigure(study: Study, { prop }: Hull, i: number): number {
  const world = worldOf(study, prop.node);
  let [nearest, best] = [Number.POSITIVE_INFINITY, 0];
  figuresOf(study).forEach(({ nodes }, figure) => {
    for (const node of nodes) {
      const gap = gapTo(prop, world, i, worldOf(study, node).position, i);
      if (gap < nearest) [nearest, best] = [gap, figure];
    }
  });
  return best;
}
