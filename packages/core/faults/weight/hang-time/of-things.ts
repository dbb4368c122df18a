import { standardGravity } from "../../../base/constants.ts";
import type { Study } from "../../../base/study.ts";
import { fitParabola } from "../../../motion/body/parabola.ts";
import { worldOf } from "../../../rig/pose.ts";
import { gridOf } from "../../../time/grid.ts";
import { type ThingFlight, thingFlightsOf } from "../../shared/things/flights.ts";
import { causeOr } from "../shared/cause-or.ts";
import type { HangTimeFinding } from "./finding.ts";

/** Slower than this nothing falls in air, in g: the thing goes as if on a wire, and no number of frames makes that a fall. */
const leastFall = 0.1;

/** Settings in working units, and the sources of their limits. */
interface Limits {
  readonly thing: number;
  readonly drift: number;
  readonly floor: number;
  readonly frames: number;
}
type Sources = { readonly [name in "tolerance" | "thing" | "drift"]: { readonly source: string } };

/**
 * What the flights of the things say that a figure lets go of or takes.
 * @param tolerance times gravity that a fall may be off; Infinity where no scale is known
 */
export function thingFindings(
  study: Study,
  figure: number,
  limits: Limits,
  tolerance: number,
  sources: Sources,
): HangTimeFinding[] {
  return thingFlightsOf(study)
    .filter((flight) => flight.figure === figure)
    .flatMap((flight) => {
      const height =
        gravityOfThing(study, flight, tolerance, limits.frames, sources.tolerance.source) ??
        shapeOfThing(study, flight, limits, sources.thing.source);
      const course = courseOfThing(study, flight, limits, sources.drift.source);
      return [height, course].filter((finding) => finding !== null);
    });
}

/** Where it is. Of strings and of the air, which carry things as they carry no body, nothing is known: it is minor at most. */
function placeOf({ thing, figure, from, to }: ThingFlight) {
  return { node: thing, figure, from, to, ceiling: "minor" as const };
}

function gravityOfThing(
  study: Study,
  flight: ThingFlight,
  tolerance: number,
  frames: number,
  source: string,
): HangTimeFinding | null {
  const { thing, from, to, gravity } = flight;
  const { dt, rate } = gridOf(study);
  const time = (to - from) * dt;
  const fall = Math.max(leastFall * standardGravity, gravity);
  const ratio = Math.max(fall / standardGravity, standardGravity / fall);
  const change = time * rate * Math.abs(Math.sqrt(fall / standardGravity) - 1);
  if (!(ratio > tolerance) || change < frames) return null;
  /** Height over which the flight and a fall under gravity come apart half way, metres. */
  const apart = (fitted: number) => (Math.abs(fitted - standardGravity) * time * time) / 8;
  const strength = (series: Float64Array) =>
    apart(fitParabola(series, 0, to - from, dt)?.gravity ?? standardGravity);
  return {
    ...placeOf(flight),
    measured: { quantity: "gravity of the flight", value: gravity, unit: "m/s^2" },
    expected: {
      min: standardGravity / tolerance,
      max: standardGravity * tolerance,
      unit: "m/s^2",
      source,
    },
    excess: ratio / tolerance,
    size: apart(gravity),
    numbers: {
      fall: gravity / standardGravity,
      rise: (standardGravity * time * time) / 8,
      middle: (from + to) / 2,
    },
    fault: heightCause(study, thing, from, to, strength),
    evidence: [heightEvidence(study, flight)],
  };
}

function shapeOfThing(
  study: Study,
  flight: ThingFlight,
  { thing: share, floor }: Limits,
  source: string,
): HangTimeFinding | null {
  const { thing, from, to, gravity, residual } = flight;
  const { dt } = gridOf(study);
  const time = (to - from) * dt;
  const limit = Math.max(floor, (share * gravity * time * time) / 8);
  if (!(residual > limit)) return null;
  const { position } = worldOf(study, thing);
  const fit = fitParabola(position, from, to, dt);
  if (fit === null) return null;
  let [off, at] = [0, from];
  for (let i = from; i <= to; i++) {
    const t = (i - fit.middle) * dt;
    const stray = position[3 * i + 1] - (fit.height + fit.speed * t - 0.5 * fit.gravity * t * t);
    if (Math.abs(stray) > Math.abs(off)) [off, at] = [stray, i];
  }
  const strength = (series: Float64Array) => fitParabola(series, 0, to - from, dt)?.residual ?? 0;
  return {
    ...placeOf(flight),
    measured: { quantity: "stray from a parabola (root mean square)", value: residual, unit: "m" },
    expected: { max: limit, unit: "m", source },
    excess: residual / limit,
    size: Math.abs(off),
    numbers: { off, at, isThing: true },
    fault: heightCause(study, thing, from, to, strength),
    evidence: [heightEvidence(study, flight)],
  };
}

function courseOfThing(
  study: Study,
  flight: ThingFlight,
  { drift: limit, floor }: Limits,
  source: string,
): HangTimeFinding | null {
  const { thing, from, to, drift } = flight;
  const { dt } = gridOf(study);
  const time = (to - from) * dt;
  const bow = (drift * time * time) / 8;
  // Root mean square of a parabola's distance to its own best line is its height times √(4/45).
  if (!(drift > limit) || !(bow * Math.sqrt(4 / 45) > floor)) return null;
  const path = worldOf(study, thing).position;
  const way = Math.hypot(path[3 * to] - path[3 * from], path[3 * to + 2] - path[3 * from + 2]);
  const strength = (series: Float64Array) => {
    const x = fitParabola(series, 0, to - from, dt, 3, 0)?.gravity ?? 0;
    const z = fitParabola(series, 0, to - from, dt, 3, 2)?.gravity ?? 0;
    return Math.hypot(x, z);
  };
  return {
    ...placeOf(flight),
    measured: { quantity: "horizontal acceleration in the air", value: drift, unit: "m/s^2" },
    expected: { max: limit, unit: "m/s^2", source },
    excess: drift / limit,
    size: bow,
    numbers: { change: drift * time, step: way / (to - from), isThing: true },
    fault: causeOr(
      study,
      { kind: "position", subject: thing, lo: from, hi: to, from, to, strength },
      [thing],
      from,
      to,
    ),
  };
}

function heightCause(
  study: Study,
  thing: number,
  from: number,
  to: number,
  strength: (series: Float64Array) => number,
) {
  const fault = { kind: "position" as const, subject: thing, lo: from, hi: to, from, to, strength };
  return causeOr(study, fault, [thing], from, to, "height");
}

function heightEvidence(study: Study, { thing, from, to }: ThingFlight) {
  const { frames, step } = gridOf(study);
  const { position } = worldOf(study, thing);
  const values: number[] = [];
  for (let i = from; i <= to; i++) values.push(position[3 * i + 1]);
  return { label: "height", unit: "m", firstFrame: frames[from], step, values } as const;
}
