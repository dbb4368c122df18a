import type { Study } from "../../../base/study.ts";
import { rigOf } from "../../../rig/rig.ts";
import { gridOf } from "../../../time/grid.ts";
import { defineCheck } from "../../check.ts";
import { breaksOf } from "../shared/breaks.ts";
import { siftedPoses } from "../shared/kept-finds.ts";
import { isSeenInWorld, paceFault, sameness } from "../shared/motion-frame.ts";
import { ownFindings, type PacedFinding } from "../shared/own-findings.ts";
import { allMotionsOf, type Motion, placeOf, type Steps } from "../shared/paces.ts";
import { isTouched, standsNear } from "../shared/touch.ts";
import { lurchAt, usualLurch } from "../shared/usual.ts";

/** With numbers in working units. */
export interface SpacingJumpFinding extends PacedFinding {
  readonly numbers: {
    readonly before: number;
    readonly after: number;
    readonly turns: number;
    /** Node against which it is judged (rig index); -1 in the world. */
    readonly carrier: number;
  };
}

const settings = {
  ratio: {
    default: 2.2,
    unit: "ratio",
    what: "factor between two spacings that follow each other",
    source:
      "common practice: eases are drawn by halves (a half, a quarter, an eighth), so that spacing about doubles from frame to frame; a tenth more is left for drawing",
    min: 1,
  },
  floor: {
    default: 0.0015,
    unit: "H",
    what: "least spacing per frame (at 24 per second) on both sides, in body heights",
    source: "common practice: 2.5 mm a frame of a grown person, under which a part counts as at rest",
    min: 0,
  },
  change: {
    default: 0.006,
    unit: "H",
    what: "least change of spacing per frame (at 24 per second), in body heights",
    source:
      "common practice: about 1 cm a frame of a grown person; a smaller change of speed passes for an ease",
    min: 0,
  },
  spread: {
    default: 6,
    unit: "ratio",
    what: "how many times more than usual (median × 1.4826) the change is off those next to it, and the pose off its course",
    source:
      "common practice: twice the three spreads at which outlier filters usually cut (Hampel identifier), since motion has sharp accents",
    min: 0,
  },
} as const;

type JumpValues = { readonly [K in keyof typeof settings]: number };

/**
 * The jump has to be this many times the change (in the logarithm) on the frames next to it: an ease spreads it over at
 * least two (our choice).
 */
const concentrated = 2;
/** The move goes on in its direction within this angle's cosine (60°): a turn-round has to slow down. */
const sameWay = 0.5;

/** Spacing that changes by more than a factor from one frame to the next. */
export const spacingJump = defineCheck({
  name: "spacing-jump",
  title: "Spacing jump",
  family: "spacing",
  scope: "node",
  ceiling: "major",
  notBefore: "splining",
  what: "The spacing changes from one frame to the next by more than a factor: big, then suddenly small, or the reverse.",
  why: "Speed that changes at once means a force out of nowhere; between even spacings on either side it reads as a change of film speed.",
  computes:
    "Travel and turning in the world, pose by pose, and its own turn against its parent. For limbs, neck and head, and the trunk also their travel against the node above their first joint. For a tail behind a trunk that swings with it, also against what carries the trunk. The ratio of two successive steps is more than 2.2, both above the floor. The steps next to them change, in the logarithm, at most half as much, so that the change stands on one frame. It is off the middle between the changes before and after it by more than six times what is usual. Usual is the median × 1.4826 over ten poses on each side, of those that are passed at half the speed at least, if there are three. The pose is also off the cubic through its neighbours by six times what is usual of the part in the whole shot, as for a pop. The four steps go one way: each within 60° of the one before, and the last of the first.",
  fix: "Move the key at the jump so that the spacing on either side meets in between, or give its two sides one slope.",
  notAFault: [
    "a change against what carries the part of which the world shows less than half, or beside which its limb stands on something",
    "what an impact of the whole body gives, upward and no faster than it, a take-off, a contact of the part's limb",
    "a turn-round, which has to slow down",
    "the first and last steps of an ease, which change over several frames",
    "poses of motion on twos, which are judged pose by pose",
  ],
  limits: ["A part that is struck by something that the document does not declare as a contact is noted."],
  sources: [],
  since: "0.1.0",
  settings,
  yieldsTo: ["pop", "hitch", "hard-stop", "hard-start", "rotation-flip"],
  followsCause: true,
  // A fast transition crosses most of its way in one or two frames.
  styles: {
    snappy: { times: { ratio: 2, change: 2 }, why: "From a hold into a hit the spacing jumps on purpose." },
    limited: { times: { ratio: 1.5 }, why: "Few drawings make spacing grow by more from one to the next." },
    twos: {
      times: { ratio: 1.5 },
      why: "Half as many poses make spacing grow by more from one to the next.",
    },
  },
  find(study, node, values) {
    return ownFindings(jumps(study, node, values), rigOf(study).parent[node], (parent) =>
      jumps(study, parent, values),
    );
  },
  word({ from, numbers }, words) {
    const amount = (value: number) => (numbers.turns === 1 ? words.angle(value) : words.length(value));
    const { before, after, carrier } = numbers;
    const against = carrier < 0 ? "" : ` against ${words.name(carrier)}`;
    const middle = Math.sqrt(before * after);
    return {
      message: `spacing of ${words.part}${against} jumps from ${amount(before)} to ${amount(after)} a frame at frame ${words.frame(from)} (${words.times(Math.max(before / after, after / before))})`,
      suggestion: `spread the change over 3 to 4 frames, through about ${amount(middle)} a frame at frame ${words.frame(from)}`,
    };
  },
});

function jumps(study: Study, node: number, values: JumpValues): SpacingJumpFinding[] {
  const found: SpacingJumpFinding[] = [];
  const perFrame = 24 / gridOf(study).rate;
  for (const motion of allMotionsOf(study, node)) {
    const floor = (values.floor * perFrame) / motion.seen;
    const change = (values.change * perFrame) / motion.seen;
    const sees = [floor, change, values.ratio, values.spread];
    const sift = ({ steps }: Steps, from: number, to: number, passing: number[]) =>
      addJumps(steps, from, to, floor, change, values, passing);
    let breaks: ReturnType<typeof breaksOf> | null = null;
    for (const i of siftedPoses(study, node, motion, "spacing-jump", sees, jumpReach, sift)) {
      if (!goesOn(study, node, motion, i)) continue;
      breaks ??= breaksOf(study, node, motion, values.spread);
      if (!breaks(i)) continue;
      const finding = findingOf(study, node, motion, i, values.ratio);
      if (finding !== null) found.push(finding);
    }
  }
  return found;
}

/** Steps on each side of a jump that tell whether it is one: what is usual is told from ten, and those tell of two more. */
const jumpReach = 14;

/** Adds the poses from..to at which the spacing jumps. */
function addJumps(
  steps: Float64Array,
  from: number,
  to: number,
  floor: number,
  change: number,
  values: JumpValues,
  passing: number[],
): void {
  const last = Math.min(to, steps.length - 3);
  for (let i = Math.max(2, from); i <= last; i++) {
    // Most steps are told off by the next one.
    const leap = steps[i + 1] - steps[i];
    if (leap < change && -leap < change) continue;
    if (isJump(steps, i, floor, change, values)) passing.push(i);
  }
}

/** Whether the spacing jumps at a pose, whichever way it goes there. */
function isJump(steps: Float64Array, i: number, floor: number, change: number, values: JumpValues): boolean {
  if (i < 2 || i >= steps.length - 2) return false;
  const before = steps[i];
  const after = steps[i + 1];
  if (Math.abs(after - before) < change) return false;
  const less = Math.min(before, after);
  const more = Math.max(before, after);
  if (less < floor || more < values.ratio * less) return false;
  const outerBefore = steps[i - 1];
  const outerAfter = steps[i + 2];
  if (outerBefore < floor || outerAfter < floor) return false;
  const beside = Math.max(Math.abs(Math.log(outerBefore / before)), Math.abs(Math.log(after / outerAfter)));
  if (Math.log(more / less) < concentrated * beside) return false;
  return !(Math.abs(lurchAt(steps, i)) < values.spread * usualLurch(steps, i));
}

/**
 * Whether the four steps around a jump go one way, and the last of them the way of the first: else it is a turn-round.
 */
function goesOn(study: Study, node: number, motion: Motion, at: number): boolean {
  for (let step = at - 1; step < at + 2; step++) {
    if (sameness(study, node, motion, step, step + 1) < sameWay) return false;
  }
  return sameness(study, node, motion, at - 1, at + 2) >= sameWay;
}

function findingOf(
  study: Study,
  node: number,
  motion: Motion,
  at: number,
  ratio: number,
): SpacingJumpFinding | null {
  const { poses, steps } = motion.pace;
  const isCarried = motion.carrier !== undefined;
  if (isTouched(study, node, poses[at], poses[at + 1], motion.kind)) return null;
  if (isCarried) {
    if (!isSeenInWorld(study, node, motion, at, at + 1)) return null;
    if (standsNear(study, node, poses[at], poses[at + 1])) return null;
  }
  const before = steps[at];
  const after = steps[at + 1];
  const factor = Math.max(before / after, after / before);
  return {
    ...placeOf(study, node, motion, at, at),
    measured: { quantity: "factor between successive spacings", value: factor, unit: "ratio" },
    expected: { max: ratio, unit: "ratio", source: settings.ratio.source },
    excess: factor / ratio,
    size: Math.abs(before - after) * motion.seen,
    // The change is to be spread over three to four frames (see the suggestion).
    amissOver: (3.5 * gridOf(study).rate) / 24,
    seen: motion.seen,
    isCarried,
    numbers: { before, after, turns: motion.kind === "orientation" ? 1 : 0, carrier: motion.carrier ?? -1 },
    fault: paceFault(
      study,
      node,
      motion,
      [at, at + 1],
      [at, at],
      ["jump"],
      ([one, other]) => Math.max(one / other, other / one) - 1,
    ),
  };
}
