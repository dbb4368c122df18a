import { excused } from "../../../base/excuse.ts";
import type { Study } from "../../../base/study.ts";
import { lengthOf } from "../../../base/vector.ts";
import { type Flight, flightsOf } from "../../../motion/body/flight.ts";
import { massCentreOf } from "../../../motion/body/mass-centre.ts";
import { propulsorsOf } from "../../../motion/body/propulsors.ts";
import { footCountOf, footPointsOf } from "../../../motion/ground/feet.ts";
import { hipsOf } from "../../../motion/ground/foot-plant.ts";
import { cutsOf, isCutBetween } from "../../../motion/path/cuts.ts";
import { onTwosOf } from "../../../motion/path/held.ts";
import { statureOf } from "../../../rig/body.ts";
import { worldOf } from "../../../rig/pose.ts";
import { gridOf } from "../../../time/grid.ts";
import { defineCheck, type Finding } from "../../check.ts";
import { causeOr } from "../shared/cause-or.ts";

/** With numbers in working units. */
export interface NoAnticipationFinding extends Finding {
  readonly numbers: {
    /** How high the hips rise in the air, and by how much they rose before it, from their lowest. */
    readonly rise: number;
    readonly push: number;
    readonly needed: number;
    /** By how much they would usually rise before it, and the first sample in the air. */
    readonly usual: number;
    readonly leaves: number;
  };
}

/** A usual counter-movement jump pushes over about half of its rise: 0.25 to 0.35 m deep for 0.4 to 0.6 m (from memory). */
const usualShare = 0.5;

const settings = {
  push: {
    default: 0.2,
    unit: "share",
    what: "least way up of the hips before the take-off, as a share of their rise in the air",
    source:
      "Newton's second law: a push over a fifth of the rise takes five times the body's weight beyond what carries it, for as long as it lasts; legs give less. Deeper dips bring higher jumps (Sánchez-Sixto, Harrison & Floría 2018, abstract)",
    min: 0,
    max: 2,
  },
  rise: {
    default: 0.08,
    unit: "H",
    what: "least rise of the hips in the air from which a flight is a jump",
    source: "common practice: 14 cm of a grown person; for less, ankles and a look will do",
    min: 0,
  },
  runUp: {
    default: 0.8,
    unit: "m/s",
    what: "speed along the ground, from 0.6 to 0.3 s before the take-off, from which the run is the anticipation",
    source: "common practice: half the speed of a walk",
    min: 0,
  },
} as const;

/** Seconds before the take-off in which the body may have gone down: a whole push takes 0.7 to 0.9 s (from memory). */
const before = 0.8;
/** Seconds after a landing within which a take-off bounces off it (our choice). */
const bounce = 0.3;
/** Heights that differ by less, in body heights, are one. */
const alike = 1e-5;

/** A jump with no crouch before it. */
export const noAnticipation = defineCheck({
  name: "no-anticipation",
  title: "No anticipation",
  family: "weight",
  scope: "figure",
  ceiling: "major",
  notBefore: "splining",
  what: "A body jumps from where it stands, with no way down before the way up.",
  why: "Legs can only push what they have let down. A body that leaves the ground out of straight legs is thrown, and nobody saw it coming.",
  computes:
    "For each flight that starts on the ground: how high the hips rise in the air over where they were at the take-off. On more than two feet it is the centre of mass. And by how much they rise before it, from their lowest within 0.8 s to the first frame in the air. That is to be what they rise in the air up to that frame and, before it, at least 0.2 of the rise. Rises of less than 0.08 body heights are not judged, nor those of a body that travels.",
  fix: "Put a breakdown some five frames before the take-off, with the hips down by half of the rise; let them go down more slowly than they come up.",
  notAFault: [
    "a body that is crouched already when it jumps",
    "a jump out of a run, at 0.8 m/s and more: the run is its anticipation",
    "a take-off within 0.3 s of a landing: it bounces",
    "figures with propulsors (wings, or declared ones): their beat carries them",
    "a figure without legs, such as a sack or a spring; one whose poses are held on twos or cut by step keys at the take-off",
    "a hop of less than 14 cm of a grown person, a reaction, a stumble",
  ],
  limits: [
    "Who is thrown or pulled into the air, by something that is not declared, is taken to jump.",
    "Throws, heaves and turns are not looked at: from motion alone nobody can tell a blow from a reaction.",
    "Where the shot starts less than 0.45 s before the take-off, nothing is said.",
  ],
  sources: [
    "Sánchez-Sixto, Harrison & Floría 2018: larger counter-movements and higher jumps (abstract)",
    "Newton's second law: rise over push is the mean force beyond the weight, in weights",
  ],
  since: "0.1.0",
  settings,
  yieldsTo: ["lift-before-push"],

  styles: {
    limited: { off: true, why: "A crouch may be one drawing, held before the jump." },
    twos: { off: true, why: "Half as many poses tell too little of a push." },
  },
  find(study, figure, values) {
    if (propulsorsOf(study, figure).length > 0 || !hasLegs(study, figure)) return [];
    const { dt } = gridOf(study);
    const flights = flightsOf(study, figure);
    return flights.flatMap((flight, i) => {
      if (!flight.startsOnGround) return [];
      const last = flights[i - 1];
      if (last !== undefined && (flight.takeOff - last.landing) * dt < bounce) {
        excused(hipsOf(study, figure), last.to, flight.from, "the body bounces off from its landing");
        return [];
      }
      return takeOffOf(study, figure, flight, values);
    });
  },
  word({ numbers }, words) {
    const { rise, push, needed, usual, leaves } = numbers;
    const how =
      push < 0.02 * rise ? "with no crouch before it" : `out of a crouch of ${words.length(push)} only`;
    return {
      message: `jumps at frame ${words.frame(leaves)}, ${words.length(rise)} high, ${how}, where legs have to push over at least ${words.length(needed)}`,
      suggestion: `let the hips go down by ${words.length(usual - push)} before it, lowest four to six frames before frame ${words.frame(leaves)}, over about twice that time`,
    };
  },
});

type Values = { readonly push: number; readonly rise: number; readonly runUp: number };

/** Whether a figure has feet that are known to be feet, not by resting alone. */
function hasLegs(study: Study, figure: number): boolean {
  return footPointsOf(study, figure).some(({ isNamed }) => isNamed);
}

/** A take-off with too little push before it; none where it is enough, or cannot be judged. */
function takeOffOf(study: Study, figure: number, flight: Flight, values: Values): NoAnticipationFinding[] {
  const { from, to } = flight;
  const { dt, frames, step } = gridOf(study);
  const hips = hipsOf(study, figure);
  const first = Math.max(0, from - Math.round(before / dt));
  if (
    (from - first) * dt < 0.45 ||
    onTwosOf(study, hips) > 1 ||
    isCutBetween(cutsOf(study, hips), first, from)
  )
    return [];
  // What lies on more than two legs rears to jump: its hips alone do not tell how far it pushes.
  const isUpright = footCountOf(study, figure) <= 2;
  const path = isUpright ? worldOf(study, hips).position : massCentreOf(study, figure);
  const what = isUpright ? "hips" : "centre of mass";
  const height = (i: number) => path[3 * i + 1];
  // A foot that leaves slowly has no moment of leaving: until its last sample it carries.
  const takeOff = Math.max(flight.takeOff, from - 1);
  const off = height(from - 1) + (takeOff - (from - 1)) * (height(from) - height(from - 1));
  let top = off;
  for (let i = from; i <= to; i++) top = Math.max(top, height(i));
  const rise = top - off;
  if (rise < values.rise) return [];
  const needed = values.push * rise;
  const tiny = alike * statureOf(study, figure);
  let lowest = from - 1;
  for (let i = from - 1; i >= first; i--) if (height(i) < height(lowest) - tiny) lowest = i;
  const push = off - height(lowest);
  if (push >= needed) return [];
  // A jump forward gets its way from the push; a run has it before.
  const [early, late] = [from - Math.round(0.6 / dt), from - Math.round(0.3 / dt)].map((i) =>
    Math.max(first, i),
  );
  const way = lengthOf(path[3 * late] - path[3 * early], 0, path[3 * late + 2] - path[3 * early + 2]);
  if (way > values.runUp * (late - early) * dt) {
    excused(hips, lowest, from, "the body jumps out of a run");
    return [];
  }
  const usual = usualShare * rise;
  const values_: number[] = [];
  for (let i = first; i <= to; i++) values_.push(height(i));
  return [
    {
      node: hips,
      figure,
      from: lowest,
      to: from,
      measured: {
        quantity: `rise of the ${what} from the lowest to the first frame in the air`,
        value: height(from) - height(lowest),
        unit: "m",
      },
      expected: { min: height(from) - off + needed, unit: "m", source: settings.push.source },
      excess: needed / Math.max(push, needed / 4),
      size: usual - push,
      numbers: { rise, push: Math.max(0, push), needed, usual, leaves: from },
      fault: causeOr(
        study,
        {
          ...(isUpright
            ? { kind: "position" as const, subject: hips }
            : { kind: "massCentre" as const, subject: figure }),
          lo: first,
          hi: from,
          from: Math.max(first, from - Math.round(0.5 / dt)),
          to: from,
          sees: ["anticipation", off, usual],
          strength: (series) => {
            let low = series[1];
            for (let k = 4; k < series.length; k += 3) low = Math.min(low, series[k]);
            return Math.max(0, 2 * usual - (off - low));
          },
        },
        [hips],
        lowest,
        from,
        "height",
      ),
      evidence: [
        { label: `height of the ${what}`, unit: "m", firstFrame: frames[first], step, values: values_ },
      ],
    },
  ];
}
