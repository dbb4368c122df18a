import { degreesPerRadian, referenceRate } from "../../../base/constants.ts";
import type { Study } from "../../../base/study.ts";
import { lengthOf } from "../../../base/vector.ts";
import { rigOf } from "../../../rig/rig.ts";
import { gridOf } from "../../../time/grid.ts";
import { defineCheck } from "../../check.ts";
import { ownFindings, type PacedFinding } from "../shared/own-findings.ts";
import {
  carriedTurnOf,
  motionsOf,
  paceFault,
  placeOf,
  type Stepping,
  sameness,
  type Way,
  wayBetween,
} from "../shared/paces.ts";
import { isPlanted, isTouched } from "../shared/touch.ts";
import { usualUnevenness } from "../shared/usual.ts";

/** With numbers in working units. */
export interface HitchFinding extends PacedFinding {
  readonly numbers: {
    readonly here: number;
    readonly around: number;
    readonly turns: number;
    readonly own: number;
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
/**
 * A step that makes up for a hitch covers the frames that it stood, and its own, within this factor: fast steps vary by
 * that much within an ease (common practice: an ease about halves its spacing in two frames, so that it changes by a
 * factor of about 1.4 from one to the next).
 */
const madeUp = 1.5;
/**
 * A part that is carried has to show at least this share of its halt in the world: less is a counter-move that keeps it
 * still, as a head that looks ahead on a body that turns (our choice).
 */
const shownShare = 0.5;
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
    "Travel and turning in the world, and turning against what carries the part, pose by pose. A hitch is one to three steps of at most a quarter of the median of the two steps before and the two after. The steps of either side are alike within a factor of 2. Had their spacing gone on to change as it does, neither side would have come down to that. Both would have met at the hitch within a factor of 2. A step just before or behind it may make up for it. Within a factor of 1.5 it is as long as all of these steps should be; then the two steps beyond it are judged. The drop from the middle between the steps on either side is more than four times what is usual. Usual is how far steps around it are off the middle of theirs (median × 1.4826 over ten poses on each side). The way after goes on within 45° of the way before. A part that is carried shows at least half of its halt in the world.",
  fix: "Take out one of the two keys that hold the part, or space the frames evenly between them.",
  notAFault: [
    "a hold that was meant: more than 3 frames",
    "frames held by step keys",
    "a turn-round, which has to slow down",
    "a contact of the part's limb, or an impact of the whole body",
    "a counter-move of a part that stays where it is while its carrier moves",
  ],
  limits: ["A frame of the source that was doubled shows as a hitch of the whole figure, noted at its root."],
  sources: [],
  since: "0.1.0",
  settings,
  followsCause: true,
  styles: { twos: { share: 0.5 } },
  isOfMoment: true,
  find(study, node, values) {
    const found = ownFindings(hitches(study, node, values), rigOf(study).parent[node], (parent) =>
      hitches(study, parent, values),
    );
    return found.filter((finding) => finding.carried !== true || !showsBelow(study, node, finding, values));
  },
  word({ from, to, numbers }, words) {
    const around = numbers.turns === 1 ? words.angle(numbers.around) : words.length(numbers.around);
    const here = numbers.turns === 1 ? words.angle(numbers.here) : words.length(numbers.here);
    const does = numbers.turns === 0 ? "travels" : numbers.own === 1 ? "itself turns" : "turns";
    const key = words.keys[0];
    const instead =
      key === undefined ? "" : `, or take out the ${key.channel} key at frame ${key.frame} of ${key.node}`;
    return {
      message: `${words.part} ${does} only ${here} a frame at ${words.counted(from, to)}, between frames of ${around}`,
      suggestion: `space ${words.span(from, to)} evenly: about ${around} a frame${instead}`,
    };
  },
});

/** A hitch among the steps of a motion: its slow steps first..last, and what the part does around it. */
interface Slow {
  readonly first: number;
  readonly last: number;
  readonly here: number;
  readonly around: number;
}

function hitches(study: Study, node: number, values: HitchValues): HitchFinding[] {
  const found: HitchFinding[] = [];
  const carried = carriedTurnOf(study, node);
  for (const motion of carried === null ? motionsOf(study, node) : [...motionsOf(study, node), carried]) {
    for (const slow of slowSteps(study, motion, values)) {
      if (!goesOn(study, node, motion, slow)) continue;
      const finding = findingOf(study, node, motion, slow, values.share);
      if (finding !== null) found.push(finding);
    }
  }
  return found;
}

/** Whether what hangs on a carried part halts in the world with it: it is plainer there, and has the same keys. */
function showsBelow(study: Study, node: number, { from, to }: HitchFinding, values: HitchValues): boolean {
  const { parent, subtreeSize } = rigOf(study);
  for (let child = node + 1; child < node + subtreeSize[node]; child++) {
    if (parent[child] !== node) continue;
    if (hitches(study, child, values).some((other) => !other.carried && other.from <= to && from <= other.to))
      return true;
  }
  return false;
}

function slowSteps(study: Study, { pace, seen }: Stepping, values: HitchValues): Slow[] {
  const { steps, poses } = pace;
  const found: Slow[] = [];
  const least = (values.spacing * referenceRate) / (gridOf(study).rate * seen);
  const longest = Math.max(1, Math.round(values.longest));
  for (let i = 3; i < steps.length - 2; i++) {
    // Walk on to the first slow step behind a fast one.
    if (steps[i - 1] < least || steps[i] > values.share * steps[i - 1]) continue;
    const after = i + slowLength(steps, i, values.share * steps[i - 1]);
    if (after + 1 >= steps.length || steps[after] < least) continue;
    if (poses[after - 1] - poses[i - 1] > longest) continue;
    const slow = slowBetween(steps, i, after - 1, values);
    if (slow === null) continue;
    found.push(slow);
    i = after;
  }
  return found;
}

function slowLength(steps: Float64Array, at: number, limit: number): number {
  let end = at + 1;
  while (end < steps.length && steps[end] <= limit) end++;
  return end - at;
}

/**
 * Whether slow steps interrupt one move: as the steps beside them go, or without a step just before or behind them that
 * makes up for them.
 */
function slowBetween(steps: Float64Array, first: number, last: number, values: HitchValues): Slow | null {
  let here = 0;
  for (let i = first; i <= last; i++) here = Math.max(here, steps[i]);
  const one = (before: number, after: number): Slow | null => {
    if (before < 2 || after + 1 >= steps.length) return null;
    const sides = [steps[before - 1], steps[before], steps[after], steps[after + 1]] as const;
    const around = middleOf(...sides);
    const slow = values.share * around;
    if (here > slow || !isOneMove(...sides, slow)) return null;
    const between = (steps[before] + steps[after]) / 2;
    const usual = usualUnevenness(steps, before + 1, after - 1);
    return between - here < values.spread * usual ? null : { first, last, here, around };
  };
  const [near, after] = [first - 1, last + 1];
  const gap = last - first + 2;
  return (
    one(near, after) ??
    (makesUp(steps[after], gap, steps[near], steps[after + 1]) ? one(near, after + 1) : null) ??
    (makesUp(steps[near], gap, steps[near - 1], steps[after]) ? one(near - 1, after) : null)
  );
}

/** Whether a step is as long as the steps on either side of it and of a hitch would have been in its time together. */
function makesUp(step: number, gap: number, before: number, after: number): boolean {
  const whole = (gap * (before + after)) / 2;
  return step >= whole / madeUp && step <= whole * madeUp;
}

/**
 * Whether the two steps before a hitch and the two after it belong to one move, which would not have stopped there. The
 * steps of either side are alike; carried on as they change, neither side comes down to what is slow, and the two sides
 * meet.
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

/** Whether the part goes on behind a hitch in its direction; if it is carried, whether its halt shows in the world. */
function goesOn(study: Study, node: number, motion: Stepping, { first, last }: Slow): boolean {
  if (sameness(study, node, motion, first - 1, last + 1) < sameWay) return false;
  if (!motion.own) return true;
  const { poses } = motion.pace;
  const world = { kind: motion.kind, own: false };
  const [from, to] = [poses[first - 1], poses[last]];
  for (const [start, end] of [
    [poses[first - 2], from],
    [to, poses[last + 1]],
  ]) {
    const change = (of: Pick<Stepping, "kind" | "own">) =>
      changeOf(
        wayBetween(study, node, of, start, end),
        end - start,
        wayBetween(study, node, of, from, to),
        to - from,
      );
    if (change(world) < shownShare * change(motion)) return false;
  }
  return !isPlanted(study, node, from, to);
}

/** How far two ways, each of some frames, differ per frame. */
function changeOf(a: Way, framesOfA: number, b: Way, framesOfB: number): number {
  return lengthOf(
    a[0] / framesOfA - b[0] / framesOfB,
    a[1] / framesOfA - b[1] / framesOfB,
    a[2] / framesOfA - b[2] / framesOfB,
  );
}

function findingOf(
  study: Study,
  node: number,
  motion: Stepping,
  { first, last, here, around }: Slow,
  share: number,
): HitchFinding | null {
  const length = last - first + 1;
  const place = placeOf(study, node, motion, first, last);
  if (isTouched(study, node, place.from, place.to, motion.kind)) return null;
  const turns = motion.kind === "orientation";
  const toUnit = turns ? degreesPerRadian : 1;
  const unit = turns ? "deg" : "m";
  const frames = place.to - motion.pace.poses[first - 1];
  return {
    ...place,
    measured: { quantity: "spacing in the hitch, per frame", value: here * toUnit, unit },
    expected: { min: share * around * toUnit, unit, source: settings.share.source },
    // How many times slower than allowed, up to five times: a full stop is no worse than a crawl.
    excess: (share * around) / Math.max(here, (share * around) / 5),
    size: around * frames * motion.seen,
    seen: motion.seen,
    carried: motion.own,
    numbers: { here, around, turns: turns ? 1 : 0, own: motion.own ? 1 : 0 },
    fault: paceFault(study, node, motion, [first - 1, last + 1], [first - 1, last], (steps) => {
      let slowest = 0;
      for (let k = 1; k <= length; k++) slowest = Math.max(slowest, steps[k]);
      return Math.max(0, Math.min(steps[0], steps[length + 1]) - slowest);
    }),
  };
}
