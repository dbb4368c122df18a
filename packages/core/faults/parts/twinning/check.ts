import { referenceRate } from "../../../base/constants.ts";
import { excused } from "../../../base/excuse.ts";
import { bytes } from "../../../base/room.ts";
import type { Study } from "../../../base/study.ts";
import { bodyPathOf, mirrored } from "../../../motion/body/body-path.ts";
import { distances } from "../../../motion/parts/grips.ts";
import { bodyCutsOf, isCutBetween } from "../../../motion/path/cuts.ts";
import { figuresOf, statureOf } from "../../../rig/body.ts";
import { gridOf } from "../../../time/grid.ts";
import { runsWhere } from "../../../time/span.ts";
import { defineCheck } from "../../check.ts";
import type { TwinningFinding } from "./finding.ts";
import { figuresInStep, togetherSource } from "./in-step.ts";
import {
  areJoined,
  bothMoving,
  correlationOf,
  distanceBetween,
  eitherMoving,
  isOffset,
  noneSet,
  similarity,
  stepOf,
  stepsApart,
} from "./likeness.ts";
import { naturalFrames } from "./natural.ts";
import { armKeys, isLevel, type Pair, pairOf } from "./pair.ts";

const settings = {
  correlation: {
    default: 0.95,
    unit: "ratio",
    what: "correlation at zero lag of the one side's motion with the mirrored other side's",
    source: "common practice: the same move, not merely a similar one",
    min: 0,
    max: 1,
  },
  frames: {
    default: 12,
    unit: "frames",
    what: "for how long both sides have to do the same",
    source: "common practice: half a second is long enough to be read as one gesture",
    min: 4,
  },
  pose: {
    default: 0.04,
    unit: "H",
    what: "mean distance between the one hand and the mirrored other one up to which the poses are the same",
    source: "common practice: about a hand's breadth",
    min: 0,
  },
  copied: {
    default: 0.03,
    unit: "share",
    what: "difference of the mirrored hands' steps, as a share of their way, up to which arms that balance the body are copies",
    source:
      "from memory: hands that move in step wander by 5° in phase and more (Kelso 1984), which makes 0.055 on the average; half of that is no living pair",
    min: 0,
    max: 1,
  },
  speed: {
    default: 0.1,
    unit: "H/s",
    what: "speed against the chest above which a hand counts as moving",
    source:
      "common practice: 7 mm a frame of a grown person; a hand that drifts more slowly is in a moving hold",
    min: 0,
  },
  together: {
    default: 0.9,
    unit: "ratio",
    what: "correlation of when two figures act, from which on they act as one",
    source: togetherSource,
    min: 0,
    max: 1,
  },
} as const;

/** Left and right arm do the same at the same time. */
export const twinning = defineCheck({
  name: "twinning",
  title: "Twinning",
  family: "parts",
  scope: "figure",
  ceiling: "major",
  hangsOn: ["body"],
  what: "Both arms do the same thing at the same time, or several figures act on the very same frames.",
  why: "Bodies favour a side: arms that mirror each other frame by frame read as one mechanism and flatten the pose. Figures that all move and rest on the same frames look like puppets of one hand.",
  computes:
    "Velocities of both hands against the chest are compared, the right one mirrored on the body's own plane of symmetry. Measured are their correlation at zero lag, their share in size, and the mean distance between the one hand and the mirrored other. A window is half a second in which both move, on the average faster than a drift. A move in poses counts, and so does a quick one into a pose that both keep. Moves out and back with such a pose between them, kept for less than a window, are one gesture. The note marks the frames from the one on which the hands set out to the one on which they arrive. A move that takes less than half a second, or poses that step keys cut to, is a minor note at most. So are arms that balance the body and are copies of each other. The correlation that is told is that over these frames. Of two figures it is compared when they act: the square root of what their joints turn from frame to frame. They act as one where that correlates by 0.9 and more, over four beats and more, and an offset by two frames fits four times worse. A beat is a stretch in which a figure acts more than on the average. It is told once of each group, at its first figure.",
  fix: "Start one arm two or three frames after the other, and let its pose differ.",
  notAFault: [
    "arms of which one is before the other: their moves are more alike two frames apart than at once",
    "jumps, with the frames that lead into them and out of them, until the arms have come down from balancing the landing; but for copies",
    "a body that goes down or up on both legs by a tenth of its height, as in sitting down: the arms balance it; but for copies",
    "hands joined: near each other, at a distance that stays the same",
    "hands that hold one thing, go to it or leave it, in poses too",
    "figures that hold one thing together, or each other's hands, unless the one is a copy of the other in its poses",
    "wings: they beat together by nature",
    "fore legs: limbs of a trunk that lies level in its rest pose",
  ],
  limits: [
    "Of one figure it looks at hands only; legs mirror each other in every jump and crouch.",
    "Crews, dancers and soldiers are meant to act as one: that is a minor note at most, and for a waiver.",
  ],
  sources: ["Common practice: left and right are kept apart in time or in pose (twinning)"],
  since: "0.1.0",
  settings,
  comparesMirrored: true,
  find(study, index, values) {
    const figure = figuresOf(study)[index];
    const inStep = figuresInStep(study, index, values);
    const pair = pairOf(figure);
    if (pair === null) return inStep;
    if (isLevel(study, figure, pair)) {
      excused(
        pair.left,
        0,
        gridOf(study).count - 1,
        "its trunk lies level: its fore limbs are legs or wings",
      );
      return inStep;
    }
    const { count, dt, rate } = gridOf(study);
    // A minimum is not rounded up by the rate.
    const window = Math.max(4, Math.floor(values.frames + 0.01));
    if (count < window + 2) return inStep;
    const left = bodyPathOf(study, pair.left);
    const right = mirrored(bodyPathOf(study, pair.right));
    const step = values.speed * dt;
    const busy = bothMoving(left, right, step);
    if (!busy.includes(1)) return inStep;
    const natural = naturalFrames(study, index, pair, busy, eitherMoving(left, right));
    const apart = distances(study, pair.left, pair.right);
    const stature = statureOf(study, index);
    const offset = Math.max(1, Math.round((offsetFrames * rate) / referenceRate));
    const alike = bytes(count);
    for (let from = 1; from + window <= count; from++) {
      if (!noneSet(natural.bound, from, from + window)) continue;
      const correlation = correlationOf(left, right, from, from + window, step);
      if (correlation < values.correlation) continue;
      if (distanceBetween(left, right, from, from + window) > values.pose) continue;
      if (isOffset(left, right, from, from + window, offset)) {
        excused(-1, from, from + window - 1, "one hand is before the other");
        continue;
      }
      if (areJoined(apart, from - 1, from + window, stature)) {
        excused(-1, from, from + window - 1, "the hands are joined");
        continue;
      }
      if (
        !noneSet(natural.balanced, from, from + window) &&
        stepsApart(left, right, from, from + window) > values.copied
      )
        continue;
      alike.fill(1, from, from + window);
    }
    const gestures = gesturesOf(left, right, alike, busy, values.pose, window).map((steps) => {
      const told = finding(study, index, pair, left, right, steps, values, window);
      // That they do the same at all is explained.
      const isFree = noneSet(natural.balanced, told.from, told.to + 1);
      return isFree ? told : { ...told, ceiling: "minor" as const };
    });
    return [...inStep, ...gestures];
  },
  word(finding, words) {
    const { correlation, offset } = finding.numbers;
    if (finding.figures !== undefined) {
      const names = `${finding.figures.slice(0, -1).join(", ")} and ${finding.figures.at(-1)}`;
      return {
        message: `${names} move and rest on the very same frames, ${words.span(finding.from, finding.to)}: ${words.share(correlation)} alike in time`,
        suggestion: `give each a time of its own: start one after the other, ${words.frames(offset)} apart and more`,
      };
    }
    return {
      message: `both arms make the same move in ${words.counted(finding.from, finding.to)}, ${words.share(correlation)} alike and with no offset`,
      suggestion: `start the ${words.part.replace(/ ?\(.*/, "")} ${words.frames(offset)} later, or let its pose differ by more than ${words.length(finding.numbers.pose)}`,
    };
  },
});

/** Frames at 24 per second by which one arm has to be before the other to be offset: common practice. */
const offsetFrames = 2;

/** Samples in which both arms do the same: the steps from the first in which both hands move to the last one. */
interface Gesture {
  readonly first: number;
  readonly last: number;
  /** Samples that are alike, with the poses that are kept. */
  readonly alike: number;
}

/** Gestures from the samples that are alike: moves with a mirrored pose between them are one, if it is kept for
 * less than a window: it is not read by itself. */
function gesturesOf(
  left: Float64Array,
  right: Float64Array,
  alike: Uint8Array,
  busy: Uint8Array,
  pose: number,
  window: number,
): Gesture[] {
  const found: Gesture[] = [];
  for (const { from, to } of runsWhere(alike.length, (i) => alike[i] === 1)) {
    let first = from;
    while (first < to && busy[first] === 0) first++;
    let last = to;
    while (last > first && busy[last] === 0) last--;
    if (busy[first] === 0) continue;
    const before = found.at(-1);
    const isOne =
      before !== undefined &&
      first - before.last <= window &&
      distanceBetween(left, right, before.last, first) <= pose;
    if (isOne) found[found.length - 1] = { first: before.first, last, alike: before.alike + to - from + 1 };
    else found.push({ first, last, alike: to - from + 1 });
  }
  return found;
}

function finding(
  study: Study,
  figure: number,
  pair: Pair,
  left: Float64Array,
  right: Float64Array,
  steps: Gesture,
  values: { correlation: number; pose: number },
  window: number,
): TwinningFinding {
  const { first, last: to } = steps;
  // The first step sets out from the sample before it.
  const from = first - 1;
  const frames = to - from;
  let travel = 0;
  for (let i = first; i <= to; i++) travel += stepOf(left, i);
  const correlation = similarity(left, right, first, to + 1, 0);
  const { rate } = gridOf(study);
  // Two frames at 24 per second for a short gesture, three for a long one: common practice for an offset.
  const offset = Math.max(1, Math.round(((frames > 2 * window ? 3 : 2) * rate) / referenceRate));
  return {
    node: pair.rightArm,
    figure,
    from,
    to,
    measured: { quantity: "correlation of the mirrored arms", value: correlation, unit: "ratio" },
    expected: { max: values.correlation, unit: "ratio", source: settings.correlation.source },
    excess: steps.alike / window,
    // What takes less than the time in which a gesture is read is seen, but flattens no pose; and poses that step keys
    // cut to have no timing yet, by which one arm could be before the other.
    ...((frames < window || isCutBetween(bodyCutsOf(study, figure), from, to)) && {
      ceiling: "minor" as const,
    }),
    size: travel / 2,
    // By so much the one hand would be behind the other on the average.
    amiss: travel * Math.min(0.5, offset / frames),
    numbers: {
      correlation,
      offset,
      pose: values.pose,
    },
    fault: { kind: "keys", keys: armKeys(study, pair, from, to) },
  };
}
