import { excused } from "../../../base/excuse.ts";
import { angleBetween } from "../../../base/quaternion.ts";
import type { Study } from "../../../base/study.ts";
import { distanceBetween } from "../../../base/vector.ts";
import { nodeContactAt } from "../../../motion/ground/contact.ts";
import { footPointsOf } from "../../../motion/ground/feet.ts";
import { gripsOf } from "../../../motion/parts/grips.ts";
import { cutsOf } from "../../../motion/path/cuts.ts";
import { type Limb, limbReachAt, limbsOf } from "../../../rig/limb.ts";
import { limbCarrierOf } from "../../../rig/limb-carrier.ts";
import { worldOf } from "../../../rig/pose.ts";
import { isAbove, rigOf } from "../../../rig/rig.ts";
import { isReachedAt } from "../../../settings/stage.ts";
import { gridOf } from "../../../time/grid.ts";

/** A blow or a throw between two poses of step keys, with what goes back before it. */
export interface Strike {
  readonly arm: Limb;
  /** What carries the arm: the chest. */
  readonly carrier: number;
  /** First sample that is looked at before it, and the sample at which the arm is out. */
  readonly from: number;
  readonly at: number;
  /** Metres that the hand goes, and that it has gone back before, within the second before. */
  readonly way: number;
  readonly back: number;
}

export interface StrikeValues {
  /** Least way of the hand from pose to pose, metres. */
  readonly blow: number;
  /** Least way back of the hand, or of its shoulder, as a share of the way that it goes then. */
  readonly windUp: number;
}

/** Least share of its length to which an arm is out in a blow, and least share by which it has grown (our choice). */
const out = 0.85;
const grown = 0.25;
/** Least turn of the chest with a blow, radians: 30°, more than one turns to point at something (our choice). */
const turned = Math.PI / 6;
/** Seconds before a blow in which its wind-up is looked for, and that have to be in the shot. */
const looked = 1;
const shown = 0.45;

/** Blows and throws of a figure from pose to pose of step keys before which nothing goes back. */
export function suddenStrikes(study: Study, figure: number, values: StrikeValues): Strike[] {
  const rig = rigOf(study);
  const feet = footPointsOf(study, figure);
  return limbsOf(study, figure).flatMap((arm) => {
    const carrier = limbCarrierOf(study, arm.end);
    const isWalkedOn = feet.some(({ node }) => isAbove(rig, arm.root, node));
    if (arm.kind !== "arm" || carrier < 0 || isWalkedOn) return [];
    return [...cutsOf(study, arm.end)].flatMap((at) => {
      const strike = strikeAt(study, figure, arm, carrier, at, values);
      return strike === null ? [] : [strike];
    });
  });
}

/** The blow to which an arm is cut at a sample; null where it is none, or has its wind-up. */
function strikeAt(
  study: Study,
  figure: number,
  arm: Limb,
  carrier: number,
  at: number,
  values: StrikeValues,
): Strike | null {
  const { dt } = gridOf(study);
  const before = at - 1;
  if (at * dt < shown || isReachedAt(study, "splining", at, at)) return null;
  const { root, end, upper, lower } = arm;
  const hand = worldOf(study, end).position;
  const way = distanceBetween(hand, before, hand, at);
  if (way < values.blow) return null;
  const reach = limbReachAt(study, root, end, at) / (upper + lower);
  if (reach < out || reach - limbReachAt(study, root, end, before) / (upper + lower) < grown) return null;
  const { orientation } = worldOf(study, carrier);
  if (angleBetween(orientation, 4 * before, orientation, 4 * at) < turned) return null;
  const shoulder = worldOf(study, root).position;
  /** How far a point is ahead at sample i of where it is before the blow, along the way of the hand. */
  const ahead = (path: Float64Array, i: number) => alongWay(hand, before, at, path, i, path, before);
  const follows = ahead(shoulder, at);
  if (follows <= 0) return null;
  const from = Math.max(0, at - Math.round(looked / dt));
  let back = 0;
  let shoulderBack = 0;
  for (let i = from; i < before; i++) {
    back = Math.max(back, ahead(hand, i));
    shoulderBack = Math.max(shoulderBack, ahead(shoulder, i));
  }
  if (back >= values.windUp * way || shoulderBack >= values.windUp * follows) return null;
  const excuse = excuseOf(study, figure, arm, at);
  if (excuse !== null) {
    excused(end, from, at, excuse);
    return null;
  }
  return { arm, carrier, from, at, way, back };
}

/** Why an arm may go out with nothing before it; null where nothing says so. */
function excuseOf(study: Study, figure: number, { root, end }: Limb, at: number): string | null {
  const hand = worldOf(study, end).position;
  const shoulder = worldOf(study, root).position;
  if (alongWay(hand, at - 1, at, hand, at - 1, shoulder, at - 1) < 0)
    return "the hand is drawn back behind its shoulder already";
  if (nodeContactAt(study, end)[at] === 1) return "the hand reaches for what it touches";
  const takes = gripsOf(study).some(
    (grip) => grip.figure === figure && grip.hand === end && grip.from >= at - 1 && grip.from <= at + 1,
  );
  return takes ? "the hand reaches for what it takes" : null;
}

/** How far one point is ahead of another along the way of a hand between two samples, metres. */
function alongWay(
  hand: Float64Array,
  before: number,
  at: number,
  path: Float64Array,
  i: number,
  other: Float64Array,
  k: number,
): number {
  const length = distanceBetween(hand, before, hand, at);
  let sum = 0;
  for (let axis = 0; axis < 3; axis++) {
    const way = hand[3 * at + axis] - hand[3 * before + axis];
    sum += way * (path[3 * i + axis] - other[3 * k + axis]);
  }
  return length > 0 ? sum / length : 0;
}
