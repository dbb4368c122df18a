import { standardGravity } from "../../../base/constants.ts";
import type { KeyEdit } from "../../../document/edit.ts";
import { type Flight, flightsOf } from "../../../motion/body/flight.ts";
import { massCentreOf } from "../../../motion/body/mass-centre.ts";
import { hipsOf } from "../../../motion/ground/foot-plant.ts";
import { figuresOf } from "../../../rig/body.ts";
import { worldOf } from "../../../rig/pose.ts";
import { gridOf } from "../../../time/grid.ts";
import type { Subject } from "../../fix.ts";
import { defineFix } from "../../fix.ts";
import { flightWarps } from "../../shared/keying/flight-warp.ts";
import { retimed } from "../../shared/keying/retime.ts";
import { type Track, tracksOf } from "../../shared/keying/track.ts";
import { inFreeFall } from "../../shared/posing/free-fall.ts";
import { shiftedNode } from "../../shared/posing/node-shift.ts";
import { type ThingFlight, thingFlightsOf } from "../../shared/things/flights.ts";
import { hangTime } from "./check.ts";

export const hangTimeFix = defineFix(hangTime, {
  what: "Gives a flight the frames that its heights take, or its heights the parabola that its frames take; lets the body travel evenly in the air. A thing falls under gravity between the ends of its flight.",
  title: ({ frames }) => `let the body fly as it would fall over frames ${frames[0]} to ${frames[1]}`,
  *propose(subject) {
    const { study } = subject;
    const { figure, from, finding } = subject;
    const thing = thingFlightsOf(study).find((one) => one.thing === finding.node && one.from === from);
    if (thing !== undefined) {
      yield thingInFlight(subject, thing, "change" in finding.numbers);
      return;
    }
    const flight = flightsOf(study, figure).find((other) => other.from <= from && other.to >= from);
    if (flight === undefined) return;
    const { numbers } = finding;
    if ("frames" in numbers) {
      const timings = otherTimings(subject, flight, numbers.frames);
      const inPlace = timings.slice(0, -1);
      const movingOn = timings.slice(-1);
      yield* inPlace.map((retiming) => retiming());
      // A jump that would have to become another jump is retimed rather, whatever has to move for it.
      const higher = Math.max(standardGravity / flight.gravity, flight.gravity / standardGravity);
      if (higher <= mostHigher) yield* otherHeights(subject, flight);
      yield* movingOn.map((retiming) => retiming());
      yield* otherHeights(subject, flight);
    } else if ("off" in numbers) yield* otherHeights(subject, flight);
    else if ("change" in numbers) yield evenCourse(subject, flight);
  },
});

/** Up to this factor in height a jump is still the same jump: common practice. */
const mostHigher = 1.5;

/**
 * The whole figure's keys retimed: the flight shorter or longer and what is around it slower or faster; the last one
 * moves all that follows.
 */
function otherTimings({ study, figure }: Subject, flight: Flight, frames: number): (() => KeyEdit[])[] {
  const grid = gridOf(study);
  const { step } = grid;
  const at = (sample: number) => grid.frames[0] + sample * step;
  const end = grid.frames[grid.count - 1];
  const tracks = figuresOf(study)[figure].nodes.flatMap((node) => tracksOf(study, node));
  const landmarks = {
    first: grid.frames[0],
    takeOff: at(flight.takeOff),
    landing: at(flight.landing),
    last: Math.max(end, ...tracks.map(lastKey)),
  };
  return flightWarps(landmarks, frames * step, grid.rate * step).map(
    ({ from, to, warp }) =>
      () =>
        tracks.flatMap((track) => retimed(study, track, { from, to }, warp)),
  );
}

function lastKey({ curve }: Track): number {
  return curve === null ? 0 : curve.frames[curve.frames.length - 1];
}

/** The hips' height so that the centre of mass is on the parabola between take-off and landing. */
function* otherHeights({ study, figure }: Subject, flight: Flight): Generator<KeyEdit[]> {
  const { count } = gridOf(study);
  const [first, last] = [Math.max(0, flight.from - 1), Math.min(count - 1, flight.to + 1)];
  const own = Math.min(1.2, Math.max(0.85, flight.gravity / standardGravity)) * standardGravity;
  for (const gravity of new Set([own, standardGravity]))
    yield inFreeFall(study, figure, first, last, gravity);
}

/** The hips' course so that the centre of mass travels evenly along the ground between take-off and landing. */
function evenCourse({ study, figure }: Subject, flight: Flight): KeyEdit[] {
  const { count } = gridOf(study);
  const path = massCentreOf(study, figure);
  const [first, last] = [Math.max(0, flight.from - 1), Math.min(count - 1, flight.to + 1)];
  const way = new Float64Array(3 * count);
  for (let i = first + 1; i < last; i++) {
    const share = (i - first) / (last - first);
    for (const k of [0, 2]) {
      const even = path[3 * first + k] + share * (path[3 * last + k] - path[3 * first + k]);
      way[3 * i + k] = even - path[3 * i + k];
    }
  }
  return shiftedNode(study, hipsOf(study, figure), { lo: 0, hi: count - 1 }, way);
}

/** A thing's own place on a fall under gravity between the ends of its flight, or on a straight course over the ground. */
function thingInFlight({ study }: Subject, { thing, from, to }: ThingFlight, isCourse: boolean): KeyEdit[] {
  const { count, dt } = gridOf(study);
  const path = worldOf(study, thing).position;
  const [first, last] = [Math.max(0, from - 1), Math.min(count - 1, to + 1)];
  const way = new Float64Array(3 * count);
  for (let i = first + 1; i < last; i++) {
    const share = (i - first) / (last - first);
    const rise = (standardGravity / 2) * (i - first) * (last - i) * dt * dt;
    for (const k of isCourse ? [0, 2] : [1]) {
      const even = path[3 * first + k] + share * (path[3 * last + k] - path[3 * first + k]);
      way[3 * i + k] = even + (isCourse ? 0 : rise) - path[3 * i + k];
    }
  }
  return shiftedNode(study, thing, { lo: 0, hi: count - 1 }, way);
}
