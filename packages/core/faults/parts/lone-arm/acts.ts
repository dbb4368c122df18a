import { conjugate, rotated } from "../../../base/quaternion.ts";
import type { Study } from "../../../base/study.ts";
import { dot, minus, plus, pointAt, scaled, type Vector, vectorLength } from "../../../base/vector.ts";
import { gripsOf } from "../../../motion/parts/grips.ts";
import { bodyMassOf, massOf } from "../../../motion/parts/loads.ts";
import { carrierOf, figuresOf } from "../../../rig/body.ts";
import { limbsOf } from "../../../rig/limb.ts";
import { worldOf } from "../../../rig/pose.ts";
import { gridOf } from "../../../time/grid.ts";
import type { Span } from "../../../time/span.ts";
import { comingsOf, comingTo } from "../../shared/comings.ts";
import { thingFlightsOf } from "../../shared/things/flights.ts";
import { handledOf } from "../../shared/things/handled.ts";

/** What an arm does to a thing: it reaches for it, or to where it lets it go; or it throws it. */
export interface Act extends Span {
  readonly hand: number;
  /** First joint of the arm, and the length of its bones, metres. */
  readonly shoulder: number;
  readonly length: number;
  /** Speed at which a thing leaves the hand, m/s, as if it weighed nothing; of a reach 0. */
  readonly launch: number;
}

/** Longest time before a release in which the arm swings forward, seconds (our choice). */
const longestSwing = 1;
/**
 * What an arm has at its hand to bring to speed, as a share of the body's mass: the hand and, by its moment about the elbow,
 * a third of the forearm (de Leva 1996: 0.61 % and 1.62 %).
 */
const ownShare = 0.0061 + 0.0162 / 3;

/** The reaches and throws of a figure's arms. */
export function actsOf(study: Study, figure: number): Act[] {
  const root = carrierOf(figuresOf(study)[figure]);
  const comings = comingsOf(study, figure);
  const handled = handledOf(study);
  const last = gridOf(study).count - 1;
  return limbsOf(study, figure).flatMap((limb): Act[] => {
    if (limb.kind !== "arm") return [];
    const arm = { hand: limb.end, shoulder: limb.root, length: limb.upper + limb.lower };
    const throws = handled.filter(({ hand, isCatch }) => hand === limb.end && !isCatch);
    const gives = gripsOf(study).flatMap((grip) => {
      const isThrown = throws.some(({ thing, from }) => thing === grip.thing && from === grip.from);
      if (grip.hand !== limb.end || isThrown || grip.to >= last) return [];
      return comingTo(study, grip.hand, grip.from, grip.to) ?? [];
    });
    const reaches = [...comings.filter(({ node }) => node === limb.end), ...gives];
    return [
      ...reaches.map(({ from, to }) => ({ ...arm, from, to, launch: 0 })),
      ...throws.flatMap(({ thing, from, at }) => {
        const grip = gripsOf(study).find(
          (one) => one.hand === limb.end && one.thing === thing && one.from === from,
        );
        const to = Math.min(at, grip?.to ?? at);
        const start = startOfSwing(study, limb.end, root, from, to);
        return start === null ? [] : { ...arm, from: start, to, launch: launchOf(study, figure, thing, at) };
      }),
    ];
  });
}

/** Where a hand that throws is farthest back, seen from the hips, along the way on which it lets go; null where it stands. */
function startOfSwing(study: Study, hand: number, root: number, held: number, to: number): number | null {
  const first = Math.max(0, held, to - Math.round(longestSwing * gridOf(study).rate));
  const at = (i: number) => seenFrom(study, hand, root, i);
  if (to <= first) return null;
  const way = minus(at(to), at(to - 1));
  let from = to;
  for (let i = to - 1; i >= first; i--) if (dot(minus(at(i), at(from)), way) < 0) from = i;
  return from < to && vectorLength(minus(at(to), at(from))) > 0 ? from : null;
}

/** Speed of a thing as it leaves the hand, m/s: for a thing that weighs nothing, by the same work on arm and thing. */
function launchOf(study: Study, figure: number, thing: number, at: number): number {
  const { position } = worldOf(study, thing);
  const { rate } = gridOf(study);
  const flight = thingFlightsOf(study).find((one) => one.thing === thing && one.from === at + 1);
  if (flight === undefined) return 0;
  const way = minus(pointAt(position, flight.from + 1), pointAt(position, flight.from));
  const own = ownShare * bodyMassOf(study, figure);
  const mass = massOf(study, thing, Number.NaN);
  return vectorLength(way) * rate * Math.sqrt(1 + (Number.isNaN(mass) ? 0 : mass / own));
}

function seenFrom(study: Study, node: number, from: number, i: number): Vector {
  const place = pointAt(worldOf(study, node).position, i);
  return from < 0 ? place : minus(place, pointAt(worldOf(study, from).position, i));
}

/** How far a hand goes in an act, and how much of that the trunk gives it. */
export interface Carried {
  /** Metres, and the direction as a unit vector. */
  readonly way: number;
  readonly along: Vector;
  /** Metres along that way that a point goes which is fixed to the chest where the hand is at first. */
  readonly given: number;
}

/**
 * How far the trunk takes a hand along.
 * @param by what carries the arm @param from rig index of what the way is seen from; −1 for the world
 * @param within samples in which the trunk may answer
 */
export function carriedIn(
  study: Study,
  { hand, from, to }: Act,
  by: number,
  seen: number,
  within: Span,
): Carried | null {
  const { position, orientation } = worldOf(study, by);
  const start = seenFrom(study, hand, seen, from);
  const whole = minus(seenFrom(study, hand, seen, to), start);
  const way = vectorLength(whole);
  if (!(way > 0)) return null;
  const along = scaled(whole, 1 / way);
  const inChest = rotated(
    conjugate(orientation, 4 * from),
    minus(pointAt(worldOf(study, hand).position, from), pointAt(position, from)),
  );
  let [low, high] = [0, 0];
  for (let i = within.from; i <= within.to; i++) {
    const fixed = plus(pointAt(position, i), rotated(orientation, inChest, 4 * i));
    const place = seen < 0 ? fixed : minus(fixed, pointAt(worldOf(study, seen).position, i));
    const gone = dot(minus(place, start), along);
    low = Math.min(low, gone);
    high = Math.max(high, gone);
  }
  return { way, along, given: high - low };
}
