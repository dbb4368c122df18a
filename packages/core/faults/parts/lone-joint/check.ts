import { excused } from "../../../base/excuse.ts";
import { turnsOf } from "../../../motion/path/moves.ts";
import { relativeAngle, relativeTurns, sumOver } from "../../../motion/path/relative.ts";
import { angularSpeedOf } from "../../../motion/path/rotation.ts";
import { carrierOf, figuresOf } from "../../../rig/body.ts";
import { chainOf } from "../../../rig/pose.ts";
import { farReachOf } from "../../../rig/reach.ts";
import { rigOf } from "../../../rig/rig.ts";
import { gridOf } from "../../../time/grid.ts";
import { defineCheck, type Finding } from "../../check.ts";
import { keysOfNodes } from "../../keys-of-nodes.ts";

/** With numbers in working units. */
export interface LoneJointFinding extends Finding {
  readonly numbers: { readonly turn: number; readonly answer: number; readonly amount: number };
}

const settings = {
  turn: {
    default: 15,
    unit: "deg",
    what: "least turn of the head against its parent",
    source:
      "common practice: a head alone makes glances and nods of up to 15°; of eye movements that nothing asks for, 83 % stay under that (Malinov and others 2000, abstract)",
    min: 0,
  },
  answer: {
    default: 0.08,
    unit: "share",
    what: "least turning of the joints under it, as a share of the joint's own",
    source:
      "common practice: of a head turn of 30° that is 2.4°, the least by which neck and chest are seen to go along",
    min: 0,
    max: 1,
  },
  window: {
    default: 6,
    unit: "frames",
    what: "how long before and after the move an answer counts",
    source: "common practice: parts of one body that overlap do so within a quarter of a second",
    min: 0,
  },
  glance: {
    default: 12,
    unit: "frames",
    what: "a turn that comes back within this time is a glance",
    source: "common practice: half a second out and back is a glance, which a head makes alone",
    min: 0,
  },
} as const;

/** The head turns and nothing under it answers. */
export const loneJoint = defineCheck({
  name: "lone-joint",
  title: "Lone joint",
  family: "parts",
  scope: "figure",
  ceiling: "minor",
  what: "The head makes a turn alone: neck, chest and hips do not answer.",
  why: "Turning a head pulls on everything that it sits on; with a still body under it the head looks screwed on.",
  computes:
    "For each turn of the head against its parent by more than 15°: the turning of the joints from the hips to the neck against each other. It is summed from six frames before to six after, and taken as a share of the head's.",
  fix: "Let neck and chest take part of the turn, starting a frame or two after the head.",
  notAFault: ["small turns", "glances that come back within half a second"],
  limits: ["Only the head is looked at."],
  sources: ["Malinov and others 2000, Vision Research 40:2083 (abstract): sizes of free saccades"],
  since: "0.1.0",
  settings,
  styles: { snappy: { turn: 1.5 } },
  find(study, index, values) {
    const figure = figuresOf(study)[index];
    const { parts } = figure;
    const root = carrierOf(figure);
    const head = parts.get("head")?.[0];
    if (head === undefined) {
      excused(-1, 0, gridOf(study).count - 1, "no head is known");
      return [];
    }
    const rig = rigOf(study);
    const chain = chainOf(rig, head);
    const under = chain.slice(Math.max(0, chain.indexOf(root)), -1);
    if (under.length < 2) return [];
    const { count, dt } = gridOf(study);
    const window = Math.round(values.window);
    const moves = turnsOf(study, head);
    const found: LoneJointFinding[] = [];
    moves.forEach((move, k) => {
      const turn = relativeAngle(study, head, rig.parent[head], move.from, move.to);
      if (turn < values.turn) return;
      const isGlance = [
        [move, moves[k + 1]],
        [moves[k - 1], move],
      ].some(
        ([out, back]) =>
          out !== undefined &&
          back !== undefined &&
          back.from - out.to <= values.glance &&
          relativeAngle(study, head, rig.parent[head], out.from, back.to) < 0.3 * turn,
      );
      if (isGlance) {
        excused(head, move.from, move.to, "it is a glance, there and back");
        return;
      }
      const [from, to] = [Math.max(1, move.from + 1 - window), Math.min(count - 1, move.to + window)];
      let answer = 0;
      for (let j = 1; j < under.length; j++) {
        answer += sumOver(relativeTurns(study, under[j], under[j - 1]), from, to);
      }
      // A turn of the hips in the world is an answer as well.
      answer += sumOver(angularSpeedOf(study, under[0]), from, to) * dt;
      const share = answer / turn;
      if (share >= values.answer) return;
      found.push({
        node: head,
        figure: index,
        from: move.from,
        to: move.to,
        measured: { quantity: "turning under the head over the head's turn", value: share, unit: "share" },
        expected: { min: values.answer, unit: "share", source: settings.answer.source },
        excess: 1 + (turn / values.turn - 1) / 2 + (1 - share / values.answer) / 2,
        size: turn * farReachOf(study, head),
        numbers: { turn, answer, amount: 0.25 * turn },
        fault: { kind: "keys", keys: keysOfNodes(study, [head], move.from, move.to) },
      });
    });
    return found;
  },
  word(finding, words) {
    const { turn, answer, amount } = finding.numbers;
    return {
      message: `${words.part} turns ${words.angle(turn)} alone in ${words.span(finding.from, finding.to)}; neck and chest answer with ${words.angle(answer)}`,
      suggestion: `give ${words.angle(amount)} of the turn to neck and chest, a frame or two after the head`,
    };
  },
});
