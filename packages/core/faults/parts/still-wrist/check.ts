import { inDegrees, inRadians, referenceRate } from "../../../base/constants.ts";
import { excused } from "../../../base/excuse.ts";
import type { Study } from "../../../base/study.ts";
import { contactsOf } from "../../../motion/ground/contact.ts";
import { boneAngles, boneTurns } from "../../../motion/parts/bone.ts";
import { type Swing, swingsIn } from "../../../motion/parts/swing.ts";
import { cutsOf } from "../../../motion/path/cuts.ts";
import { movesBetweenCuts } from "../../../motion/path/moves.ts";
import { relativeAngle, sumOver } from "../../../motion/path/relative.ts";
import { angularSpeedOf } from "../../../motion/path/rotation.ts";
import { figuresOf } from "../../../rig/body.ts";
import { farReachOf, reachOf } from "../../../rig/reach.ts";
import { rigOf } from "../../../rig/rig.ts";
import { gridOf } from "../../../time/grid.ts";
import { defineCheck, type Finding } from "../../check.ts";
import { keysOfNodes } from "../../keys-of-nodes.ts";
import { onUnkeyed, unkeyedAxisOf } from "../../unkeyed-turn.ts";

/** With numbers in working units. */
export interface StillWristFinding extends Finding {
  readonly numbers: {
    readonly swing: number;
    readonly wrist: number;
    readonly amount: number;
    readonly lag: number;
    /** Which of its axes lacks keys, 0 to 3; −1 where its rotation has some. */
    readonly missing: number;
  };
}

const settings = {
  swing: {
    default: 25,
    unit: "deg",
    what: "least swing of the forearm in the world",
    source:
      "common practice: a wave or a reach swings the forearm by 25° and more; in a smaller move the wrist may keep its line",
    min: 0,
  },
  wrist: {
    default: 2,
    unit: "deg",
    what: "turn of the wrist up to which it counts as still",
    source: "common practice: 2° move a fingertip by 6 mm about its wrist, which reads as none",
    min: 0,
  },
  rest: {
    default: 15,
    unit: "deg/s",
    what: "angular speed under which the forearm counts as at rest",
    source: "common practice: 0.6° a frame, at which a forearm drifts in a moving hold",
    min: 0,
  },
} as const;

/** The forearm sweeps and the wrist does nothing. */
export const stillWrist = defineCheck({
  name: "still-wrist",
  title: "Still wrist",
  family: "parts",
  scope: "figure",
  ceiling: "minor",
  hangsOn: ["body"],
  notBefore: "polish",
  what: "The forearm sweeps and the wrist does nothing.",
  why: "A hand has weight and trails the forearm; one that keeps its angle makes a paddle of the arm.",
  computes:
    "For each swing of a forearm by more than 25° in the world: the largest turn of the wrist against the forearm, from where it stood at the start. A swing goes from one turning point to the next. It is held against 2°. In a slow swing it is held against what the forearm turns in one frame (at 24 per second) at its fastest. The swing is that of the line from elbow to wrist, so that a roll about it does not count. A forearm that stops for no more than two frames goes on with its swing: no hold is seen in them.",
  fix: "Let the wrist bend back at the start of the swing and over at its end, two frames late.",
  notAFault: [
    "a hand that a contact holds over half of the swing or more",
    "arms without a wrist joint of their own",
    "a cut by step keys from one held pose to the next",
  ],
  limits: [],
  sources: ["Common practice: overlapping action; a hand trails its forearm"],
  since: "0.1.0",
  settings,
  find(study, index, values) {
    const { parts } = figuresOf(study)[index];
    const { rate, dt } = gridOf(study);
    const rig = rigOf(study);
    const found: StillWristFinding[] = [];
    for (const side of ["left", "right"] as const) {
      const forearm = parts.get(`${side}Forearm`)?.[0];
      const hand = parts.get(`${side}Hand`)?.[0];
      if (forearm === undefined || hand === undefined || rig.parent[hand] < 0) {
        excused(-1, 0, gridOf(study).count - 1, `no ${side} forearm and hand are known`);
        continue;
      }
      const steps = angularSpeedOf(study, forearm).map((speed) => speed * dt);
      const pause = Math.round((2 * rate) / referenceRate);
      const moves = movesBetweenCuts(steps, null, cutsOf(study, hand), values.rest * dt, pause, rate);
      if (moves.length === 0) continue;
      const arm: Arm = { forearm, hand, turns: boneTurns(study, forearm, hand) };
      for (const move of moves) {
        // Each by itself, so that a wrist which answers one swing does not answer for the next.
        const angle = boneAngles(study, forearm, hand);
        const swings = swingsIn(angle, move.from, move.to, values.swing);
        const still: StillSwing[] = [];
        swings.forEach((swing, k) => {
          // The last one has the rest of the move to settle in.
          const to = k + 1 < swings.length ? swing.to : move.to;
          const whole = judge(study, index, arm, { ...swing, to }, values.wrist);
          if (whole === null) return;
          // Named are the frames of the swing alone: what settles after it is not seen to be missing.
          const one = { ...whole, to: swing.to, wrist: wristIn(study, arm, swing.from, swing.to) };
          // Swings to and fro with one still wrist are one fault.
          const last = still.at(-1);
          const both = last?.to === one.from ? joined(study, arm, last, one) : null;
          if (both === null) still.push(one);
          else still[still.length - 1] = both;
        });
        for (const one of still) found.push(findingOf(study, index, arm, one, values.swing));
      }
    }
    return found;
  },
  word(finding, words) {
    const { swing, wrist, amount, lag, missing } = finding.numbers;
    return {
      message: `${words.part} ${turnsSlightly(words.angle(wrist))} at the wrist while the forearm swings ${words.angle(swing)} in ${words.span(finding.from, finding.to)}`,
      suggestion: `let the wrist trail the forearm by ${words.frames(lag)}, bending about ${words.angle(amount)} back and then over${onUnkeyed(missing, "its")}`,
    };
  },
});

interface Arm {
  readonly forearm: number;
  readonly hand: number;
  /** Turn of the forearm's direction from the sample before, radians. */
  readonly turns: Float64Array;
}

/** A swing in which the wrist is still, or several in a row in which it stays where it was. */
interface StillSwing {
  readonly from: number;
  readonly to: number;
  /** The largest swing, the largest turn of the wrist from where it stood at the start, and its limit; radians. */
  readonly swing: number;
  readonly wrist: number;
  readonly limit: number;
}

/** Two swings as one; null where the wrist does not stay still over both. */
function joined(
  study: Study,
  arm: Arm,
  { from, ...a }: StillSwing,
  { to, ...b }: StillSwing,
): StillSwing | null {
  const limit = Math.min(a.limit, b.limit);
  const wrist = wristIn(study, arm, from, to);
  return wrist > limit ? null : { from, to, swing: Math.max(a.swing, b.swing), wrist, limit };
}

/** The largest turn of the wrist from where it stood at the start, radians. */
function wristIn(study: Study, { forearm, hand }: Arm, from: number, to: number): number {
  let wrist = 0;
  for (let i = from + 1; i <= to; i++) wrist = Math.max(wrist, relativeAngle(study, hand, forearm, from, i));
  return wrist;
}

function judge(
  study: Study,
  figure: number,
  { forearm, hand, turns }: Arm,
  { from, to, angle: swing }: Swing,
  still: number,
): StillSwing | null {
  const { rate } = gridOf(study);
  let wrist = 0;
  let fastest = 0;
  for (let i = from + 1; i <= to && wrist <= still; i++) {
    wrist = Math.max(wrist, relativeAngle(study, hand, forearm, from, i));
    fastest = Math.max(fastest, turns[i]);
  }
  // What a wrist that trails by a frame would bend by: in a slow swing less than what reads as none in a quick one.
  const limit = Math.min(still, (fastest * rate) / referenceRate);
  if (wrist > limit) return null;
  if (2 * heldTurn(study, figure, hand, turns, from, to) >= sumOver(turns, from + 1, to)) {
    excused(hand, from, to, "a contact holds the hand over half of the swing or more");
    return null;
  }
  return { from, to, swing, wrist, limit };
}

function findingOf(
  study: Study,
  figure: number,
  { forearm, hand, turns }: Arm,
  { from, to, swing, wrist, limit }: StillSwing,
  least: number,
): StillWristFinding {
  return {
    node: hand,
    figure,
    from,
    to,
    measured: { quantity: "turn of the wrist", value: inDegrees(wrist), unit: "deg" },
    expected: { min: inDegrees(limit), unit: "deg", source: settings.wrist.source },
    excess: Math.min(4, swing / least),
    asked: { by: forearm, from: from + 1, weights: turns.slice(from + 1, to + 1), late: 0 },
    size: 0.15 * swing * Math.max(reachOf(study, hand), farReachOf(study, hand)),
    // A quarter of the swing is what a loose wrist trails by, up to the 30° it bends easily: common practice.
    numbers: {
      swing,
      wrist,
      amount: Math.min(inRadians(30), 0.25 * swing),
      lag: Math.max(1, Math.round((2 * gridOf(study).rate) / referenceRate)),
      missing: unkeyedAxisOf(study, hand, forearm, from, to),
    },
    fault: { kind: "keys", keys: wristKeys(study, hand, forearm, from, to) },
  };
}

/** How much of a swing's turning falls into frames in which the hand has a contact, radians. */
function heldTurn(
  study: Study,
  figure: number,
  hand: number,
  turns: Float64Array,
  from: number,
  to: number,
): number {
  let sum = 0;
  for (const contact of contactsOf(study, figure)) {
    if (contact.node !== hand) continue;
    sum += sumOver(turns, Math.max(from, contact.from) + 1, Math.min(to, contact.to));
  }
  return sum;
}

/** "turns only 1.2°", or "does not turn" where nothing is left of it in writing. */
export function turnsSlightly(angle: string): string {
  return angle === "0°" ? "does not turn" : `turns only ${angle}`;
}

/** The wrist's own keys where it has any, else the forearm's. */
function wristKeys(study: Study, hand: number, forearm: number, from: number, to: number) {
  const own = keysOfNodes(study, [hand], from, to);
  return own.length > 0 ? own : keysOfNodes(study, [forearm], from, to);
}
