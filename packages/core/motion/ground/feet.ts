import { referenceRate } from "../../base/constants.ts";
import { measure, type Study } from "../../base/study.ts";
import { distanceBetween } from "../../base/vector.ts";
import { headerOf } from "../../document/inputs.ts";
import { carrierOf, figuresOf, statureOf } from "../../rig/body.ts";
import { worldOf } from "../../rig/pose.ts";
import { isAbove, rigOf } from "../../rig/rig.ts";
import { verdictOf } from "../../rig/verdict.ts";
import { gridOf } from "../../time/grid.ts";
import { declaredFootPointsOf } from "./declared-soles.ts";
import { levelOf, standingSpeedOf, surfacesOf } from "./foot.ts";
import { type FootPoint, foreFootPointsOf, highestShares, namedFootPointsOf } from "./foot-points.ts";
import { plantsIn } from "./plant.ts";
import { plantLimitsFor, plantShares } from "./plant-limits.ts";
import { highestStandOf, restHeightOver, restStandOf } from "./rest-stand.ts";
import { heightsOver } from "./surface.ts";

/** A point of a foot, and how the foot was found. */
export interface FoundFootPoint extends FootPoint {
  /** Whether the body map or a declared limb names the foot; else it is known by what it does. */
  readonly isNamed: boolean;
}

/**
 * Points of a figure's feet, of any number: those that declared limbs have as soles; those of the feet that the body
 * map names; and every other end of a chain that reaches the floor in the rest pose and rests on a surface again and
 * again (or, on a body that has named feet or over a declared surface, for half of the shot), or keeps its place on it while
 * the body moves over it; the forefeet of a body that stands on four; and the ends of declared legs. An end that never rests is none. A heel that stands as high as a dog's is no point of a foot.
 */
export const footPointsOf = measure(
  "foot points",
  (study, figure: number): readonly FoundFootPoint[] => {
    const rig = rigOf(study);
    const points: FoundFootPoint[] = declaredFootPointsOf(study, figure).map((point) => ({
      ...point,
      isNamed: true,
    }));
    const isTaken = (node: number) =>
      points.some((point) => isAbove(rig, point.foot, node) || isAbove(rig, node, point.foot));
    const named = namedFootPointsOf(rig, figuresOf(study)[figure]);
    const declared = points.length;
    for (const [index, point] of named.entries()) {
      const isOwn = points.slice(declared).some((other) => other.foot === point.foot);
      if (!isOwn && isTaken(point.foot)) continue;
      if (point.point === "heel" && standsOnToes(study, figure, point.node)) continue;
      const heel = named[index - 1];
      const isToes = heel?.foot === point.foot && !points.some(({ node }) => node === heel.node);
      points.push({ ...point, foot: isToes ? point.node : point.foot, isNamed: true });
    }
    for (const node of restStandOf(study, figure)?.ends ?? []) {
      if (isTaken(node) || !restsOften(study, figure, node, points.length > 0)) continue;
      points.push({ node, point: "whole", tip: -1, foot: node, sole: null, isNamed: false });
    }
    // The forefeet of many rigs hang above the floor in the rest pose, where all legs are stretched.
    for (const point of foreFootPointsOf(rig, figuresOf(study)[figure])) {
      if (!isTaken(point.foot)) points.push({ ...point, isNamed: false });
    }
    for (const node of declaredLegEnds(study, figure)) {
      if (!isTaken(node))
        points.push({ node, point: "whole", tip: -1, foot: node, sole: null, isNamed: false });
    }
    return points;
  },
  samePoints,
);

/** Whether a heel is too high over the floor in the rest pose to come down: the body stands on its toes, as a dog does. */
function standsOnToes(study: Study, figure: number, heel: number): boolean {
  const stand = restStandOf(study, figure);
  const at = stand?.points.get(heel);
  return (
    stand !== null && at !== undefined && at[1] - stand.floor > highestShares.ankle * statureOf(study, figure)
  );
}

/**
 * Whether a figure's feet are no more than a guess: nothing is declared of it, and it has arms and a head, and no part that
 * is a foot. What reaches the floor below it may be cloth as well.
 */
export function feetAreGuessed(study: Study, figure: number): boolean {
  const { kind, parts } = figuresOf(study)[figure];
  if (kind !== "human" || parts.has("leftFoot") || parts.has("rightFoot")) return false;
  return verdictOf(study).bodies[figure]?.certainty === "guessed";
}

/** How many feet a figure has. */
export function footCountOf(study: Study, figure: number): number {
  return new Set(footPointsOf(study, figure).map(({ foot }) => foot)).size;
}

/**
 * Share of a figure's weight that rests on one of its feet when it stands on all of them, 0 to 1.
 * @param figure index of the figure, -1 for a thing
 * @returns 0 for what has no feet
 */
export function weightOnFoot(study: Study, figure: number): number {
  const feet = figure < 0 ? 0 : footCountOf(study, figure);
  return feet === 0 ? 0 : 1 / feet;
}

/** The last nodes of declared legs that have no sole of their own. */
function declaredLegEnds(study: Study, figure: number): number[] {
  const { indexOf } = rigOf(study);
  const { id } = figuresOf(study)[figure];
  const limbs = headerOf(study).figures?.find((spec) => spec.id === id)?.limbs ?? [];
  return limbs.flatMap(({ kind, nodes, sole }) =>
    kind === "leg" && sole === undefined ? (indexOf.get(nodes[nodes.length - 1]) ?? []) : [],
  );
}

/** Frames (at 24 per second) for which an end stands still to rest: twice as long as the shortest plant (our choice). */
const restFrames = 4;

/**
 * Body heights by which a body goes while the end of a limb keeps its place: nine centimetres of a grown person, several
 * times as much as one who stands quietly sways (our choice). Nothing but a leg that is solved anew does so.
 */
const movesOver = 0.05;

/**
 * Whether an end of a chain stands still on a surface, goes off, and stands again; or stands there while the body moves
 * over it; or for half of the shot, where there is something else by which the surface is known.
 */
function restsOften(study: Study, figure: number, node: number, hasFeet: boolean): boolean {
  const { rate, count } = gridOf(study);
  const stature = statureOf(study, figure);
  const speed = standingSpeedOf(study, node);
  const still = plantShares.stillSpeed * stature;
  const least = Math.max(2, Math.round((restFrames * rate) / referenceRate));
  const body = worldOf(study, carrierOf(figuresOf(study)[figure])).position;
  for (const surface of surfacesOf(study)) {
    const most = highestStandOf(study, figure, node);
    const rest = restHeightOver(study, figure, node, surface);
    const level = rest === null ? levelOf(study, node, surface, stature) : Math.min(rest, most);
    if (level === null || Math.abs(level) > most) continue;
    const heights = heightsOver(surface, worldOf(study, node).position);
    for (let i = 0; i < count; i++) heights[i] -= level;
    let rests = 0;
    let resting = 0;
    for (const { from, to } of plantsIn(heights, speed, plantLimitsFor(stature, rate))) {
      let stills = 0;
      let way = 0;
      for (let i = from, first = -1; i <= to; i++) {
        if (speed[i] >= still) continue;
        if (first < 0) first = i;
        way = Math.max(way, distanceBetween(body, first, body, i));
        stills++;
      }
      if (stills < least) continue;
      if (way >= movesOver * stature) return true;
      rests++;
      resting += stills;
    }
    if (rests > 1 || ((hasFeet || surface.declared) && 2 * resting >= count)) return true;
  }
  return false;
}

function samePoints(a: readonly FoundFootPoint[], b: readonly FoundFootPoint[]): boolean {
  return (
    a.length === b.length &&
    a.every((point, i) => {
      const other = b[i];
      return (
        point.node === other.node &&
        point.point === other.point &&
        point.tip === other.tip &&
        point.foot === other.foot &&
        point.sole === other.sole &&
        point.isNamed === other.isNamed
      );
    })
  );
}
