import { standardGravity } from "../../../base/constants.ts";
import { excused } from "../../../base/excuse.ts";
import type { Study } from "../../../base/study.ts";
import { lengthOf } from "../../../base/vector.ts";
import { type Flight, flightsOf } from "../../../motion/body/flight.ts";
import { flightShape } from "../../../motion/body/flight-shape.ts";
import { massCentreOf } from "../../../motion/body/mass-centre.ts";
import { fitParabola } from "../../../motion/body/parabola.ts";
import { propulsorsOf } from "../../../motion/body/propulsors.ts";
import { hipsOf } from "../../../motion/ground/foot-plant.ts";
import { gripsOf } from "../../../motion/parts/grips.ts";
import { bodyCutsOf, isCutBetween } from "../../../motion/path/cuts.ts";
import { figuresOf } from "../../../rig/body.ts";
import { scaleOf } from "../../../rig/stature.ts";
import { gridOf } from "../../../time/grid.ts";
import { defineCheck, type Fault } from "../../check.ts";
import { trunkDrifts, trunkFalls } from "../shared/carrier-agrees.ts";
import { causeOr } from "../shared/cause-or.ts";
import type { HangTimeFinding } from "./finding.ts";
import { thingFindings } from "./of-things.ts";

const settings = {
  tolerance: {
    default: 1.35,
    unit: "ratio",
    what: "how many times stronger or weaker than gravity (9.80665 m/s²) the fall may be",
    source:
      "Scientific Reports 2017, 7:15379 (speed of a soccer clip, abstract): naive viewers notice a change of 18 %, attentive ones of 9 %. In gravity that is 1.39 and 1.19; 1.35 lies between",
    min: 1,
  },
  frames: {
    default: 1,
    unit: "frames",
    what: "least number of frames that the hang has to change by",
    source:
      "common practice: one frame is the least by which a flight can be retimed, and the least that a note can ask for",
    min: 0,
  },
  residual: {
    default: 0.06,
    unit: "share",
    what: "how far the height may stray from a parabola (root mean square), as a share of the parabola's own height",
    source:
      "common practice: three times the stray of captured jumps, which stay under 0.02 (CMU motion capture database, subject 1, trial 1)",
    min: 0,
  },
  thing: {
    default: 0.02,
    unit: "share",
    what: "how far the height of a thing in the air may stray from a parabola (root mean square), as a share of the parabola's own height",
    source:
      "geometry: what falls at 0.6 times its mean at one end of its flight and at 1.4 times at the other strays by 0.02",
    min: 0,
  },
  floor: {
    default: 0.004,
    unit: "H",
    what: "smallest stray from a parabola, or from a straight course, that counts (root mean square)",
    source: "common practice: about 7 mm of a grown person, four pixels where the figure fills 1,080 lines",
    min: 0,
  },
  drift: {
    default: 0.2,
    unit: "g",
    what: "horizontal acceleration in the air from which the course counts as changed",
    source:
      "common practice: a fifth of gravity bends half a second of flight by 6 cm; horizontal errors are seen more easily than vertical ones (Reitsma & Pollard 2003, abstract)",
    min: 0,
  },
} as const;

/** Uncertainty of lengths where the unit is inferred from an assumed height of 1.7 m: grown people are up to 2.1 m. */
const assumedScale = 2.1 / 1.7;

/** Airborne too short or too long, not on a parabola, or changing course in the air. */
export const hangTime = defineCheck({
  name: "hang-time",
  title: "Hang time",
  family: "weight",
  scope: "figure",
  ceiling: "major",
  isOfAct: true,
  what: "A body or a thing in the air hangs too long, drops too fast, leaves its parabola, or changes its course with nothing to push against.",
  why: "In the air only gravity acts. The viewer has seen enough of it to feel a frame or two of hang too many, and what floats has no weight.",
  computes:
    "A parabola is fitted to the height of the centre of mass over all airborne frames; its acceleration is compared with 9.80665 m/s². The right number of frames is the present one times the square root of the fitted acceleration over gravity, for the same heights. The rest that the fit leaves, and the horizontal acceleration, are judged too. The same is asked of the place of a thing while nothing touches it, where a body has let go of it or takes it next. Flesh touches what is no farther from it than a hand is thick (0.016 body heights). The ground, water and other things with shapes touch too. What keeps its place for a quarter of a second rests on something. Flights of things last for six judged frames and more, and go up or down by 0.03 body heights.",
  fix: "Retime the flight by the frames that are named, heights as they are; give the hips' height the spacing of a fall and the course straight curves.",
  notAFault: [
    "a body with its hips in water that is declared, which carries it",
    "figures with propulsors (wings, or declared ones): their beat carries them",
    "a scale that is not known: only the shape of the flight is judged",
    "a body that is no human, whose trunk falls as it should: how its mass is spread is a guess",
    "hops of which the hang would change by less than a frame",
    "a figure that another one holds, as a stick with a tip of its own: let go, it is a thing",
    "a thing in a hand, on the ground, in water, or at rest; one that no body lets go of or takes",
    "a flight that step keys show in single held poses: they do not tell when the body leaves the ground and meets it",
  ],
  limits: [
    "A body that hangs on, or is carried by, something that is not declared is taken to fly where its centre of mass falls.",
    "The centre of mass is that of an average body; clothes and props have no mass.",
    "Air is left out: a feather, a sheet of paper or a balloon that is let go is told to fall like a stone.",
    "A thing that hangs on a string that is not there, or rolls down a slope that is not declared, is taken to fly. Notes on things are minor at most.",
  ],
  sources: [
    "Standard gravity 9.80665 m/s²: CGPM 1901",
    "Scientific Reports 2017, 7:15379: changes of playback speed that viewers notice (abstract)",
    "Reitsma & Pollard: Perceptual metrics for character animation, SIGGRAPH 2003 (abstract): horizontal errors are seen more easily than vertical ones",
  ],
  since: "0.1.0",
  settings,
  yieldsTo: ["early-stop", "lift-before-push"],
  find(study, figure, values) {
    const { from: scaleFrom, figure: by } = scaleOf(study);
    const isPerson = by >= 0 && figuresOf(study)[by].kind === "human";
    const isAssumed = scaleFrom === "assumed stature" || scaleFrom === "common unit";
    const knowsScale = scaleFrom !== "nothing" && scaleFrom !== "assumed size" && (!isAssumed || isPerson);
    const tolerance = values.tolerance * (isAssumed ? assumedScale : 1);
    const found: HangTimeFinding[] = thingFindings(
      study,
      figure,
      values,
      knowsScale ? tolerance : Number.POSITIVE_INFINITY,
      settings,
    );
    const flights = flightsOf(study, figure);
    const isCarried = propulsorsOf(study, figure).length > 0;
    if (flights.length === 0 || isCarried) {
      const because = isCarried ? "wings or fins carry the body" : "the body is never in the air";
      excused(-1, 0, gridOf(study).count - 1, because);
      return found;
    }
    const cuts = bodyCutsOf(study, figure);
    for (const flight of flights) {
      if (isCutBetween(cuts, flight.from, flight.to)) {
        excused(-1, flight.from, flight.to, "step keys show the flight in single poses");
        continue;
      }
      if (isInHand(study, figure, flight)) {
        excused(-1, flight.from, flight.to, "a hand holds it");
        continue;
      }
      const frames = framesToAdd(flight, gridOf(study).rate);
      const ratio = Math.max(flight.gravity / standardGravity, standardGravity / flight.gravity);
      if (knowsScale && ratio > tolerance && Math.abs(frames) >= values.frames) {
        if (trunkFalls(study, figure, flight, tolerance))
          found.push(gravityFinding(study, figure, flight, tolerance, frames));
      } else {
        const finding = shapeFinding(study, figure, flight, values.residual, values.floor);
        if (finding !== null) found.push(finding);
      }
      const finding = driftFinding(study, figure, flight, values.drift, values.floor);
      if (finding !== null) found.push(finding);
    }
    return found;
  },
  word(finding, words) {
    const { numbers, from, to } = finding;
    const span = words.span(from, to);
    if ("frames" in numbers) {
      const frames = words.frames(Math.abs(numbers.frames));
      const floats = numbers.frames < 0;
      return {
        message: `${floats ? "hangs too long" : "drops too fast"}: ${words.frames(numbers.air)} from take-off to landing, clear of the ground at ${span}, falling at ${words.times(numbers.ratio)} gravity`,
        suggestion: `${floats ? "take" : "add"} ${frames} of hang${floats ? " out" : ""}: ${words.frames(numbers.air + numbers.frames)} from take-off to landing for these heights`,
      };
    }
    if ("fall" in numbers) {
      const floats = numbers.fall < 1;
      return {
        message: `${words.part} ${floats ? "hangs too long in the air" : "drops too fast"}, ${span}: it falls at ${words.times(numbers.fall)} gravity`,
        suggestion: `for these frames let ${words.part} pass ${words.length(numbers.rise)} over the straight line between its ends at frame ${words.frame(Math.round(numbers.middle))}, or ${floats ? "take frames out" : "add frames"}`,
      };
    }
    if ("off" in numbers) {
      const what = numbers.isThing === true ? words.part : "the centre of mass";
      const whose = numbers.isThing === true ? `${words.part} leaves` : "leaves";
      const side = numbers.off > 0 ? "too high" : "too low";
      return {
        message: `${whose} the parabola of its flight, ${span}: ${words.length(Math.abs(numbers.off))} ${side} at frame ${words.frame(numbers.at)}`,
        suggestion: `bring ${what} ${words.length(Math.abs(numbers.off))} ${numbers.off > 0 ? "down" : "up"} at frame ${words.frame(numbers.at)}: half of the air time belongs to the top quarter of the height`,
      };
    }
    const who = numbers.isThing === true ? `${words.part} ` : "";
    return {
      message: `${who}changes its course in the air by ${words.speed(numbers.change)}, ${span}, with nothing to push against`,
      suggestion: `let it travel evenly from frame ${words.frame(from)} to ${words.frame(to)}: ${words.length(numbers.step)} a frame`,
    };
  },
});

/**
 * Whether a hand of another figure holds a figure in a flight: a stick with a tip of its own is a figure as well. When it is
 * let go, its flight is that of a thing.
 */
function isInHand(study: Study, figure: number, flight: Flight): boolean {
  const { root } = figuresOf(study)[figure];
  return gripsOf(study).some(
    ({ thing, figure: by, from, to }) =>
      thing === root && by !== figure && from <= flight.to && to >= flight.from,
  );
}

/** Frames by which a flight of these heights is too short under standard gravity; negative where it is too long. */
function framesToAdd(flight: Flight, rate: number): number {
  return flight.airTime * rate * (Math.sqrt(flight.gravity / standardGravity) - 1);
}

function gravityFinding(
  study: Study,
  figure: number,
  flight: Flight,
  tolerance: number,
  frames: number,
): HangTimeFinding {
  const { rate, dt } = gridOf(study);
  const { gravity, airTime, from, to } = flight;
  const bounds = { min: standardGravity / tolerance, max: standardGravity * tolerance };
  const ratio = gravity / standardGravity;
  /** Height over which the flight and a fall under gravity come apart half way, metres. */
  const apart = (fitted: number) => (Math.abs(fitted - standardGravity) * airTime * airTime) / 8;
  return {
    ...placeOf(study, figure, flight),
    measured: { quantity: "gravity of the flight", value: gravity, unit: "m/s^2" },
    expected: { ...bounds, unit: "m/s^2", source: settings.tolerance.source },
    excess: Math.max(ratio, 1 / ratio) / tolerance,
    size: apart(gravity),
    numbers: { frames: wholeFrames(frames), air: airTime * rate, ratio },
    fault: flightCause(study, figure, from, to, "height", (series) =>
      apart(fitParabola(series, 0, to - from, dt)?.gravity ?? standardGravity),
    ),
    evidence: [heightEvidence(study, figure, flight)],
  };
}

/** At least one frame, with its sign. */
function wholeFrames(frames: number): number {
  return Math.sign(frames) * Math.max(1, Math.round(Math.abs(frames)));
}

function shapeFinding(
  study: Study,
  figure: number,
  flight: Flight,
  share: number,
  floor: number,
): HangTimeFinding | null {
  const { from, to, airTime, gravity } = flight;
  const shape = flightShape(study, figure, flight);
  const limit = Math.max(floor, (share * gravity * airTime * airTime) / 8);
  if (shape === null || !(shape.residual > limit)) return null;
  const { residual, off, at } = shape;
  return {
    ...placeOf(study, figure, flight),
    measured: { quantity: "stray from a parabola (root mean square)", value: residual, unit: "m" },
    expected: { max: limit, unit: "m", source: settings.residual.source },
    excess: residual / limit,
    size: Math.abs(off),
    numbers: { off, at },
    fault: flightCause(study, figure, from, to, "height", shape.residualOf),
    evidence: [heightEvidence(study, figure, flight)],
  };
}

function driftFinding(
  study: Study,
  figure: number,
  flight: Flight,
  limit: number,
  floor: number,
): HangTimeFinding | null {
  const { dt } = gridOf(study);
  const { from, to, drift } = flight;
  const time = (to - from) * dt;
  // How far the course bows out between its ends, against the same floor as a stray in height: root mean square of a
  // parabola's distance to its own best line is its height times √(4/45).
  const bow = (drift * time * time) / 8;
  if (!(drift > limit) || !(bow * Math.sqrt(4 / 45) > floor)) return null;
  if (!trunkDrifts(study, figure, flight, limit)) return null;
  const path = massCentreOf(study, figure);
  const way = lengthOf(path[3 * to] - path[3 * from], path[3 * to + 2] - path[3 * from + 2]);
  return {
    ...placeOf(study, figure, flight),
    measured: { quantity: "horizontal acceleration in the air", value: drift, unit: "m/s^2" },
    expected: { max: limit, unit: "m/s^2", source: settings.drift.source },
    excess: drift / limit,
    size: bow,
    numbers: { change: drift * time, step: way / (to - from) },
    fault: flightCause(study, figure, from, to, "any", (series) => {
      const x = fitParabola(series, 0, to - from, dt, 3, 0)?.gravity ?? 0;
      const z = fitParabola(series, 0, to - from, dt, 3, 2)?.gravity ?? 0;
      return lengthOf(x, z);
    }),
  };
}

function placeOf(study: Study, figure: number, { from, to }: Flight) {
  return { node: hipsOf(study, figure), figure, from, to };
}

function heightEvidence(study: Study, figure: number, { from, to }: Flight) {
  const { frames, step } = gridOf(study);
  const path = massCentreOf(study, figure);
  const values: number[] = [];
  for (let i = from; i <= to; i++) values.push(path[3 * i + 1]);
  return {
    label: "height of the centre of mass",
    unit: "m",
    firstFrame: frames[from],
    step,
    values,
  } as const;
}

/** The keys of a fault of a figure's flight from one sample to another, or those that move its hips most there. */
function flightCause(
  study: Study,
  figure: number,
  from: number,
  to: number,
  along: "any" | "height",
  strength: (series: Float64Array) => number,
): Fault {
  const fault: Fault = { kind: "massCentre", subject: figure, lo: from, hi: to, from, to, strength };
  return causeOr(study, fault, [hipsOf(study, figure)], from, to, along);
}
