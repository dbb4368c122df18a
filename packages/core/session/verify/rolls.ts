import { inRadians } from "../../base/constants.ts";
import { numbersInWords } from "../../base/number-words.ts";
import { conjugate, logBetween, rotated } from "../../base/quaternion.ts";
import {
  cross,
  distanceBetween,
  dot,
  minus,
  plus,
  pointAt,
  scaled,
  type Vector,
  vectorLength,
} from "../../base/vector.ts";
import { groundOf } from "../../motion/ground/contact.ts";
import { footPointsOf } from "../../motion/ground/feet.ts";
import { nodeNameOf } from "../../notes/wording.ts";
import { statureOf } from "../../rig/body.ts";
import type { World } from "../../rig/world.ts";
import { gridOf } from "../../time/grid.ts";
import type { Law, Made, SoleRest } from "./law.ts";
import { passesThrough } from "./shifted.ts";
import { slideShare } from "./stances.ts";

/** A foot that turns by less from one frame to the next does not roll: radians. */
const leastTurn = inRadians(0.1);
/**
 * What a foot rolls over is no farther from its ankle, in body heights: the length of a foot, 0.152, and the height of an ankle,
 * 0.039 (Drillis & Contini 1966).
 */
const footShare = 0.152 + 0.039;

/**
 * A foot of which no sole is known rolls over a place of its own that stands: a change lets it stand. Such a foot is a single
 * joint, and heel or toes that carry it show only in how it turns while its ankle goes.
 */
export const keepsRolls: Law = (made) => {
  const { study, before, after } = made;
  let [worst, found]: [number, SoleRest | null] = [1, null];
  for (const rest of before.soles) {
    const { points, foot, figure, from, until } = rest;
    if (points.length !== 1 || points[0].at !== null || after[foot] === before.worlds[foot]) continue;
    if (!footPointsOf(study, figure).some(({ node }) => node === foot)) continue;
    let more = 0;
    // Onto its heel it comes, and off its toes it goes, as its ankle is on its way.
    for (let i = Math.max(1, from - 1); i <= Math.min(gridOf(study).count - 1, until + 1); i++)
      more += slipAt(made, rest, i);
    const over = more / (slideShare * statureOf(study, figure));
    if (over > worst && !passesThrough(made, foot)) [worst, found] = [over, rest];
  }
  if (found === null) return null;
  const { frames, count } = gridOf(study);
  const way = numbersInWords.length(worst * slideShare * statureOf(study, found.figure));
  const last = frames[Math.min(count - 1, found.until + 1)];
  return `the ${nodeNameOf(study, found.foot)} would slip by ${way} where it rolls, over frames ${frames[found.from - 1]} to ${last}`;
};

/** By how much more the place that a foot rolls over moves to a sample than before, metres; 0 where it does not roll. */
function slipAt({ study, before, after }: Made, { foot, figure }: SoleRest, i: number): number {
  const was = before.worlds[foot];
  const place = rolledOver(was, i, footShare * statureOf(study, figure));
  if (place === null || dot(rotated(was.orientation, place, 4 * (i - 1)), groundOf(study).normal) > 0)
    return 0;
  const [old, now] = [was, after[foot]].map((world) =>
    vectorLength(minus(placeAt(world, place, i), placeAt(world, place, i - 1))),
  );
  return Math.max(0, now - old);
}

/**
 * The place about which a node turns from the sample before to a sample, in its own axes (metres): what of it moves only
 * along the axis of the turn. Null where it does not turn, or about a place farther than so much.
 */
export function rolledOver(
  { position, orientation }: Pick<World, "position" | "orientation">,
  i: number,
  farthest: number,
): Vector | null {
  const a = orientation.slice(4 * i - 4, 4 * i);
  const turn = logBetween(a, orientation.slice(4 * i, 4 * i + 4)) as Vector;
  const angle = vectorLength(turn);
  if (angle < leastTurn || distanceBetween(position, i - 1, position, i) > 2 * farthest) return null;
  const axis = scaled(turn, 1 / angle);
  const way = rotated(conjugate(a, 0), minus(pointAt(position, i), pointAt(position, i - 1)));
  const across = minus(way, scaled(axis, dot(way, axis)));
  // way + (turn − 1) · place = 0, in the plane that the turn is in.
  const place = scaled(plus(across, scaled(cross(axis, across), 1 / Math.tan(0.5 * angle))), 0.5);
  return vectorLength(place) > farthest ? null : place;
}

function placeAt({ position, orientation }: World, place: Vector, i: number): Vector {
  return plus(pointAt(position, i), rotated(orientation, place, 4 * i));
}
