import { referenceRate } from "../../../base/constants.ts";
import type { Study } from "../../../base/study.ts";
import { heldOf } from "../../../motion/path/held.ts";
import type { Move } from "../../../motion/path/moves.ts";
import { rigOf } from "../../../rig/rig.ts";
import { gridOf } from "../../../time/grid.ts";
import { type Motion, motionsOf, ownFindings, type PacedFinding, paceFault, placeOf } from "./paces.ts";
import { type SharpEnd, sharpEnd } from "./sharp-ends.ts";
import { isTouched } from "./touch.ts";

/** With numbers in working units. */
export interface HardEndFinding extends PacedFinding {
  readonly numbers: {
    readonly speed: number;
    readonly takes: number;
    readonly eased: number;
    readonly turns: number;
  };
}

/** Settings that hard stops and hard starts share: they are one computation, looked at from either end of a move. */
export const hardEndSettings = {
  speed: {
    default: 0.15,
    unit: "H/s",
    what: "least peak speed of a move that is judged, in body heights per second; for turns the speed of what turns",
    source: "common practice: about 1 cm a frame of a grown person; slower moves end unseen",
    min: 0,
  },
  share: {
    default: 0.4,
    unit: "share",
    what: "share of an eased end's time under which an end is hard",
    source:
      "common practice: an ease of two frames where five would be natural reads as a hit; five are those of a minimum-jerk move (Flash & Hogan 1985)",
    min: 0,
    max: 1,
  },
  longest: {
    default: 6,
    unit: "frames",
    what: "longest ease that is asked for, from 80 % of the peak speed to 10 %, however long the move",
    source:
      "common practice: a quarter of a second is as long an ease as is missed; a minimum-jerk move of one second (Flash & Hogan 1985) takes as long",
    min: 1,
  },
} as const;

interface HardEndValues {
  readonly speed: number;
  readonly share: number;
  readonly longest: number;
}

/** A rest shorter than this many frames (at 24 per second) is a pause within a move: one drawing on twos. */
const shortestRest = 2;

/** Ends (`direction` −1) or starts (1) of a node's moves that are harder than they may be, without its parent's. */
export function hardEnds(
  study: Study,
  node: number,
  values: HardEndValues,
  direction: 1 | -1,
): readonly HardEndFinding[] {
  return ownFindings(allHardEnds(study, node, values, direction), rigOf(study).parent[node], (parent) =>
    allHardEnds(study, parent, values, direction),
  );
}

function allHardEnds(study: Study, node: number, values: HardEndValues, direction: 1 | -1): HardEndFinding[] {
  const found: HardEndFinding[] = [];
  const { dt } = gridOf(study);
  for (const motion of motionsOf(study, node)) {
    const { poses, steps, moves } = motion.pace;
    const least = (values.speed * dt) / motion.seen;
    for (const move of moves) {
      const perPose = (poses[move.to] - poses[move.from]) / (move.to - move.from);
      if (!restsLongEnough(study, motion, move, perPose, direction)) continue;
      const end = sharpEnd(steps, move, direction, least, values.longest / perPose);
      if (end === null || end.takes >= values.share * end.eased) continue;
      const finding = findingOf(study, node, motion, move, end, perPose, values.share, direction);
      if (finding !== null) found.push(finding);
    }
  }
  return found;
}

function restsLongEnough(
  study: Study,
  { pace }: Motion,
  move: Move,
  perPose: number,
  direction: 1 | -1,
): boolean {
  const { rate, count } = gridOf(study);
  const { poses } = pace;
  const shortest = Math.max(Math.round((shortestRest * rate) / referenceRate), perPose);
  return direction < 0
    ? move.endsAtRest && count - 1 - poses[move.to] >= shortest
    : move.startsAtRest && poses[move.from] >= shortest;
}

function findingOf(
  study: Study,
  node: number,
  motion: Motion,
  move: Move,
  end: SharpEnd,
  perPose: number,
  share: number,
  direction: 1 | -1,
): HardEndFinding | null {
  const { poses } = motion.pace;
  const [first, last] = direction < 0 ? [end.fast, end.rest] : [end.rest, end.fast];
  const place = placeOf(study, node, motion, first, last);
  // A part that moves on every frame and is frozen by a step key was stopped on purpose; on twos all keys are steps.
  const [begins, ends] = [poses[move.from], poses[move.to]];
  if (perPose < 1.5 && heldOf(study, node)[direction < 0 ? ends + 1 : begins] === 1) return null;
  const isExplained =
    direction < 0 ? isTouched(study, node, place.from, ends) : isTouched(study, node, begins, place.to);
  if (isExplained) return null;
  const { rate } = gridOf(study);
  const turns = motion.kind === "orientation";
  const takes = end.takes * perPose;
  const eased = end.eased * perPose;
  const what =
    direction < 0 ? "frames from 80 % of its speed to rest" : "frames from rest to 80 % of its speed";
  return {
    ...place,
    measured: { quantity: what, value: takes, unit: "frames" },
    expected: { min: share * eased, unit: "frames", source: hardEndSettings.share.source },
    excess: (share * eased) / takes,
    size: end.peak * motion.seen * (1 - takes / eased),
    seen: motion.seen,
    numbers: { speed: end.peak * rate, takes, eased, turns: turns ? 1 : 0 },
    fault: paceFault(study, node, motion, [first, last + 1], [first, last], (steps) => {
      let largest = 0;
      for (let i = 1; i < steps.length; i++) {
        largest = Math.max(largest, direction < 0 ? steps[i - 1] - steps[i] : steps[i] - steps[i - 1]);
      }
      return largest;
    }),
  };
}
