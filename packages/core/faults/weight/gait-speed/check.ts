import type { Study } from "../../../base/study.ts";
import { footCountOf } from "../../../motion/ground/feet.ts";
import { hipsOf } from "../../../motion/ground/foot-plant.ts";
import { type Gait, gaitsOf, usualSpeed, usualStride } from "../../../motion/ground/gait.ts";
import { cutsOf, isCutBetween } from "../../../motion/path/cuts.ts";
import { defineCheck, type Finding } from "../../check.ts";
import { keysOfNodes } from "../../keys-of-nodes.ts";

/** With numbers in working units. */
export interface GaitSpeedFinding extends Finding {
  readonly numbers: {
    readonly speed: number;
    readonly length: number;
    /** Length of a stride that fits the speed, and speed that fits the strides. */
    readonly usual: number;
    readonly fitting: number;
    /** Its Froude number where the gait is a walk that is too fast for one; 0 where its strides do not fit. */
    readonly froude: number;
  };
}

const settings = {
  spread: {
    default: 1.6,
    unit: "ratio",
    what: "factor by which strides may be longer or shorter than those of animals at this speed",
    source:
      "Alexander 1976: people, horses and elephants lie close to one curve, single strides within about half of it to either side (from memory)",
    min: 1,
  },
  froude: {
    default: 1,
    unit: "ratio",
    what: "greatest Froude number, v² / (g × hip height), of a walk",
    source:
      "Over 1 a body that vaults over a stiff leg would leave the ground (Biology Letters 2005.0312, second hand); people change to a run at 0.5",
    min: 0,
  },
  duty: {
    default: 0.55,
    unit: "share",
    what: "share of its stride for which a foot stands from which the gait is surely a walk",
    source:
      "Kirtley 1985: walking people stand for 0.59 to 0.62 of a stride; at 0.5 walking ends, and a judged frame is half of the rest",
    min: 0.5,
    max: 1,
  },
  way: {
    default: 0.4,
    unit: "ratio",
    what: "least length of a stride that is judged, in heights of the hips",
    source: "common practice: shorter steps are shuffles and turns on the spot, which any legs can take",
    min: 0,
  },
} as const;

type GaitValues = { readonly [K in keyof typeof settings]: number };

/** Metres of climb per metre of way up to which the ground is level: a ramp, as wheelchairs take it (our choice). */
const level = 0.1;

/** Strides that do not fit the speed and the size of the body. */
export const gaitSpeed = defineCheck({
  name: "gait-speed",
  title: "Gait against speed",
  family: "weight",
  scope: "figure",
  ceiling: "minor",
  isOfAct: true,
  ripening: "no bench has a row for it yet",
  hangsOn: ["body", "unit"],
  notBefore: "splining",
  what: "A gait does not fit its speed: its strides are far too short or too long for legs of this size, or it walks at the speed of a run.",
  why: "Gravity swings a body over its legs. A large body with quick short steps looks small, and one that walks too fast looks driven on wheels.",
  computes:
    "A stride goes from one landing of a foot to its next. Strides of all feet that follow each other in one timing are a gait; told are its medians. The Froude number is the square of the hips' speed over the ground, divided by gravity and by the height of the hips over it. Animals of all sizes take strides of 2.3 hip heights times its power of 0.3. At fault are strides longer or shorter than that by a factor of 1.6. At fault, too, is a walk with a Froude number over 1. A walk is a gait whose feet stand for more than 0.55 of their strides, one of them always on the ground.",
  fix: "Change the length of the strides, or how long they take, until both fit: longer strides for a faster body, quicker ones for a smaller body.",
  notAFault: [
    "steps on the spot, shuffles and turns, whose strides are under 0.4 hip heights",
    "ramps and stairs",
    "fewer than three strides",
    "feet that step keys set from pose to pose",
    "more than four legs, for which no figures are known",
  ],
  limits: [
    "Strides of a skip or a dance are held against those of a walk or a run.",
    "Where a foot is seen to land a frame late, short strides look a little shorter.",
  ],
  sources: [
    "Alexander 1976, Nature 261:129 (from memory): length of a stride over speed and hip height",
    "Alexander and Jayes 1983, Journal of Zoology 201:135 (from memory): bodies of equal Froude number go alike",
    "Kram and others 1997, abstract: people change from walking to running at a Froude number of 0.5",
    "Griffin and others 2004, abstract: horses trot from 0.35 on",
    "Kirtley 1985, by a page on gait data: share of a stride for which a foot stands",
  ],
  since: "0.1.0",
  settings,
  repeats: "steps",
  find(study, index, values) {
    if (footCountOf(study, index) > 4) return [];
    return gaitsOf(study, index).flatMap((gait) => judged(study, index, gait, values));
  },
  word(finding, words) {
    const { speed, length, usual, fitting, froude } = finding.numbers;
    const where = words.span(finding.from, finding.to);
    if (froude > 0) {
      return {
        message: `walks at ${words.speed(speed)} in ${where}, a speed at which legs of this length run`,
        suggestion: `let it run, with both feet in the air between steps, or go at ${words.speed(fitting)} at most`,
      };
    }
    return {
      message: `takes strides of ${words.length(length)} at ${words.speed(speed)} in ${where}, ${words.times(length / usual)} the length that fits legs of this size`,
      suggestion: `take strides of about ${words.length(usual)} at this speed, or go at about ${words.speed(fitting)} with these`,
    };
  },
});

function judged(study: Study, index: number, gait: Gait, values: GaitValues): GaitSpeedFinding[] {
  const { from, to, length, speed, hips, froude, duty, airborne, slope } = gait;
  const node = hipsOf(study, index);
  if (!(hips > 0) || length < values.way * hips || slope > level) return [];
  if (isCutBetween(cutsOf(study, node), from, to)) return [];
  const usual = usualStride(speed, hips);
  const ratio = length / usual;
  const off = Math.max(ratio, 1 / ratio) / values.spread;
  const tooFast = duty > values.duty && airborne === 0 ? froude / values.froude : 0;
  if (Math.max(off, tooFast) <= 1) return [];
  const isTooFast = tooFast > off;
  const most = Math.sqrt((values.froude * speed * speed) / froude);
  return [
    {
      node,
      figure: index,
      from,
      to,
      measured: isTooFast
        ? { quantity: "Froude number of a walk", value: froude, unit: "ratio" }
        : { quantity: "length of a stride over that of its speed", value: ratio, unit: "ratio" },
      expected: isTooFast
        ? { max: values.froude, unit: "ratio", source: settings.froude.source }
        : {
            ...(ratio > 1 ? { max: values.spread } : { min: 1 / values.spread }),
            unit: "ratio",
            source: settings.spread.source,
          },
      excess: Math.max(off, tooFast),
      // Half of what each foot would land elsewhere.
      size: Math.abs(length - usual) / 4,
      numbers: {
        speed,
        length,
        usual,
        fitting: isTooFast ? most : usualSpeed(length, hips),
        froude: isTooFast ? froude : 0,
      },
      fault: { kind: "keys", keys: keysOfNodes(study, [node], from, to, 3) },
    },
  ];
}
