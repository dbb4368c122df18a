import { inDegrees, radiansPerDegree, referenceRate } from "../../../base/constants.ts";
import { excused } from "../../../base/excuse.ts";
import { medianOf } from "../../../base/median.ts";
import { floats } from "../../../base/room.ts";
import type { Study } from "../../../base/study.ts";
import { distanceBetween } from "../../../base/vector.ts";
import { impactsOf } from "../../../motion/body/impact.ts";
import { contactsOf, nodeContactAt } from "../../../motion/ground/contact.ts";
import { hipsOf } from "../../../motion/ground/foot-plant.ts";
import { onTwosOf } from "../../../motion/path/held.ts";
import { bendOf, type Limb, limbReachOf, limbsOf, stretchOf } from "../../../rig/limb.ts";
import { gridOf } from "../../../time/grid.ts";
import type { Span } from "../../../time/span.ts";
import { defineCheck, type Finding } from "../../check.ts";
import { causeOr } from "../shared/cause-or.ts";

/** With numbers in working units. */
export interface LegSnapFinding extends Finding {
  readonly numbers: {
    /** Angle by which the middle joint leaves the path of its bend; or that it loses until it is straight. */
    readonly jump: number;
    readonly stretch: number;
    readonly over: number;
    readonly arm: number;
  };
}

const settings = {
  stretch: {
    default: 0.985,
    unit: "ratio",
    what: "share of its full length from which a limb counts as stretched",
    source:
      "geometry: a knee bent by 20° between bones of one length still reaches cos 10° = 0.985 of the leg",
    min: 0.8,
    max: 1,
  },
  jump: {
    default: 8,
    unit: "deg",
    what: "how far the middle joint may jump off the path of its bend within one frame at 24 per second",
    source:
      "common practice: under 8° a knee that straightens within a frame still looks pushed; captured standing knees (walking, boxing) jump by 1° at the median and 3° at the most",
    min: 0,
  },
  lost: {
    default: 12,
    unit: "deg",
    what: "how much bend a limb may lose in the two frames (at 24 per second) at whose end it is straight",
    source:
      "from memory: in a gait a standing knee straightens at up to 100° a second, which is 8° in two frames. Half as much again is let pass",
    min: 0,
  },
  spread: {
    default: 4,
    unit: "ratio",
    what: "how many times the usual jump of the frames around it stands out",
    source:
      "common practice: a fast, even stretch of a leg is no snap; one that changes four times as much as the frames around it is",
    min: 1,
  },
} as const;

/**
 * A limb whose middle joint is bent by less than this, radians, is straight: geometry, the last 5° are 0.1 % of its
 * length between bones of one length, so that nothing is left to brake with.
 */
const straight = 5 * radiansPerDegree;
/** Frames (at 24 per second) over which a limb that comes to full stretch is seen to brake, or not (our choice). */
const arrival = 2;

/** A limb hits full stretch and its middle joint jumps. */
export const legSnap = defineCheck({
  name: "leg-snap",
  title: "Leg snap",
  family: "weight",
  scope: "figure",
  ceiling: "major",
  hangsOn: ["body"],
  notBefore: "splining",
  what: "A leg that stands comes to full stretch and its knee jumps straight.",
  why: "Near full stretch the smallest move of the hips swings the knee through tens of degrees: the joint snaps like a latch where a body would roll through.",
  computes:
    "For each leg, and each arm whose hand is in a declared contact: the distance of the limb's ends over the length of its bones. The bend of its middle joint follows by the law of cosines. A snap is a frame at which the limb stands and is stretched beyond 0.985. There the bend differs by more than 8° from the mean of the frames before and after, four times as much as it usually does within half a second. Or the limb loses 12° of its bend within two frames and is straight then (within 5°), standing for two frames before and after.",
  fix: "Bring the hips down, or the foot nearer, by the centimetres that are named, or let the heel come up, so that the knee keeps a little bend.",
  notAFault: [
    "kicks and punches: the limb has to stand on something",
    "a leg that is straight and stays straight",
    "a push that takes the foot off the ground",
    "an impact of the body within a frame",
    "a leg that lands: it is longest as it comes to the ground, where it stood on nothing before, and bends under the body from there on",
  ],
  limits: ["Stretching bones count as bones of their length in the first frame."],
  sources: ["Law of cosines: the bend of a joint from the distance between its limb's ends"],
  since: "0.1.0",
  settings,
  find(study, figure, values) {
    const found: LegSnapFinding[] = [];
    for (const limb of limbsOf(study, figure)) {
      if (limb.kind === "arm" && !contactsOf(study, figure).some(({ node }) => node === limb.end)) {
        excused(limb.end, 0, gridOf(study).count - 1, "the hand has no contact: an arm may be stretched");
        continue;
      }
      findInLimb(study, figure, limb, values, found);
    }
    return found;
  },
  word(finding, words) {
    const { numbers, from, to } = finding;
    const limb = numbers.arm === 1 ? "arm" : "leg";
    // The joint is meant, not the bone below it.
    const joint = words.part.replace(/shin$/, "knee").replace(/forearm$/, "elbow");
    const key = words.keys[0];
    const where = key === undefined ? "" : ` (${key.node} ${key.channel} at frame ${key.frame})`;
    const when = from === to ? `at frame ${words.frame(from)}` : words.span(from, to);
    return {
      message: `${joint} snaps by ${words.angle(numbers.jump)} ${from === to ? when : `and stops dead, ${when}`}: the ${limb} reaches ${words.share(numbers.stretch)} of its length`,
      suggestion: `shorten the reach by ${words.length(numbers.over)} around frame ${words.frame(to)}${where}: ${limb === "leg" ? "lower the hips or let the heel come up" : "bring the shoulder nearer"}`,
    };
  },
});

interface Values {
  readonly stretch: number;
  readonly jump: number;
  readonly lost: number;
  readonly spread: number;
}

function findInLimb(study: Study, figure: number, limb: Limb, values: Values, found: LegSnapFinding[]): void {
  const { count, rate } = gridOf(study);
  const reach = limbReachOf(study, limb.root, limb.end);
  const stretch = stretchOf(reach, limb);
  const step = Math.max(1, Math.round(rate / referenceRate)) * onTwosOf(study, limb.middle);
  if (!stretch.some((value) => value >= values.stretch)) return;
  const bend = bendOf(reach, limb);
  const planted = nodeContactAt(study, limb.end);
  const impacts = impactsOf(study, figure);
  const toes = limb.ball >= 0 ? nodeContactAt(study, limb.ball) : planted;
  const stands = (i: number) => (planted[i] === 1 || toes[i] === 1) && impacts[i] === 0;
  const jumps = floats(count);
  for (let i = step; i < count - step; i++) {
    jumps[i] = jumpAt(bend, i, step);
  }
  const window = Math.round(rate / 4);
  for (let i = step; i < count - step; i++) {
    if (!stands(i) || jumps[i] < values.jump) continue;
    const most = Math.max(stretch[i - step], stretch[i], stretch[i + step]);
    if (most < values.stretch || !isPeak(jumps, i, step)) continue;
    const usual = medianOf(
      jumps.subarray(Math.max(step, i - window), Math.min(count - step, i + window + 1)),
    );
    if (jumps[i] < values.spread * usual) continue;
    if (!stands(i - step) && stands(i) && bend[i] < Math.min(bend[i - step], bend[i + step])) {
      excused(limb.middle, i, i, "the leg lands: it reaches for the ground, and gives under the body");
      continue;
    }
    found.push(findingOf(study, figure, limb, { from: i, to: i }, jumps[i], most, values, step, false));
    i += step;
  }
  findStops(study, figure, limb, { bend, stretch, stands }, values, step, found);
}

/** A limb's bend and stretch at each sample, and whether it stands. */
interface Course {
  readonly bend: Float64Array;
  readonly stretch: Float64Array;
  readonly stands: (sample: number) => boolean;
}

/** Arrivals at full stretch without a brake: most of what a limb is bent by goes within two frames, and it stops. */
function findStops(
  study: Study,
  figure: number,
  limb: Limb,
  { bend, stretch, stands }: Course,
  values: Values,
  step: number,
  found: LegSnapFinding[],
): void {
  const { rate } = gridOf(study);
  const frames = Math.max(step, (arrival * rate) / referenceRate);
  const reach = Math.ceil(frames);
  const known = found.filter(({ node }) => node === limb.middle);
  const lostAt = (i: number) => bentAt(bend, i - frames) - bend[i];
  for (let i = reach; i < bend.length; i++) {
    if (!(bend[i] < straight) || !(lostAt(i) >= values.lost)) continue;
    let best = i;
    while (i + 1 < bend.length && bend[i + 1] < straight && lostAt(i + 1) >= values.lost) {
      i++;
      if (lostAt(i) > lostAt(best)) best = i;
    }
    const span = { from: best - reach, to: best };
    let holds = true;
    for (let k = span.from; k <= Math.min(best + reach, bend.length - 1); k++) holds &&= stands(k);
    if (!holds || known.some(({ from, to }) => from <= span.to + step && span.from - step <= to)) continue;
    found.push(findingOf(study, figure, limb, span, lostAt(best), stretch[best], values, step, true));
  }
}

function findingOf(
  study: Study,
  figure: number,
  limb: Limb,
  { from, to }: Span,
  jump: number,
  most: number,
  values: Values,
  step: number,
  stops: boolean,
): LegSnapFinding {
  const length = limb.upper + limb.lower;
  const frames = Math.max(step, (arrival * gridOf(study).rate) / referenceRate);
  const [lo, hi] = stops
    ? [from, Math.min(gridOf(study).count - 1, 2 * to - from)]
    : [from - step, to + step];
  const limit = stops ? values.lost : values.jump;
  return {
    node: limb.middle,
    figure,
    from,
    to,
    measured: {
      quantity: stops ? "bend lost in two frames" : "jump of the bend",
      value: inDegrees(jump),
      unit: "deg",
    },
    expected: {
      max: inDegrees(limit),
      unit: "deg",
      source: stops ? settings.lost.source : settings.jump.source,
    },
    excess: jump / limit,
    // A joint that bends by an angle moves by about half of it at the bones' length.
    size: (0.5 * jump * length) / 2,
    numbers: {
      jump,
      stretch: most,
      over: Math.max((most - values.stretch) * length, 0.001),
      arm: limb.kind === "arm" ? 1 : 0,
    },
    fault: causeOr(
      study,
      {
        kind: "position",
        subject: limb.end,
        others: [limb.root],
        lo,
        hi,
        from,
        to,
        sees: ["snap", limb.upper, limb.lower, stops ? frames : -1, step],
        strength: (end, [root]) => {
          const bend = bendOf(lengthsBetween(root, end), limb);
          return stops ? bentAt(bend, to - lo - frames) - bend[to - lo] : jumpAt(bend, from - lo, step);
        },
      },
      [hipsOf(study, figure), limb.root, limb.end],
      lo,
      hi,
    ),
  };
}

/** Whether no jump nearby is larger. */
function isPeak(jumps: Float64Array, at: number, reach: number): boolean {
  for (let i = at - reach; i <= at + reach; i++) if (jumps[i] > jumps[at]) return false;
  return true;
}

/** Distance of two paths at each sample. */
function lengthsBetween(one: Float64Array, other: Float64Array): Float64Array {
  const lengths = floats(one.length / 3);
  for (let i = 0; i < lengths.length; i++) lengths[i] = distanceBetween(one, i, other, i);
  return lengths;
}

/** How far a bend is off the mean of those a step before and after it. */
function jumpAt(bend: Float64Array, at: number, step: number): number {
  return Math.abs(bend[at] - 0.5 * (bend[at - step] + bend[at + step]));
}

/** A bend between two samples. */
function bentAt(bend: Float64Array, time: number): number {
  const at = Math.floor(time);
  const part = time - at;
  return (1 - part) * bend[at] + part * bend[at + 1];
}
