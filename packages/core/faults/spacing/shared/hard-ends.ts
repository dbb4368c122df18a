import type { Study } from "../../../base/study.ts";
import { heldOf } from "../../../motion/path/held.ts";
import { type Move, restFloorOf, restTurnOf } from "../../../motion/path/moves.ts";
import { figureOfNode } from "../../../rig/body.ts";
import { rigOf } from "../../../rig/rig.ts";
import { gridOf } from "../../../time/grid.ts";
import type { Fault } from "../../check.ts";
import { isRecorded } from "../../shared/keying/on-every-frame.ts";
import { breaksOf } from "./breaks.ts";
import { cutOff, sharpEndsOf } from "./kept-ends.ts";
import { distanceIn, isSeenInWorld, paceFault } from "./motion-frame.ts";
import { ownFindings, type PacedFinding } from "./own-findings.ts";
import { allMotionsOf, levelMotionsOf, type Motion, placeOf } from "./paces.ts";
import { type SharpEnd, timeOfEnd } from "./sharp-ends.ts";
import { isHit, isStruck, isTouched, softParts, standsNear } from "./touch.ts";

/** With numbers in working units. */
export interface HardEndFinding extends PacedFinding {
  readonly numbers: {
    /** Speed of the last quick step before a stop, of the first one of a start. */
    readonly speed: number;
    /** Frames of the whole end, from 80 % of the peak, and those that an eased one takes. */
    readonly takes: number;
    readonly eased: number;
    /** Frames between that step and rest, as the note tells them. */
    readonly frames: number;
    readonly turns: number;
    /** Node against which it is judged (rig index); -1 in the world. */
    readonly carrier: number;
    /** 1 where only the way over the ground counts. */
    readonly level: number;
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

/**
 * How many times what is usual of the part its velocity breaks where it only turns round: twice the three spreads at which
 * outlier filters usually cut (Hampel identifier), as for pops.
 */
const spread = 6;

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
  // A body may leave as fast as its legs throw it; nothing but a wall stops it so.
  const level = direction < 0 ? levelMotionsOf(study, node) : [];
  const motions = allMotionsOf(study, node);
  for (const motion of level.length === 0 ? motions : [...motions, ...level]) {
    const least = (values.speed * dt) / motion.seen;
    const floor = motion.kind === "position" ? restFloorOf(study, node) : restTurnOf(study);
    const ends = sharpEndsOf(study, node, motion, { least, floor, direction }, values);
    let breaks: ReturnType<typeof breaksOf> | null = null;
    for (const { move, end, perPose, isTurn } of ends) {
      if (isTurn) {
        breaks ??= breaksOf(study, node, motion, spread);
        if (!breaks(end.rest)) continue;
      }
      if (comesBack(study, node, motion, end, direction)) continue;
      const finding = findingOf(study, node, motion, move, end, perPose, values.share, direction);
      // People who strike turn round as hard.
      const isMinor = isTurn && isRecorded(study, figureOfNode(study, node));
      if (finding !== null) found.push(isMinor ? { ...finding, ceiling: "minor" } : finding);
    }
  }
  return found;
}

/** Poses within which a part that leaves its place and comes back to it is off its path, and has not moved. */
const longestPop = 4;

/** Whether a part has, within three poses beyond its fast end, been near the place at which it rests: a pop. */
function comesBack(
  study: Study,
  node: number,
  motion: Motion,
  { rest, peak }: SharpEnd,
  direction: 1 | -1,
): boolean {
  const { poses } = motion.pace;
  for (let away = 2; away <= longestPop; away++) {
    const other = rest + direction * away;
    if (other < 0 || other >= poses.length) return false;
    if (distanceIn(study, node, motion, rest, other) < cutOff * peak) return true;
  }
  return false;
}

/** Poses from an end into its move in which its peak is looked for. */
const peakWithin = 12;

/** The fault of an end: one over the poses that it takes. */
function endFault(study: Study, node: number, motion: Motion, end: SharpEnd, direction: 1 | -1): Fault {
  const [first, last] = direction < 0 ? [end.fast, end.rest] : [end.rest, end.fast];
  const window: [number, number] =
    direction < 0 ? [Math.max(1, first - peakWithin), last + 1] : [first, last + 1 + peakWithin];
  // Steps are named by the pose to which they lead.
  const quick = (direction < 0 ? first : last + 1) - window[0];
  const rest = (direction < 0 ? last : first + 1) - window[0];
  return paceFault(
    study,
    node,
    motion,
    window,
    [first, last],
    ["end", quick, rest, direction, end.share, end.most],
    (steps) => 1 / timeOfEnd(steps, quick, rest, direction, end.share, end.most),
  );
}

/** Mean speed of an ease from 80 % of the peak to 10 %, as a share of the peak. */
const meanOfEase = 0.45;

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
  const begins = poses[move.from];
  const ends = poses[move.to];
  if (perPose < 1.5 && heldOf(study, node)[direction < 0 ? ends + 1 : begins] === 1) return null;
  const isCarried = motion.carrier !== undefined;
  const [since, until] = direction < 0 ? [place.from, ends] : [begins, place.to];
  if (isTouched(study, node, since, until, motion.kind, softParts)) return null;
  if (direction > 0 && isHit(study, node, since, until)) return null;
  // What swings on a body is stopped against it as hard as the body itself is.
  if (isCarried && isStruck(study, node, since, until)) return null;
  if (isCarried) {
    const [quick, still] = direction < 0 ? [end.fast, end.rest + 1] : [end.fast + 1, end.rest];
    if (still < 1 || still >= poses.length || !isSeenInWorld(study, node, motion, quick, still)) return null;
    if (standsNear(study, node, since, until)) return null;
  }
  const { rate } = gridOf(study);
  const turns = motion.kind === "orientation";
  const takes = end.takes * perPose;
  const eased = end.eased * perPose;
  const told = end.time * perPose;
  const limit = (share * eased * told) / takes;
  const pace = end.most < Infinity ? `${direction < 0 ? "last" : "first"} pace` : "speed";
  const level = `${100 * end.share} % of its ${pace}`;
  const what = direction < 0 ? `frames from ${level} to rest` : `frames from rest to ${level}`;
  return {
    ...place,
    measured: { quantity: what, value: told, unit: "frames" },
    expected: { min: limit, unit: "frames", source: hardEndSettings.share.source },
    excess: (share * eased) / takes,
    size: end.peak * motion.seen * (1 - takes / eased),
    // An ease goes at about half of the peak's speed, for as long as it takes (80 % to 10 %).
    amiss: meanOfEase * end.peak * motion.seen * ((eased - takes) / perPose),
    amissOver: eased,
    seen: motion.seen,
    isCarried,
    numbers: {
      speed: motion.pace.steps[direction < 0 ? end.fast : end.fast + 1] * rate,
      takes,
      eased,
      frames: told,
      turns: turns ? 1 : 0,
      carrier: motion.carrier ?? -1,
      level: motion.isLevel === true ? 1 : 0,
    },
    fault: endFault(study, node, motion, end, direction),
  };
}
