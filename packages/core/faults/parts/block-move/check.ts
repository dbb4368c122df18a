import { inRadians, referenceRate } from "../../../base/constants.ts";
import { excused } from "../../../base/excuse.ts";
import type { Study } from "../../../base/study.ts";
import { heldByBoth } from "../../../motion/parts/grips.ts";
import { type Order, turnOrder } from "../../../motion/parts/order.ts";
import { swingsIn } from "../../../motion/parts/swing.ts";
import { rangeOf, turnBetween, twistAbout } from "../../../motion/parts/twist.ts";
import { cutsOf } from "../../../motion/path/cuts.ts";
import { movesBetweenCuts } from "../../../motion/path/moves.ts";
import { worldAngle } from "../../../motion/path/relative.ts";
import { turnsOfOrientations } from "../../../motion/path/rotation.ts";
import { carrierOf, figuresOf } from "../../../rig/body.ts";
import { worldOf } from "../../../rig/pose.ts";
import { farReachOf } from "../../../rig/reach.ts";
import { gridOf } from "../../../time/grid.ts";
import type { Span } from "../../../time/span.ts";
import { defineCheck, type Finding } from "../../check.ts";
import { keysOfNodes } from "../../keys-of-nodes.ts";
import { startsOf } from "../../order-words.ts";

/** With numbers in working units. */
export interface BlockMoveFinding extends Finding {
  readonly numbers: {
    readonly turn: number;
    readonly bend: number;
    readonly offset: number;
    readonly amount: number;
    /** 1 where the hips go another way, and the head alone rides on the chest. */
    readonly rides: 0 | 1;
  };
  /** Who starts the turn and who follows. */
  readonly order: Order;
}

const settings = {
  turn: {
    default: 15,
    unit: "deg",
    what: "least turn of the chest over a move",
    source: "common practice: a smaller turn is a shift of weight, in which a torso may well go as one piece",
    min: 0,
  },
  lead: {
    default: 2,
    unit: "frames",
    what: "least time by which one of the three is before another",
    source:
      "common practice: parts that are meant to overlap are offset by two frames or more; one frame is not read as a lead",
    min: 0,
  },
  rest: {
    default: 12,
    unit: "deg/s",
    what: "angular speed under which the chest counts as at rest",
    source: "common practice: half a degree a frame, at which a chest drifts in a moving hold",
    min: 0,
  },
} as const;

/**
 * Share of a turn by which a body that turns quickly twists on the way, and the turn from which on it needs to be no more:
 * 9° of a turn by 60° are seen as a twist in a longer one too (our choice).
 */
const twisted = 0.15;
const longTurn = inRadians(60);

/** What is measured where the head alone rides on the chest. */
export const headOffset = "frames between head and chest";
/**
 * Turn of the chest, radians (30°), from which on a head is to have a time of its own in it: in smaller ones the eyes turn
 * alone (from memory).
 */
const headTurn = inRadians(30);
/** Share of the time that is asked for between all three by which the head has to be before the chest, or after it (our choice). */
const headShare = 0.5;

/** Pelvis, chest and head turn as one piece. */
export const blockMove = defineCheck({
  name: "block-move",
  title: "Moves as a block",
  family: "parts",
  scope: "figure",
  ceiling: "major",
  hangsOn: ["body"],
  notBefore: "splining",
  what: "Pelvis, chest and head turn as one piece, or the head rides on the chest.",
  why: "A spine bends: one part leads and the others follow. Turning all at once reads as a statue on a turntable.",
  computes:
    "Over each turn of the chest by more than 15° in the world: how far pelvis, chest and head turn against each other about the axis of that turn. It is judged, and marked, while the chest makes its part from 5 % to 95 %. A turn that eases to a fifth of its speed, and goes on into another one, ends there; it is judged whole, as the lull may hold its lead. Divided by what the chest's speed changes there, that is the time by which one of them is before another. A twist that stays as it is all through the turn is no lead. A nod or a sway during the turn is no lead. Two frames are asked for. In a very quick turn 15 % of it are enough, and never more than 9°. Where the hips are before the chest or after it by so much, head and chest are held against each other. Of a human head half of that is asked in a turn by 30° and more. The note tells in which order eyes, head, trunk, hips and feet start to turn.",
  fix: "Let the head or the pelvis lead by two or three frames and the others follow, each one later.",
  notAFault: [
    "small turns",
    "figures without a chest or a head",
    "a cut by step keys from one held pose to the next",
  ],
  limits: [
    "A body that carries one thing in both hands turns as one with more right: it is a minor note at most.",
    "A head that rides on its chest is a minor note at most.",
    "A turn of the whole body in the air is a turn of one piece by nature; see flights.",
  ],
  sources: [
    "Anastasopoulos and others 2009 (abstract): in turns of the body the head starts 0.1 s before the trunk and the feet 0.4 s after it",
    "Common practice: a turn is led by one part and followed by the others along the spine",
    "Waters and others 1993, Ergonomics 36:749 (from memory): the factor for twisting of the lifting equation",
  ],
  since: "0.1.0",
  settings,
  // What flips turns all that hangs on it as one piece.
  yieldsTo: ["rotation-flip"],
  find(study, index, values) {
    const figure = figuresOf(study)[index];
    const { parts } = figure;
    const root = carrierOf(figure);
    const chest = parts.get("chest")?.at(-1) ?? parts.get("spine")?.at(-1);
    const head = parts.get("head")?.[0];
    if (chest === undefined || head === undefined || chest === root) {
      excused(-1, 0, gridOf(study).count - 1, "no chest and head are known above the hips");
      return [];
    }
    // What turns the chest, and what may give a head a time of its own.
    const riding = (["spine", "chest", "neck", "head"] as const).flatMap((part) => parts.get(part) ?? []);
    const { rate } = gridOf(study);
    const steps = turnsOfOrientations(worldOf(study, chest).orientation);
    const found: BlockMoveFinding[] = [];
    const angle = (a: number, b: number) => worldAngle(study, chest, a, b);
    const pause = Math.round((2 * rate) / referenceRate);
    const moves = movesBetweenCuts(steps, null, cutsOf(study, head), values.rest / rate, pause, rate);
    // A turn that follows on another one is judged by itself: what twists in the one is no lead in the other.
    const turns = moves.flatMap((move) => partedAtLulls(steps, move));
    const lulls = new Set(turns.flatMap(({ from, to }) => [from, to]));
    for (const { from, to } of moves) for (const at of [from, to]) lulls.delete(at);
    const swings = turns.flatMap((move) => {
      const within = swingsIn(angle, move.from, move.to, values.turn);
      return within.length === 1 ? [{ ...within[0], to: move.to }] : within;
    });
    for (const { from, to } of swings) {
      const turned = turnBetween(study, { node: chest, against: -1 }, from, to);
      if (turned === null) continue;
      const course = twistAbout(study, { node: chest, against: -1 }, turned.axis, from, from, to);
      const turn = rangeOf(course);
      if (turn < values.turn) continue;
      // What goes on into another turn may have its lead in the lull.
      const isParted = lulls.has(from) || lulls.has(to);
      const main = isParted ? { from: 0, to: to - from } : mainPartOf(course);
      const first = from + main.from;
      const last = from + main.to;
      // What is told is told of the frames that are told: about the axis of the turn in them.
      const axis = turnBetween(study, { node: chest, against: -1 }, first, last)?.axis ?? turned.axis;
      const twist = (node: number, against: number) =>
        twistAbout(study, { node, against }, axis, first, first, last);
      const speed = changeOfSpeed(twist(chest, -1));
      // A twist that is kept all through the turn is none of it: the body goes round as it was wound up.
      const changeOf = (node: number, against: number) => rangeOf(twist(node, against));
      const bend = Math.max(changeOf(chest, root), changeOf(head, chest), changeOf(head, root));
      const lead = bend / speed;
      const least = Math.min(values.lead, (twisted * Math.min(turn, longTurn)) / speed);
      const isBlock = lead < least;
      const ahead = changeOf(head, chest) / speed;
      if (!isBlock && !(figure.kind === "human" && turn >= headTurn && ahead < headShare * least)) continue;
      const offset = Math.max(1, Math.round(Math.min(3, (to - from) / 5)));
      found.push({
        node: chest,
        figure: index,
        from: first,
        to: last,
        ...(isBlock
          ? {
              measured: {
                quantity: "frames by which one part is before another",
                value: lead,
                unit: "frames",
              },
              expected: { min: least, unit: "frames", source: settings.lead.source },
              excess: 1 + (turn / values.turn - 1) / 2 + (1 - lead / Math.max(least, 1e-6)) / 2,
            }
          : {
              seenAt: [head, chest],
              measured: { quantity: headOffset, value: ahead, unit: "frames" },
              expected: { min: headShare * least, unit: "frames", source: settings.lead.source },
              excess: 1 + (1 - ahead / Math.max(headShare * least, 1e-6)) / 2,
              ceiling: "minor" as const,
            }),
        size: turn * farReachOf(study, chest) * 0.25,
        // By so much the chest and the head would stand behind, or before, with the offset that is asked for.
        amiss: turn * farReachOf(study, chest) * Math.min(0.5, offset / Math.max(1, last - first)),
        numbers: {
          turn,
          bend: isBlock ? bend : changeOf(head, chest),
          offset,
          amount: twisted * Math.min(turn, longTurn),
          rides: isBlock ? 0 : 1,
        },
        order: turnOrder(study, index, axis, first, last),
        ...(isCarrying(study, index, first, last) && { ceiling: "minor" as const }),
        fault: { kind: "keys", keys: keysOfNodes(study, isBlock ? [root, chest, head] : riding, from, to) },
      });
    }
    return found;
  },
  word(finding, words) {
    const { turn, bend, offset, amount, rides } = finding.numbers;
    if (rides === 1) {
      return {
        message: `head rides on the chest in a turn of ${words.angle(turn)} in ${words.counted(finding.from, finding.to)}: only ${words.angle(bend)} between them${startsOf(finding.order, words)}`,
        suggestion: `let the head start ${words.frames(offset)} before the chest, by about ${words.angle(amount)}`,
      };
    }
    return {
      message: `hips, chest and head turn ${words.angle(turn)} as one piece in ${words.counted(finding.from, finding.to)}: only ${words.angle(bend)} of bending${startsOf(finding.order, words)}`,
      suggestion: `let the hips start ${words.frames(offset)} sooner and the head ${words.frames(offset)} later, so that the body twists by about ${words.angle(amount)} on the way`,
    };
  },
});

/**
 * Whether both hands hold one thing for at least half of the time. Whoever carries a load in both arms is taught to turn with
 * the feet and not to twist: the lifting equation of Waters and others 1993 takes 29 % off a load that is carried with a twist of 90°.
 */
function isCarrying(study: Study, index: number, from: number, to: number): boolean {
  const { parts } = figuresOf(study)[index];
  const left = parts.get("leftHand")?.[0];
  const right = parts.get("rightHand")?.[0];
  if (left === undefined || right === undefined) return false;
  const held = heldByBoth(study, left, right);
  let frames = 0;
  for (let i = from; i <= to; i++) frames += held[i];
  return 2 * frames >= to - from + 1;
}

/** Where a turn slows down to this share of the slower of two turns, one has ended and the other begins (our choice). */
const lull = 0.2;
/** The same beside it: what stands for a frame at full speed is a hitch within one turn. */
const eased = 0.4;

/**
 * The turns of a move that eases out of one and into another without a rest: a body that has turned, and whose chest bows
 * then. The one would hide how the other begins.
 * @param steps turn that leads to each sample
 */
function partedAtLulls(steps: Float64Array, { from, to }: Span): Span[] {
  const parts: Span[] = [];
  let start = from;
  let [fastest, slowest] = [from + 1, from + 1];
  for (let i = from + 2; i <= to; i++) {
    const slower = Math.min(steps[fastest], steps[i]);
    if (slowest > fastest && steps[slowest] < lull * slower) {
      if (Math.max(steps[slowest - 1], steps[slowest + 1]) < eased * slower) {
        parts.push({ from: start, to: slowest });
        start = slowest;
      }
      [fastest, slowest] = [i, i];
    } else if (steps[i] > steps[fastest]) [fastest, slowest] = [i, i];
    else if (steps[i] < steps[slowest]) slowest = i;
  }
  return [...parts, { from: start, to }];
}

/** Share of a turn at either end of its main part: where a turn gathers speed and where it settles (our choice). */
const edgeShare = 0.05;

/** The main part of a turn, from 5 % to 95 % of what it covers. */
function mainPartOf(course: Float64Array): { from: number; to: number } {
  let low = 0;
  let high = 0;
  for (let i = 0; i < course.length; i++) {
    if (course[i] < course[low]) low = i;
    if (course[i] > course[high]) high = i;
  }
  const first = Math.min(low, high);
  const last = Math.max(low, high);
  const whole = Math.abs(course[last] - course[first]);
  const done = (i: number) => Math.abs(course[i] - course[first]) / whole;
  let from = first;
  while (from < last && done(from + 1) <= edgeShare) from++;
  let to = last;
  while (to > from + 1 && done(to - 1) >= 1 - edgeShare) to--;
  return { from, to };
}

/**
 * By how much the speed of a turn changes, radians a sample: one part that is before another by some time is farther ahead
 * by that change times this time.
 */
function changeOfSpeed(course: Float64Array): number {
  let slowest = Number.POSITIVE_INFINITY;
  let fastest = 0;
  for (let i = 1; i < course.length; i++) {
    const step = Math.abs(course[i] - course[i - 1]);
    slowest = Math.min(slowest, step);
    fastest = Math.max(fastest, step);
  }
  return Math.max(fastest - slowest, 1e-9);
}
