import { inDegrees } from "../../../base/constants.ts";
import { excused } from "../../../base/excuse.ts";
import type { Study } from "../../../base/study.ts";
import { footCountOf } from "../../../motion/ground/feet.ts";
import { tiltBetween, tiltingIn, tiltingOf } from "../../../motion/parts/tilt.ts";
import { carrierOf, figuresOf } from "../../../rig/body.ts";
import { chainOf } from "../../../rig/pose.ts";
import { farReachOf } from "../../../rig/reach.ts";
import { isAbove, rigOf } from "../../../rig/rig.ts";
import { gridOf } from "../../../time/grid.ts";
import { defineCheck, type Fault, type Finding } from "../../check.ts";
import { keysOfNodes } from "../../keys-of-nodes.ts";
import { missingOn } from "../../missing.ts";
import type { SeriesFault } from "../../trial.ts";

/** With numbers in working units. */
export interface StraightSetFinding extends Finding {
  readonly numbers: {
    readonly turn: number;
    readonly tilt: number;
    readonly least: number;
    /** Rig index of the head. */
    readonly head: number;
  };
}

const settings = {
  tilt: {
    default: 1.9,
    unit: "deg",
    what: "least tilt of hips, chest and head against each other that counts as one",
    source: "Wilson and others 2000: the least turn of a head that is seen as one is 1.9°",
    min: 0,
  },
  share: {
    default: 0.04,
    unit: "share",
    what: "the same as a share of the turn, up to a turn of 90°",
    source: "common practice: a head that turns by 90° goes over or under the level by more than 3.6°",
    min: 0,
  },
  turn: {
    default: 15,
    unit: "deg",
    what: "least turn of one of them about the upright over the shot",
    source: "common practice: a smaller turn is a shift of weight, which asks for no tilt",
    min: 0,
  },
  frames: {
    default: 48,
    unit: "frames",
    what: "least length of the shot",
    source: "common practice: two seconds are one action; a shorter shot may well be one turn of one piece",
    min: 2,
  },
} as const;

/** Hips, chest and head turn about the upright alone. */
export const straightSet = defineCheck({
  name: "straight-set",
  title: "Straight set",
  family: "parts",
  scope: "figure",
  ceiling: "minor",
  hangsOn: ["body"],
  what: "Hips, chest and head turn, but never tilt against each other, all shot long.",
  why: "A body bends to the sides and to the front with all that it does. Turned about one axis alone it reads as discs on a pole.",
  computes:
    "Turns of hips, chest and head in the world since the first frame, each parted in two: its heading about the upright, and the tilt that is left before it. Of the three pairs, the difference of their tilts about its middle (the median) is taken. The angle that 95 % of the frames keep to is how far a pair tilts; the largest of the three counts. It is to be 1.9°, and 0.04 of the greatest turn up to 90°. It is a fault from two seconds of shot on, where the heading of one of the three changes by 15° or more.",
  fix: "Tilt the chest by a few degrees into the turn, and the head against it, two or three frames later.",
  notAFault: [
    "a figure that hardly turns, or stands",
    "a shot under two seconds",
    "bodies without legs: fish and snakes bend about one axis by nature",
    "figures without a chest or a head above the hips",
  ],
  limits: [
    "A machine that is built like a body is taken for one: turn the check off for it.",
    "A body that sways as one piece has no tilt of its parts, and is told so too.",
  ],
  sources: [
    "Wilson and others 2000 (abstract): turns of a head by 1.9° are told apart",
    "Common practice: hips and shoulders are tilted against each other, and the head against both",
  ],
  since: "0.1.0",
  settings,
  styles: {
    limited: { off: true, why: "A body may be one drawing, of which the head alone is drawn anew." },
  },
  find(study, index, values): StraightSetFinding[] {
    const figure = figuresOf(study)[index];
    const { count } = gridOf(study);
    const hips = carrierOf(figure);
    const chest = figure.parts.get("chest")?.at(-1) ?? figure.parts.get("spine")?.at(-1);
    const head = figure.parts.get("head")?.[0];
    if (chest === undefined || head === undefined || chest === hips || count < values.frames) return [];
    const set = [hips, chest, head].map((node) => tiltingOf(study, node));
    const turn = Math.max(...set.map(({ heading }) => rangeOf(heading)));
    if (turn < values.turn) return [];
    const [a, b, c] = set.map(({ tilt }) => tilt);
    const tilt = Math.max(tiltBetween(b, a), tiltBetween(c, b), tiltBetween(c, a));
    const least = Math.max(values.tilt, values.share * Math.min(turn, Math.PI / 2));
    if (tilt >= least) return [];
    if (footCountOf(study, index) === 0) {
      excused(chest, 0, count - 1, "a body without legs bends about one axis by nature");
      return [];
    }
    return [
      {
        node: chest,
        figure: index,
        from: 0,
        to: count - 1,
        seenAt: [chest, head, hips],
        measured: {
          quantity: "tilt of hips, chest and head against each other",
          value: inDegrees(tilt),
          unit: "deg",
        },
        expected: {
          min: inDegrees(least),
          unit: "deg",
          source: (least > values.tilt ? settings.share : settings.tilt).source,
        },
        excess: 1 + (1 - tilt / least),
        size: least * farReachOf(study, chest),
        numbers: { turn, tilt, least, head },
        fault: missingTilt(study, { hips, chest, head }, least),
      },
    ];
  },
  word(finding, words) {
    const { turn, tilt, least, head } = finding.numbers;
    return {
      message: `hips, chest and head turn by up to ${words.angle(turn)} and tilt against each other by ${words.angle(tilt)} only, all shot long`,
      suggestion: `tilt the ${words.part} by ${words.angle(2 * least)} into the turns and the ${words.name(head)} by as much the other way, two or three frames later`,
    };
  },
});

/** From the least to the greatest of some numbers. */
function rangeOf(values: Float64Array): number {
  let low = values[0];
  let high = values[0];
  for (const value of values) {
    if (value < low) low = value;
    if (value > high) high = value;
  }
  return high - low;
}

interface Set {
  readonly hips: number;
  readonly chest: number;
  readonly head: number;
}

/** The channel on which a tilt is missing; of those that are keyed the one on which it would do most, the chest's first. */
function missingTilt(study: Study, { hips, chest, head }: Set, least: number): Fault {
  const last = gridOf(study).count - 1;
  const fault: SeriesFault = {
    kind: "orientation",
    subject: chest,
    others: [hips, head],
    lo: 0,
    hi: last,
    from: 0,
    to: last,
    strength: (series, others) => {
      const [b, a, c] = [series, ...others].map((one) => tiltingIn(one).tilt);
      return Math.max(0, 8 * least - tiltBetween(b, a) - tiltBetween(c, b) - tiltBetween(c, a));
    },
  };
  const rig = rigOf(study);
  const above = chainOf(rig, head).filter((node) => isAbove(rig, hips, node) && node !== hips);
  const nodes = [chest, ...above.filter((node) => node !== chest), hips];
  const keys = missingOn(study, fault, nodes, 4 * least) ?? keysOfNodes(study, nodes, 0, last);
  return { kind: "keys", keys };
}
