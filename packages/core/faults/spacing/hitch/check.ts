import { degreesPerRadian, referenceRate } from "../../../base/constants.ts";
import type { Study } from "../../../base/study.ts";
import { rigOf } from "../../../rig/rig.ts";
import { gridOf } from "../../../time/grid.ts";
import { defineCheck } from "../../check.ts";
import {
  type Motion,
  motionsOf,
  ownFindings,
  type PacedFinding,
  paceFault,
  placeOf,
  sameness,
  usualUnevenness,
} from "../shared/paces.ts";
import { isTouched } from "../shared/touch.ts";

/** With numbers in working units. */
export interface HitchFinding extends PacedFinding {
  readonly numbers: {
    readonly here: number;
    readonly around: number;
    readonly turns: number;
  };
}

const settings = {
  spacing: {
    default: 0.004,
    unit: "H",
    what: "least spacing per frame (at 24 per second) around a hitch, in body heights",
    source:
      "common practice: about 7 mm a frame of a grown person; in slower motion a stop of a frame or two is not seen",
    min: 0,
  },
  share: {
    default: 0.25,
    unit: "share",
    what: "share of the spacing around it under which a frame counts as almost no travel",
    source:
      "common practice: an ease about halves its spacing from frame to frame; a drop to a quarter within one frame is a stop",
    min: 0,
    max: 1,
  },
  spread: {
    default: 4,
    unit: "ratio",
    what: "how many times more than steps around it (median × 1.4826) the drop is off the middle between its neighbours",
    source:
      "common practice: outlier filters usually cut at three spreads (Hampel identifier); one more, since fast steps vary by nature",
    min: 0,
  },
  longest: {
    default: 3,
    unit: "frames",
    what: "longest hitch; what stands still longer is a hold",
    source:
      "common practice: on twos a pose stands for two frames, so that a stop has to last four, two drawings, to read as a hold",
    min: 1,
  },
} as const;

type HitchValues = { readonly [K in keyof typeof settings]: number };

/** Steps, and what is expected from them, are alike within this factor: an ease about doubles from step to step. */
const evenness = 2;
/** The move goes on in its direction within this angle's cosine (45°): a turn-round has to slow down. */
const sameWay = Math.SQRT1_2;

/** In the middle of a move, a frame or two of almost no travel. */
export const hitch = defineCheck({
  name: "hitch",
  title: "Hitch",
  family: "spacing",
  scope: "node",
  ceiling: "major",
  what: "In the middle of a move, for one to three frames, a part hardly travels, and then goes on.",
  why: "Nothing that moves stops for a frame and goes on at the same speed: the eye reads a stumble of the film, not of the figure.",
  computes:
    "Travel and turning in the world, pose by pose. A hitch is one to three steps of at most a quarter of the median of the two steps before and the two after. The steps of either side are alike within a factor of 2. Had their spacing gone on to change as it does, neither side would have come down to that. Both would have met at the hitch within a factor of 2; a step after it that makes up for it is left out of that. The drop from the middle between the steps on either side is more than four times what is usual. Usual is how far steps around it are off the middle of theirs (median × 1.4826 over ten poses on each side). The way after goes on within 45° of the way before.",
  fix: "Take out one of the two keys that hold the part, or space the frames evenly between them.",
  notAFault: [
    "a hold that was meant: more than 3 frames",
    "frames held by step keys",
    "a turn-round, which has to slow down",
    "a contact of the part's limb, or an impact of the whole body",
  ],
  limits: ["A frame of the source that was doubled shows as a hitch of the whole figure, noted at its root."],
  sources: [],
  since: "0.1.0",
  settings,
  followsCause: true,
  styles: { twos: { share: 0.5 } },
  isOfMoment: true,
  find(study, node, values) {
    return ownFindings(hitches(study, node, values), rigOf(study).parent[node], (parent) =>
      hitches(study, parent, values),
    );
  },
  word({ from, to, numbers }, words) {
    const around = numbers.turns === 1 ? words.angle(numbers.around) : words.length(numbers.around);
    const here = numbers.turns === 1 ? words.angle(numbers.here) : words.length(numbers.here);
    const does = numbers.turns === 1 ? "turns" : "travels";
    const key = words.keys[0];
    const instead =
      key === undefined ? "" : `, or take out the ${key.channel} key at frame ${key.frame} of ${key.node}`;
    return {
      message: `${words.part} ${does} only ${here} a frame at ${words.counted(from, to)}, between frames of ${around}`,
      suggestion: `space ${words.span(from, to)} evenly: about ${around} a frame${instead}`,
    };
  },
});

function hitches(study: Study, node: number, values: HitchValues): HitchFinding[] {
  const found: HitchFinding[] = [];
  const { rate } = gridOf(study);
  for (const motion of motionsOf(study, node)) {
    const { steps } = motion.pace;
    const least = (values.spacing * referenceRate) / (rate * motion.seen);
    const longest = Math.max(1, Math.round(values.longest));
    for (let i = 3; i < steps.length - 2; i++) {
      // Walk on to the first slow step behind a fast one.
      if (steps[i - 1] < least || steps[i] > values.share * steps[i - 1]) continue;
      const length = slowLength(steps, i, values.share * steps[i - 1]);
      const after = i + length;
      if (length > longest || after + 1 >= steps.length || steps[after] < least) continue;
      const around = middleOf(steps[i - 2], steps[i - 1], steps[after], steps[after + 1]);
      let here = 0;
      for (let k = i; k < after; k++) here = Math.max(here, steps[k]);
      const slow = values.share * around;
      if (here > slow) continue;
      if (!isOneMove(steps[i - 2], steps[i - 1], steps[after], steps[after + 1], slow)) continue;
      const between = (steps[i - 1] + steps[after]) / 2;
      if (between - here < values.spread * usualUnevenness(steps, i, after - 1)) continue;
      const span = motion.pace.poses[after - 1] - motion.pace.poses[i - 1];
      if (span > values.longest || sameness(study, node, motion, i - 1, after) < sameWay) continue;
      const finding = findingOf(study, node, motion, i, length, here, around, values.share);
      if (finding !== null) found.push(finding);
      i = after;
    }
  }
  return found;
}

function slowLength(steps: Float64Array, at: number, limit: number): number {
  let end = at + 1;
  while (end < steps.length && steps[end] <= limit) end++;
  return end - at;
}

/**
 * Whether the two steps before a hitch and the two after it belong to one move, which would not have stopped there. The
 * steps of either side are alike; carried on as they change, neither side comes down to what is slow, and the two sides
 * meet. A step after the hitch that makes up for it counts as the one behind it.
 */
function isOneMove(far: number, near: number, after: number, behind: number, slow: number): boolean {
  if (Math.min(far, near, after, behind) <= slow) return false;
  if (!areAlike(far, near) || !areAlike(after, behind)) return false;
  const fromBefore = 2 * near - far;
  const fromAfter = Math.min(behind, 2 * after - behind);
  return fromBefore > slow && fromAfter > slow && areAlike(fromBefore, fromAfter);
}

function areAlike(a: number, b: number): boolean {
  return Math.max(a, b) <= evenness * Math.min(a, b);
}

/** Median of four: the mean of the middle two. */
function middleOf(a: number, b: number, c: number, d: number): number {
  return (a + b + c + d - Math.min(a, b, c, d) - Math.max(a, b, c, d)) / 2;
}

function findingOf(
  study: Study,
  node: number,
  motion: Motion,
  at: number,
  length: number,
  here: number,
  around: number,
  share: number,
): HitchFinding | null {
  const last = at + length - 1;
  const place = placeOf(study, node, motion, at, last);
  if (isTouched(study, node, place.from, place.to)) return null;
  const turns = motion.kind === "orientation";
  const toUnit = turns ? degreesPerRadian : 1;
  const unit = turns ? "deg" : "m";
  const frames = place.to - motion.pace.poses[at - 1];
  return {
    ...place,
    measured: { quantity: "spacing in the hitch, per frame", value: here * toUnit, unit },
    expected: { min: share * around * toUnit, unit, source: settings.share.source },
    // How many times slower than allowed, up to five times: a full stop is no worse than a crawl.
    excess: (share * around) / Math.max(here, (share * around) / 5),
    size: around * frames * motion.seen,
    seen: motion.seen,
    numbers: { here, around, turns: turns ? 1 : 0 },
    fault: paceFault(study, node, motion, [at - 1, last + 1], [at - 1, last], (steps) => {
      let slowest = 0;
      for (let k = 1; k <= length; k++) slowest = Math.max(slowest, steps[k]);
      return Math.max(0, Math.min(steps[0], steps[length + 1]) - slowest);
    }),
  };
}
