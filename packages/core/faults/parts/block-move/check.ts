import { referenceRate } from "../../../base/constants.ts";
import { excused } from "../../../base/excuse.ts";
import { findMoves } from "../../../motion/path/moves.ts";
import { relativeTurns, sumOver, worldAngle } from "../../../motion/path/relative.ts";
import { turnsOfOrientations } from "../../../motion/path/rotation.ts";
import { carrierOf, figuresOf } from "../../../rig/body.ts";
import { worldOf } from "../../../rig/pose.ts";
import { farReachOf } from "../../../rig/reach.ts";
import { gridOf } from "../../../time/grid.ts";
import { defineCheck, type Finding } from "../../check.ts";
import { keysOfNodes } from "../../keys-of-nodes.ts";

/** With numbers in working units. */
export interface BlockMoveFinding extends Finding {
  readonly numbers: {
    readonly turn: number;
    readonly bend: number;
    readonly offset: number;
    readonly amount: number;
  };
}

const settings = {
  turn: {
    default: 15,
    unit: "deg",
    what: "least turn of the chest over a move",
    source: "common practice: a smaller turn is a shift of weight, in which a torso may well go as one piece",
    min: 0,
  },
  share: {
    default: 0.05,
    unit: "share",
    what: "least share of turns between pelvis, chest and head in all of their turning",
    source:
      "common practice: of a turn of 30° that is less than 2° of twist, which nobody reads as a bend of the spine",
    min: 0,
    max: 1,
  },
  rest: {
    default: 12,
    unit: "deg/s",
    what: "angular speed under which the chest counts as at rest",
    source: "common practice: half a degree a frame, at which a chest drifts in a moving hold",
    min: 0,
  },
} as const;

/** Pelvis, chest and head turn as one piece. */
export const blockMove = defineCheck({
  name: "block-move",
  title: "Moves as a block",
  family: "parts",
  scope: "figure",
  ceiling: "major",
  what: "Pelvis, chest and head turn as one piece.",
  why: "A spine bends: one part leads and the others follow. Turning all at once reads as a statue on a turntable.",
  computes:
    "Over each turn of the chest by more than 15°: the turning of the chest against the pelvis and of the head against the chest. It is taken as a share of that and the chest's own turning in the world.",
  fix: "Let the head or the pelvis lead by two or three frames and the others follow, each one later.",
  notAFault: ["small turns", "figures without a chest or a head"],
  limits: ["A turn of the whole body in the air is a turn of one piece by nature; see flights."],
  sources: ["Common practice: a turn is led by one part and followed by the others along the spine"],
  since: "0.1.0",
  settings,
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
    const { rate } = gridOf(study);
    const steps = turnsOfOrientations(worldOf(study, chest).orientation);
    const found: BlockMoveFinding[] = [];
    for (const move of findMoves(steps, values.rest / rate, Math.round((2 * rate) / referenceRate), rate)) {
      const turn = worldAngle(study, chest, move.from, move.to);
      if (turn < values.turn) continue;
      const bend =
        sumOver(relativeTurns(study, chest, root), move.from + 1, move.to) +
        sumOver(relativeTurns(study, head, chest), move.from + 1, move.to);
      const share = bend / (bend + sumOver(steps, move.from + 1, move.to));
      if (share >= values.share) continue;
      found.push({
        node: chest,
        figure: index,
        from: move.from,
        to: move.to,
        measured: { quantity: "share of turning within the body", value: share, unit: "share" },
        expected: { min: values.share, unit: "share", source: settings.share.source },
        excess: 1 + (turn / values.turn - 1) / 2 + (1 - share / values.share) / 2,
        size: turn * farReachOf(study, chest) * 0.25,
        numbers: {
          turn,
          bend,
          offset: Math.max(1, Math.round(Math.min(3, (move.to - move.from) / 5))),
          amount: 0.15 * turn,
        },
        fault: { kind: "keys", keys: keysOfNodes(study, [root, chest, head], move.from, move.to) },
      });
    }
    return found;
  },
  word(finding, words) {
    const { turn, bend, offset, amount } = finding.numbers;
    return {
      message: `hips, chest and head turn ${words.angle(turn)} as one piece in ${words.counted(finding.from, finding.to)}: only ${words.angle(bend)} of bending`,
      suggestion: `let the hips start ${words.frames(offset)} sooner and the head ${words.frames(offset)} later, so that the body twists by about ${words.angle(amount)} on the way`,
    };
  },
});
