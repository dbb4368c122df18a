import { degreesPerRadian, referenceRate } from "../../../base/constants.ts";
import type { Study } from "../../../base/study.ts";
import { rigOf } from "../../../rig/rig.ts";
import { gridOf } from "../../../time/grid.ts";
import { defineCheck } from "../../check.ts";
import { siftedPoses } from "../shared/kept-finds.ts";
import { isSeenInWorld, paceFault, sameness } from "../shared/motion-frame.ts";
import { ownFindings, type PacedFinding } from "../shared/own-findings.ts";
import { allMotionsOf, type Motion, placeOf, type Steps } from "../shared/paces.ts";
import { isPlanted, isTouched } from "../shared/touch.ts";
import { usualUnevenness } from "../shared/usual.ts";

/** With numbers in working units. */
export interface HitchFinding extends PacedFinding {
  readonly numbers: {
    readonly here: number;
    readonly around: number;
    readonly turns: number;
    /** Node against which it is judged (rig index); -1 in the world. */
    readonly carrier: number;
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

/** The two steps on the side that breaks off are alike within this factor: an ease about doubles from step to step. */
const evenness = 2;
/**
 * Steps within which an eased side is at its pace again: eases halve from step to step (common practice), so that two
 * steps beside the third one it is under a quarter of it.
 */
const easeSteps = 3;
/**
 * Frames (at 24 per second) from which on a halt is seen as one: what lasts for less than half a frame of film is on one
 * frame in two at most, and shows there as spacing that is a little uneven.
 */
const leastSeen = 0.5;
/** Steps beyond a hitch and an ease that tell what is usual there, with those that tell of these (see `usual.ts`). */
const unevenReach = 16;
/** The move goes on in its direction within this angle's cosine (45°): a turn-round has to slow down. */
const sameWay = Math.SQRT1_2;

/** In the middle of a move, a frame or two of almost no travel. */
export const hitch = defineCheck({
  name: "hitch",
  title: "Hitch",
  family: "spacing",
  scope: "node",
  ceiling: "major",
  notBefore: "splining",
  what: "In the middle of a move, for one to three frames, a part hardly travels, and then goes on.",
  why: "Nothing that moves stops for a frame and goes on at the same speed: the eye reads a stumble of the film, not of the figure.",
  computes:
    "Travel and turning in the world, pose by pose, and its own turn against its parent. For limbs, neck and head, and the trunk also their travel against the node above their first joint. For a tail behind a trunk that swings with it, also against what carries the trunk. A hitch is one to three frames of at most a quarter of the pace before and behind them. On one side at least the part breaks off, or sets out, at once. The two steps there are alike within a factor of 2, and going on as they change they would not have come down to what is slow. A part that breaks off as it sets out may get faster by more than that. Its pace has then to be like that behind the hitch, as a step tells it that makes up for it. On the other side it may ease: its pace is that of the fastest of three steps. A step that is out of their row, and faster than the step on the side that breaks off, makes up for the hitch and counts as spread over it. Neither pace is less than a quarter of the other. The drop from the middle between the steps on either side is more than four times what is usual. Usual is how far steps around it are off the middle of theirs (median × 1.4826 over ten poses on each side). Of these only those at half of the pace at least count, if there are three. The way after goes on within 45° of the way before, and on neither side are the next two steps alike and opposite. A part that is carried shows at least half of either change in the world, or half of how far the change is off those before and behind it.",
  fix: "Take out one of the two keys that hold the part, or space the frames evenly between them.",
  notAFault: [
    "a hold that was meant: more than 3 frames, or one that the part eases into and out of",
    "frames held by step keys",
    "a turn-round, which has to slow down",
    "frames next to one that is off the path and comes back: a pop",
    "a contact of the part's limb, or an impact of the whole body",
    "a counter-move of a part that stays where it is while its carrier moves",
  ],
  limits: [
    "A frame of the source that was doubled shows as a hitch of the whole figure, noted at its root.",
    "A halt of less than half a frame at 24 per second, a doubled frame of a recording at 100 say, is a minor note at most.",
  ],
  sources: [],
  since: "0.1.0",
  settings,
  followsCause: true,
  styles: {
    limited: {
      times: { share: 0.5 },
      why: "Few drawings make spacing coarse: one of them may lie close to the one before.",
    },
    twos: { times: { share: 0.5 }, why: "Half as many poses make spacing coarser from one to the next." },
  },
  isOfMoment: true,
  find(study, node, values) {
    return ownFindings(hitches(study, node, values), rigOf(study).parent[node], (parent) =>
      hitches(study, parent, values),
    );
  },
  word({ from, to, numbers }, words) {
    const around = numbers.turns === 1 ? words.angle(numbers.around) : words.length(numbers.around);
    const here = numbers.turns === 1 ? words.angle(numbers.here) : words.length(numbers.here);
    const does = numbers.turns === 0 ? "travels" : "turns";
    const against = numbers.carrier < 0 ? "" : ` against ${words.name(numbers.carrier)}`;
    const key = words.keys[0];
    const instead =
      key === undefined ? "" : `, or take out the ${key.channel} key at frame ${key.frame} of ${key.node}`;
    return {
      message: `${words.part} ${does} only ${here} a frame${against} at ${words.counted(from, to)}, between frames of ${around}`,
      suggestion: `space ${words.span(from, to)} evenly: about ${around} a frame${instead}`,
    };
  },
});

/** A hitch among the steps of a motion: its slow steps first..last, and what the part does around it. */
interface Slow {
  readonly first: number;
  readonly last: number;
  readonly here: number;
  /** The middle between the paces on either side. */
  readonly around: number;
  /** Whether the step before it is the one that breaks off; else the step behind it sets out at once. */
  readonly breaksOff: boolean;
}

function hitches(study: Study, node: number, values: HitchValues): HitchFinding[] {
  const found: HitchFinding[] = [];
  for (const motion of allMotionsOf(study, node)) {
    for (const slow of slowSteps(study, node, motion, values)) {
      if (!goesOn(study, node, motion, slow)) continue;
      const finding = findingOf(study, node, motion, slow, values.share);
      if (finding !== null) found.push(finding);
    }
  }
  return found;
}

function slowSteps(study: Study, node: number, motion: Motion, values: HitchValues): Slow[] {
  const found: Slow[] = [];
  const least = (values.spacing * referenceRate) / (gridOf(study).rate * motion.seen);
  const sees = [least, values.share, values.spread, values.longest];
  const reach = Math.round(values.longest) + easeSteps + unevenReach;
  const sift = (pace: Steps, from: number, to: number, passing: number[]) =>
    addSlow(pace, from, to, least, values, passing);
  let end = 0;
  for (const i of siftedPoses(study, node, motion, "hitch", sees, reach, sift)) {
    const slow = slowAt(motion.pace, i, least, values);
    if (slow === null || slow.first <= end) continue;
    found.push(slow);
    end = slow.last;
  }
  return found;
}

/** Adds the poses from..to beside which something is slow. */
function addSlow(
  pace: Steps,
  from: number,
  to: number,
  least: number,
  values: HitchValues,
  passing: number[],
): void {
  const { steps } = pace;
  const { share } = values;
  const last = Math.min(to, steps.length - 2);
  for (let i = Math.max(2, from); i <= last; i++) {
    // Most steps are told off by those beside them.
    const slow = share * steps[i];
    if (steps[i] < least || (steps[i + 1] > slow && steps[i - 1] > slow)) continue;
    if (slowAt(pace, i, least, values) !== null) passing.push(i);
  }
}

/** What is slow next to a step of the course, against it: before a hitch, or behind it. */
function slowAt({ steps, poses }: Steps, i: number, least: number, values: HitchValues): Slow | null {
  if (i < 2 || i >= steps.length - 1 || steps[i] < least) return null;
  return slowBeside(steps, poses, i, 1, least, values) ?? slowBeside(steps, poses, i, -1, least, values);
}

/**
 * The slow steps next to a step of a move, behind it (`direction` 1) or before it (−1), where that step breaks off or
 * sets out at once: it is like the one on its other side, and carried on as the two change it would not have come down
 * to what is slow. Beyond the slow steps the part goes on; there it may ease, out of them or into them.
 */
function slowBeside(
  steps: Float64Array,
  poses: Int32Array,
  at: number,
  direction: 1 | -1,
  least: number,
  values: HitchValues,
): Slow | null {
  const next = at + direction;
  const far = at - direction;
  if (far < 1 || far >= steps.length || steps[next] > values.share * steps[at]) return null;
  const isEven = areAlike(steps[at], steps[far]);
  // A part that has only just set out gets faster by more than that: see below.
  if (!isEven && (direction < 0 || steps[far] > steps[at])) return null;
  if (2 * steps[at] - steps[far] <= values.share * Math.max(steps[at], steps[far])) return null;
  const longest = Math.max(1, Math.round(values.longest));
  let here = 0;
  for (let other = next; other >= 1 && other < steps.length; other += direction) {
    here = Math.max(here, steps[other]);
    const [first, last] = direction > 0 ? [next, other] : [other, next];
    if (first < 2 || poses[last] - poses[first - 1] > longest) return null;
    const beyond = paceBeyond(steps, other, direction, last - first + 2, steps[at]);
    // It is told from a slip by what makes up for the halt, and gives the pace that it had come to.
    if (!isEven && !(catchesUp(steps, other, direction, steps[at]) && areAlike(beyond, steps[at]))) continue;
    const slower = Math.min(beyond, steps[at]);
    if (slower < Math.max(least, values.share * Math.max(beyond, steps[at]))) continue;
    if (here > values.share * slower) return null;
    if (steps[other + direction] <= values.share * slower) continue;
    const usual = usualUnevenness(steps, first, last, slower);
    const drop = (steps[first - 1] + steps[last + 1]) / 2 - here;
    if (drop < values.spread * usual) return null;
    return { first, last, here, around: (beyond + steps[at]) / 2, breaksOff: direction > 0 };
  }
  return null;
}

/**
 * How fast a move is beyond its slow steps: as fast as the fastest of three steps, for eases halve. A first one that is
 * out of their row and faster than the move on the other side makes up for the time that the part stood, `gap` steps
 * with its own, and tells the pace of these. What sets out is out of a row as well (the first steps of a minimum-jerk move
 * are as 1 to 7 to 19), but no faster than the move.
 */
function paceBeyond(
  steps: Float64Array,
  slow: number,
  direction: 1 | -1,
  gap: number,
  otherPace: number,
): number {
  const step = (away: number) => steps[slow + direction * away] ?? 0;
  let pace = 0;
  for (let away = 2; away <= easeSteps; away++) pace = Math.max(pace, step(away));
  return Math.max(pace, catchesUp(steps, slow, direction, otherPace) ? step(1) / gap : step(1));
}

/** Whether the first step beyond slow ones makes up for the time that the part stood: see {@link paceBeyond}. */
function catchesUp(steps: Float64Array, slow: number, direction: 1 | -1, otherPace: number): boolean {
  const step = (away: number) => steps[slow + direction * away] ?? 0;
  let pace = 0;
  for (let away = 2; away <= easeSteps; away++) pace = Math.max(pace, step(away));
  return step(1) > evenness * pace && step(1) > otherPace;
}

function areAlike(a: number, b: number): boolean {
  return Math.max(a, b) <= evenness * Math.min(a, b);
}

/** Whether the steps on either side of a slow one go the same way as those beyond them. */
function keepsItsWay(study: Study, node: number, motion: Motion, slow: number): boolean {
  if (slow > 2 && sameness(study, node, motion, slow - 2, slow - 1) < sameWay) return false;
  if (slow + 2 >= motion.pace.steps.length) return true;
  return sameness(study, node, motion, slow + 1, slow + 2) >= sameWay;
}

/** Whether a part turns back within a pose: the step to it and the one behind it go opposite ways, and are alike. */
function turnsBack(study: Study, node: number, motion: Motion, at: number): boolean {
  const { steps } = motion.pace;
  if (at < 2 || at + 1 >= steps.length || !areAlike(steps[at], steps[at + 1])) return false;
  return sameness(study, node, motion, at, at + 1) < -sameWay;
}

/** Whether the part goes on behind a hitch in its direction; if it is carried, whether its halt shows in the world. */
function goesOn(study: Study, node: number, motion: Motion, { first, last }: Slow): boolean {
  if (sameness(study, node, motion, first - 1, last + 1) < sameWay) return false;
  // What is fast beyond it and turns back at once is a part that leaves its path and comes back: no move goes on there.
  if (turnsBack(study, node, motion, first - 2) || turnsBack(study, node, motion, last + 1)) return false;
  // A single slow step next to a part that leaves its path and comes back is of that.
  if (first === last && !keepsItsWay(study, node, motion, first)) return false;
  if (motion.carrier === undefined) return true;
  if (!isSeenInWorld(study, node, motion, first - 1, first)) return false;
  if (!isSeenInWorld(study, node, motion, last, last + 1)) return false;
  const { poses } = motion.pace;
  return !isPlanted(study, node, poses[first - 1], poses[last]);
}

function findingOf(
  study: Study,
  node: number,
  motion: Motion,
  { first, last, here, around }: Slow,
  share: number,
): HitchFinding | null {
  const place = placeOf(study, node, motion, first, last);
  if (isTouched(study, node, place.from, place.to, motion.kind)) return null;
  const turns = motion.kind === "orientation";
  const toUnit = turns ? degreesPerRadian : 1;
  const unit = turns ? "deg" : "m";
  const frames = place.to - motion.pace.poses[first - 1];
  const isBrief = frames * referenceRate < leastSeen * gridOf(study).rate;
  return {
    ...(isBrief ? { ceiling: "minor" as const } : {}),
    ...place,
    measured: { quantity: "spacing in the hitch, per frame", value: here * toUnit, unit },
    expected: { min: share * around * toUnit, unit, source: settings.share.source },
    // How many times slower than allowed, up to five times: a full stop is no worse than a crawl.
    excess: (share * around) / Math.max(here, (share * around) / 5),
    size: around * frames * motion.seen,
    seen: motion.seen,
    isCarried: motion.carrier !== undefined,
    numbers: { here, around, turns: turns ? 1 : 0, carrier: motion.carrier ?? -1 },
    // Twice as fast as it has to be is fast enough.
    fault: paceFault(
      study,
      node,
      motion,
      [first, last],
      [first - 1, last],
      ["hitch", share, around],
      (steps) => Math.max(0, 2 * share * around - steps.reduce((most, step) => Math.max(most, step))),
    ),
  };
}
