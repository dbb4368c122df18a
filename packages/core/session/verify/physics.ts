import { referenceRate, standardGravity } from "../../base/constants.ts";
import { numbersInWords } from "../../base/number-words.ts";
import { distanceBetween, lengthOf } from "../../base/vector.ts";
import { thingFlightsOf } from "../../faults/shared/things/flights.ts";
import { flightsOf } from "../../motion/body/flight.ts";
import { limbOfFoot } from "../../motion/ground/all-limbs.ts";
import { groundOf } from "../../motion/ground/contact.ts";
import { footPointsOf } from "../../motion/ground/feet.ts";
import { soleHeights } from "../../motion/ground/sole-heights.ts";
import { heightsOver } from "../../motion/ground/surface.ts";
import { nodeNameOf } from "../../notes/wording.ts";
import { figureOfNode, statureOf } from "../../rig/body.ts";
import { rigOf } from "../../rig/rig.ts";
import { scaleOf } from "../../rig/stature.ts";
import { gridOf, sampleAt } from "../../time/grid.ts";
import type { Span } from "../../time/span.ts";
import type { Law, Made, Stance } from "./law.ts";
import { ownRest } from "./stances.ts";

/** A flight that is made to fall is to fall as bodies do, within a twentieth: less than an attentive viewer notices. */
const gravityTolerance = 0.05;
/** What is made to stand is to touch, within 3 mm of a person of 1.7 m. */
const contactShare = 0.003 / 1.7;

/** Frames (at 24 per second) for which a foot that stands is still at least: fewer are the moment in which it turns (our choice). */
const standFrames = 4;

/** A foot is in the same place within this many body heights: 3 cm of a person, a shuffle. */
const sameShare = 0.02;

/** What a note of a physical law is fixed by meets the law itself, not only the threshold of its check. */
export const meetsItsLaw: Law = (made) => {
  switch (made.note.check) {
    case "hang-time":
      return falls(made);
    case "through-ground":
      return touches(made);
    case "off-ground":
      return standsLevel(made);
    case "contact-slide":
      return stands(made);
    default:
      return null;
  }
};

function falls({ study, figure, note }: Made): string | null {
  const from = scaleOf(study).from;
  if (figure < 0 || note.measured.quantity !== "gravity of the flight") return null;
  if (from === "nothing" || from === "assumed size" || from === "assumed stature") return null;
  const grid = gridOf(study);
  const [first, last] = note.frames.map((frame) => sampleAt(grid, frame));
  const node = rigOf(study).indexOf.get(note.node ?? "") ?? -1;
  const isThing = figureOfNode(study, node) < 0 && node >= 0;
  const flights = isThing
    ? thingFlightsOf(study).filter(({ thing }) => thing === node)
    : flightsOf(study, figure);
  const flight = flights.find((one) => one.from <= last && one.to >= first);
  if (flight === undefined)
    return isThing ? "the thing would no longer fly" : "the body would no longer leave the ground";
  const ratio = flight.gravity / standardGravity;
  if (Math.abs(ratio - 1) <= gravityTolerance) return null;
  return `the body would still fall at ${numbersInWords.times(ratio)} gravity`;
}

function touches({ study, figure, note }: Made): string | null {
  const node = rigOf(study).indexOf.get(note.node ?? "");
  if (figure < 0 || node === undefined) return null;
  const foot = soleHeights(study, figure, groundOf(study)).find(
    ({ ankle, points }) => ankle === node || points.some((point) => point.node === node),
  );
  if (foot === undefined) return null;
  const grid = gridOf(study);
  const [first, last] = note.frames.map((frame) => sampleAt(grid, frame));
  const limit = contactShare * statureOf(study, figure);
  for (let i = first; i <= last; i++) {
    const lowest = Math.min(...foot.points.map(({ height }) => height[i]));
    if (lowest >= -limit) continue;
    return `the ${nodeNameOf(study, node)} would still be ${numbersInWords.length(-lowest)} under the ground at frame ${grid.frames[i]}`;
  }
  return null;
}

/** A foot that is brought down stands no lower than any of its kind stands elsewhere, unless it did so before. */
function standsLevel({ study, figure, note, before, after }: Made): string | null {
  const node = rigOf(study).indexOf.get(note.node ?? "");
  if (figure < 0 || node === undefined) return null;
  const feet = footPointsOf(study, figure);
  const own = feet.find((foot) => foot.node === node);
  if (own === undefined) return null;
  const grid = gridOf(study);
  const [first, last] = note.frames.map((frame) => sampleAt(grid, frame));
  const middle = (first + last) >> 1;
  const ground = groundOf(study);
  const like = new Set(feet.flatMap((foot) => (foot.point === own.point ? [foot.node] : [])));
  const isNoted = (stance: Stance) => stance.node === node && stance.from <= last && stance.to >= first;
  const lowestIn = (path: Float64Array, from: number, to: number) =>
    heightsOver(ground, path)
      .subarray(from, to + 1)
      .reduce((low, height) => Math.min(low, height), Number.POSITIVE_INFINITY);
  const limit = contactShare * statureOf(study, figure);
  const [old, now] = [before.worlds[node].position, after[node].position];
  // A foot that stands in one place twice stands there at one height: it is brought down both times, or not at all.
  for (const { points, from, to } of before.soles) {
    const isOwn = points.some((point) => point.node === node) && (to < first || from > last);
    const there = to < first ? to : from;
    const way = [0, 1, 2].map((k) => old[3 * there + k] - old[3 * middle + k]);
    if (!isOwn || lengthOf(way[0], way[1], way[2]) > sameShare * statureOf(study, figure)) continue;
    const lowerIn = (path: Float64Array) => {
      const height = heightsOver(ground, path);
      return height[there] - height[middle];
    };
    const lower = lowerIn(now);
    if (Math.abs(lowerIn(old)) > limit || lower <= limit) continue;
    return `the ${nodeNameOf(study, node)} would stand ${numbersInWords.length(lower)} lower than in the same place at frame ${grid.frames[there]}`;
  }
  let lowest = Number.POSITIVE_INFINITY;
  for (const stance of before.stances) {
    if (!stance.touches || !like.has(stance.node) || isNoted(stance)) continue;
    lowest = Math.min(lowest, lowestIn(before.worlds[stance.node].position, stance.from, stance.to));
  }
  const under = lowest - lowestIn(after[node].position, first, last);
  const wasUnder = lowest - lowestIn(before.worlds[node].position, first, last);
  if (!(under > limit) || wasUnder > limit || lowest === Number.POSITIVE_INFINITY) return null;
  return `the ${nodeNameOf(study, node)} would stand ${numbersInWords.length(under)} lower than feet stand elsewhere`;
}

/** A foot that is held stands: its heel, or its ball where it rolls. How it comes down, or peels off, is no slide. */
function stands(made: Made): string | null {
  const { study, figure, note, after } = made;
  const node = rigOf(study).indexOf.get(note.node ?? "");
  if (figure < 0 || node === undefined) return null;
  const limb = limbOfFoot(study, figure, node);
  const points = limb === null ? [node] : [limb.end, limb.ball].filter((point) => point >= 0);
  const grid = gridOf(study);
  const [nx, ny, nz] = groundOf(study).normal;
  const wayAlong = (path: Float64Array, a: number, b: number) => {
    const v = [0, 1, 2].map((k) => path[3 * b + k] - path[3 * a + k]);
    const out = v[0] * nx + v[1] * ny + v[2] * nz;
    return lengthOf(v[0] - out * nx, v[1] - out * ny, v[2] - out * nz);
  };
  const [first, last] = note.frames.map((frame) => sampleAt(grid, frame));
  const ways = points.map((point) => {
    const { position } = after[point];
    let most = 0;
    for (let i = first + 1; i <= last; i++) most = Math.max(most, wayAlong(position, first, i));
    return most;
  });
  const way = Math.min(...ways);
  if (way <= contactShare * statureOf(study, figure)) return leavesItsPlace(made, node);
  return `the ${nodeNameOf(study, node)} would still slide by ${numbersInWords.length(way)}`;
}

/**
 * A foot that stood still before it slid, and for most of its rest, stays in that place: what left it comes back to it. One
 * that slides as it comes stands where it came down.
 */
function leavesItsPlace({ study, figure, note, before, after }: Made, node: number): string | null {
  const rest = ownRest(study, note, figure, before);
  if (rest === null) return null;
  const [old, now] = [before.worlds[node].position, after[node].position];
  const limit = contactShare * statureOf(study, figure);
  const still = longestStill(old, rest, limit);
  const length = still.to - still.from + 1;
  const isStand = length >= (standFrames * gridOf(study).rate) / referenceRate;
  const isFirst = still.from < sampleAt(gridOf(study), note.frames[0]);
  if (!isFirst || !isStand || 2 * length < rest.to - rest.from + 1) return null;
  const middle = (still.from + still.to) >> 1;
  const way = distanceBetween(old, middle, now, middle);
  if (way <= limit) return null;
  const { frames } = gridOf(study);
  return `the ${nodeNameOf(study, node)} would stand ${numbersInWords.length(way)} beside where it stands over frames ${frames[still.from]} to ${frames[still.to]}`;
}

/** The longest stretch of samples in which a point stays within so much of where the stretch begins, metres. */
function longestStill(path: Float64Array, { from, to }: Span, limit: number): Span {
  let best: Span = { from, to: from };
  for (let start = from, i = from; i <= to; i++) {
    if (distanceBetween(path, start, path, i) > limit) start = i;
    if (i - start > best.to - best.from) best = { from: start, to: i };
  }
  return best;
}
