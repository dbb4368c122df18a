import { inDegrees, inRadians, referenceRate } from "../../../base/constants.ts";
import { excused } from "../../../base/excuse.ts";
import { contactsOf } from "../../../motion/ground/contact.ts";
import { boneAngle } from "../../../motion/parts/bone.ts";
import { cutsOf } from "../../../motion/path/cuts.ts";
import { movesBetweenCuts } from "../../../motion/path/moves.ts";
import { relativeAngle } from "../../../motion/path/relative.ts";
import { angularSpeedOf } from "../../../motion/path/rotation.ts";
import { figuresOf } from "../../../rig/body.ts";
import { farReachOf, reachOf } from "../../../rig/reach.ts";
import { rigOf } from "../../../rig/rig.ts";
import { gridOf } from "../../../time/grid.ts";
import { defineCheck, type Finding } from "../../check.ts";
import { keysOfNodes } from "../../keys-of-nodes.ts";

/** With numbers in working units. */
export interface StillWristFinding extends Finding {
  readonly numbers: {
    readonly swing: number;
    readonly wrist: number;
    readonly amount: number;
    readonly lag: number;
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
  what: "The forearm sweeps and the wrist does nothing.",
  why: "A hand has weight and trails the forearm; one that keeps its angle makes a paddle of the arm.",
  computes:
    "For each swing of a forearm by more than 25° in the world: the largest turn of the wrist against the forearm, from where it stood at the start. It is held against 2°. The swing is that of the line from elbow to wrist, so that a roll about it does not count. A forearm that stops for no more than two frames goes on with its swing: no hold is seen in them.",
  fix: "Let the wrist bend back at the start of the swing and over at its end, two frames late.",
  notAFault: [
    "a cut by step keys from one held pose to the next",
    "a hand that a contact holds",
    "arms without a wrist joint of their own",
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
      const cuts = cutsOf(study, hand);
      for (const move of movesBetweenCuts(steps, null, cuts, values.rest * dt, pause, rate)) {
        let swing = 0;
        let wrist = 0;
        for (let i = move.from + 1; i <= move.to; i++) {
          swing = Math.max(swing, boneAngle(study, forearm, hand, move.from, i));
          wrist = Math.max(wrist, relativeAngle(study, hand, forearm, move.from, i));
        }
        if (swing < values.swing || wrist > values.wrist) continue;
        if (contactsOf(study, index).some((c) => c.node === hand && c.from <= move.to && c.to >= move.from)) {
          excused(hand, move.from, move.to, "the hand has a contact during the swing");
          continue;
        }
        found.push({
          node: hand,
          figure: index,
          from: move.from,
          to: move.to,
          measured: { quantity: "turn of the wrist", value: inDegrees(wrist), unit: "deg" },
          expected: { min: inDegrees(values.wrist), unit: "deg", source: settings.wrist.source },
          excess: Math.min(4, swing / values.swing),
          size: 0.15 * swing * Math.max(reachOf(study, hand), farReachOf(study, hand)),
          // A quarter of the swing is what a loose wrist trails by, up to the 30° it bends easily: common practice.
          numbers: {
            swing,
            wrist,
            amount: Math.min(inRadians(30), 0.25 * swing),
            lag: Math.max(1, Math.round((2 * rate) / referenceRate)),
          },
          fault: { kind: "keys", keys: wristKeys(study, hand, forearm, move.from, move.to) },
        });
      }
    }
    return found;
  },
  word(finding, words) {
    const { swing, wrist, amount, lag } = finding.numbers;
    return {
      message: `${words.part} ${turnsSlightly(words.angle(wrist))} at the wrist while the forearm swings ${words.angle(swing)} in ${words.span(finding.from, finding.to)}`,
      suggestion: `let the wrist trail the forearm by ${words.frames(lag)}, bending about ${words.angle(amount)} back and then over`,
    };
  },
});

/** "turns only 1.2°", or "does not turn" where nothing is left of it in writing. */
export function turnsSlightly(angle: string): string {
  return angle === "0°" ? "does not turn" : `turns only ${angle}`;
}

/** The wrist's own keys where it has any, else the forearm's. */
function wristKeys(
  study: Parameters<typeof keysOfNodes>[0],
  hand: number,
  forearm: number,
  from: number,
  to: number,
) {
  const own = keysOfNodes(study, [hand], from, to);
  return own.length > 0 ? own : keysOfNodes(study, [forearm], from, to);
}
