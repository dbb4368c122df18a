import { referenceRate, standardGravity } from "../../../base/constants.ts";
import { everywhere, type Study } from "../../../base/study.ts";
import type { Move } from "../../../motion/path/moves.ts";
import type { Pace } from "../../../motion/path/pace.ts";
import { worldOf } from "../../../rig/pose.ts";
import { rigOf } from "../../../rig/rig.ts";
import { gridOf } from "../../../time/grid.ts";
import { defineCheck } from "../../check.ts";
import { patchedOfPace } from "../shared/kept-finds.ts";
import { isSeenInWorld, paceFault } from "../shared/motion-frame.ts";
import { ownFindings, type PacedFinding } from "../shared/own-findings.ts";
import { allMotionsOf, type Motion, placeOf } from "../shared/paces.ts";
import { standsNear } from "../shared/touch.ts";

/** With numbers in working units. */
export interface EvenSpacingFinding extends PacedFinding {
  readonly numbers: {
    readonly step: number;
    readonly frames: number;
    readonly turns: number;
    /** Node against which it is judged (rig index); -1 in the world. */
    readonly carrier: number;
  };
}

const settings = {
  variation: {
    default: 0.08,
    unit: "share",
    what: "variation of spacing (standard deviation over mean) under which a move is even",
    source:
      "common practice: spacing that is even to a twelfth looks ruled; that of a minimum-jerk move (Flash & Hogan 1985) varies by 0.65 over its length",
    min: 0,
  },
  shortest: {
    default: 5,
    unit: "frames",
    what: "shortest move that is judged",
    source:
      "common practice: a move of four frames or fewer has none to spare for an ease at both ends, and is drawn with even spacing",
    min: 3,
  },
  spacing: {
    default: 0.003,
    unit: "H",
    what: "least spacing per frame (at 24 per second), in body heights",
    source: "common practice: twice the spacing under which a part counts as at rest",
    min: 0,
  },
} as const;

type EvenValues = { readonly [K in keyof typeof settings]: number };

/**
 * How near to gravity, as a part of it, the vertical acceleration of a body in flight is judged to lie: as hang-time
 * does.
 */
const gravityBand = 0.35;

/**
 * Beyond its ends an even move is slower than this share of its mean step. Eases are drawn by halves: what is still at a
 * quarter two steps outside of the even ones is the top of an eased move (common practice).
 */
const restOfMean = 0.25;

/** A move with no ease at all. */
export const evenSpacing = defineCheck({
  name: "even-spacing",
  title: "Even spacing",
  family: "spacing",
  scope: "node",
  ceiling: "major",
  notBefore: "splining",
  what: "A move from rest to rest whose spacing is even all the way: it has no ease at all.",
  why: "A constant speed between two rests is what a machine does; a body gathers speed and slows down.",
  computes:
    "Travel and turning in the world, pose by pose, and its own turn against its parent. For limbs, neck and head, and the trunk also their travel against the node above their first joint. For a tail behind a trunk that swings with it, also against what carries the trunk. For every move of at least 5 frames that starts and ends at rest: standard deviation over mean of its steps, but for the first and the last. The move is even under 0.08. Beyond both ends the part is slower than a quarter of their mean. A pause of one or two frames is an end only where the part is at its pace up to it, or from it on. Its first or last step is then as even as the others.",
  fix: "Ease out of the first key and into the last one, over a quarter of the move each.",
  notAFault: [
    "a body in flight: its vertical acceleration is gravity's",
    "a wheel: more than one turn",
    "a constant drive: a move that neither starts nor ends in the range",
    "a move against what carries the part of whose end the world shows less than half, or of a limb that stands on something",
  ],
  limits: ["A sliding door or another machine that starts and stops in the range is noted."],
  sources: ["Flash & Hogan 1985: minimum-jerk movements"],
  since: "0.1.0",
  settings,
  followsCause: true,
  find(study, node, values) {
    return ownFindings(evenMoves(study, node, values), rigOf(study).parent[node], (parent) =>
      evenMoves(study, parent, values),
    );
  },
  word({ from, to, numbers }, words) {
    const { step, frames, turns, carrier } = numbers;
    const against = carrier < 0 ? "" : ` against ${words.name(carrier)}`;
    const ease = Math.max(2, Math.round(frames / 4));
    const even = turns === 1 ? words.angle(step) : words.length(step);
    return {
      message: `${words.part} ${turns === 1 ? "turns" : "moves"} an even ${even} a frame${against} at ${words.counted(from, to)}, with no ease at either end`,
      suggestion: `ease out over the first ${words.frames(ease)} after frame ${words.frame(from)} and in over the last ${words.frames(ease)} before frame ${words.frame(to)}`,
    };
  },
});

function evenMoves(study: Study, node: number, values: EvenValues): EvenSpacingFinding[] {
  const found: EvenSpacingFinding[] = [];
  const { rate } = gridOf(study);
  for (const motion of allMotionsOf(study, node)) {
    const least = (values.spacing * referenceRate) / (rate * motion.seen);
    const even = keptEvenIn(study, node, motion, least, values);
    for (const { move, mean, variation } of even) {
      if (isWheel(motion, move) || flies(study, node, motion, move) || isOfCarrier(study, node, motion, move))
        continue;
      found.push(findingOf(study, node, motion, move, mean, variation, values));
    }
  }
  return found;
}

interface EvenMove {
  readonly move: Move;
  /** The move of which it is a part, where pauses part that. */
  readonly whole: Move;
  readonly mean: number;
  readonly variation: number;
}

/** The even moves of a pace, whatever moves; brought up to date where an edit reaches. */
function keptEvenIn(
  study: Study,
  node: number,
  motion: Motion,
  least: number,
  values: EvenValues,
): readonly EvenMove[] {
  const sees = [least, values.variation, values.shortest];
  const all = Number.POSITIVE_INFINITY;
  return patchedOfPace(
    study,
    node,
    motion,
    "even-spacing",
    sees,
    (pace) => evenIn(pace, least, values, -all, all),
    (kept: EvenMove[], pace, from, to) => {
      const fresh = evenIn(pace, least, values, from, to);
      let first = 0;
      while (first < kept.length && !isBy(kept[first].whole, from, to) && kept[first].move.to < from) first++;
      let end = first;
      while (end < kept.length && isBy(kept[end].whole, from, to)) end++;
      kept.splice(first, end - first, ...fresh);
      return fresh.length > 0 || end > first ? everywhere : null;
    },
  );
}

/** Whether steps of a move, or those beside it, lie between two samples. */
function isBy({ from, to }: Move, first: number, last: number): boolean {
  return to + 1 >= first && from <= last;
}

/** The even moves of a pace, whatever moves: of its moves those that lie by the poses from..to. */
function evenIn(
  { poses, steps, moves }: Pace,
  least: number,
  values: EvenValues,
  from: number,
  to: number,
): EvenMove[] {
  const found: EvenMove[] = [];
  for (const whole of moves) {
    if (!isBy(whole, from, to)) continue;
    for (const move of partedAtRests(steps, whole)) {
      if (!move.startsAtRest || !move.endsAtRest || move.to - move.from < 5) continue;
      if (poses[move.to] - poses[move.from] < values.shortest) continue;
      const { mean, variation } = variationOf(steps, move.from + 2, move.to - 1);
      if (mean < least || variation >= values.variation) continue;
      if (Math.max(steps[move.from], steps[move.to + 1]) >= restOfMean * mean) continue;
      // A short rest is the middle of a reversal, unless the part is at its pace from the first step on, up to the last.
      const first = isWithin(whole, move.from) ? 1 : 2;
      const last = isWithin(whole, move.to + 1) ? 0 : 1;
      if (variationOf(steps, move.from + first, move.to - last).variation >= values.variation) continue;
      found.push({ move, whole, mean, variation });
    }
  }
  return found;
}

/**
 * A move without the pauses that belong to it: its parts between steps that are at rest against a step beside them. A
 * part that sets out or stops at once has no ease, however short its rest is.
 */
function partedAtRests(steps: Float64Array, move: Move): readonly Move[] {
  const parts: Move[] = [];
  let from = move.from;
  for (let i = move.from + 2; i <= move.to; i++) {
    const isEnd = i === move.to;
    if (!isEnd && steps[i] >= restOfMean * Math.max(steps[i - 1], steps[i + 1])) continue;
    if (from === move.from && isEnd) return [move];
    const to = isEnd ? i : i - 1;
    let travel = 0;
    for (let k = from + 1; k <= to; k++) travel += steps[k];
    parts.push({
      ...move,
      from,
      to,
      travel,
      startsAtRest: from > move.from || move.startsAtRest,
      endsAtRest: !isEnd || move.endsAtRest,
    });
    from = i;
  }
  return parts;
}

/** Whether a step at rest lies within a move: a pause that belongs to it. */
function isWithin({ from, to }: Move, at: number): boolean {
  return at > from && at <= to;
}

/** Whether a move in a carried frame is not seen to stop in the world, or belongs to a limb that stands on something. */
function isOfCarrier(study: Study, node: number, motion: Motion, { from, to }: Move): boolean {
  const { poses } = motion.pace;
  if (motion.carrier === undefined) return false;
  if (!isSeenInWorld(study, node, motion, to - 1, to + 1)) return true;
  return standsNear(study, node, poses[from], poses[to]);
}

function variationOf(steps: Float64Array, from: number, to: number): { mean: number; variation: number } {
  let sum = 0;
  let squares = 0;
  for (let i = from; i <= to; i++) {
    sum += steps[i];
    squares += steps[i] * steps[i];
  }
  const count = to - from + 1;
  const mean = sum / count;
  return { mean, variation: mean > 0 ? Math.sqrt(Math.max(0, squares / count - mean * mean)) / mean : 1 };
}

function isWheel({ kind }: Motion, move: Move): boolean {
  return kind === "orientation" && move.travel > 2 * Math.PI;
}

/** Whether a body is in free flight within a move: the mean of its vertical acceleration is near gravity's. */
function flies(study: Study, node: number, { kind, pace }: Motion, move: Move): boolean {
  if (kind !== "position") return false;
  const path = worldOf(study, node).position;
  const { dt } = gridOf(study);
  const height = (pose: number) => path[3 * pace.poses[pose] + 1];
  const time = (pose: number) => pace.poses[pose] * dt;
  const first = move.from + 1;
  const last = move.to - 1;
  const rise = (height(first + 1) - height(first)) / (time(first + 1) - time(first));
  const fall = (height(last) - height(last - 1)) / (time(last) - time(last - 1));
  const acceleration = (fall - rise) / (time(last - 1) - time(first));
  return Math.abs(-acceleration / standardGravity - 1) < gravityBand;
}

/**
 * How far an eased move is from an even one at most, as a share of its way: a minimum-jerk move (Flash & Hogan 1985) has gone
 * 0.10 of it after a quarter of the time.
 */
const easedAway = 0.15;

function findingOf(
  study: Study,
  node: number,
  motion: Motion,
  move: Move,
  mean: number,
  variation: number,
  { variation: limit, shortest }: EvenValues,
): EvenSpacingFinding {
  const { poses } = motion.pace;
  const frames = poses[move.to] - poses[move.from];
  const turns = motion.kind === "orientation";
  return {
    ...placeOf(study, node, motion, move.from, move.to),
    measured: { quantity: "variation of spacing", value: variation, unit: "share" },
    expected: { min: limit, unit: "share", source: settings.variation.source },
    // How long it goes on matters more than how even it is: an ease is missed from five frames on.
    excess: Math.min(4, frames / shortest),
    size: mean * motion.seen,
    amiss: easedAway * mean * motion.seen * (move.to - move.from),
    seen: motion.seen,
    isCarried: motion.carrier !== undefined,
    numbers: { step: mean, frames, turns: turns ? 1 : 0, carrier: motion.carrier ?? -1 },
    // What is seen of a missing ease is the change of speed at both ends.
    fault: paceFault(
      study,
      node,
      motion,
      [move.from, move.to + 1],
      [move.from, move.to],
      ["even"],
      (steps) => {
        const last = steps.length - 1;
        return Math.abs(steps[1] - steps[0]) + Math.abs(steps[last - 1] - steps[last]);
      },
    ),
  };
}
