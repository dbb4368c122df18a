import { excused } from "../../../base/excuse.ts";
import type { Study } from "../../../base/study.ts";
import { distanceBetween } from "../../../base/vector.ts";
import { nodeContactAt } from "../../../motion/ground/contact.ts";
import { type Retrace, retraceOf } from "../../../motion/path/path.ts";
import { strokesOf } from "../../../motion/path/strokes.ts";
import { figureOfNode } from "../../../rig/body.ts";
import { worldOf } from "../../../rig/pose.ts";
import { gridOf } from "../../../time/grid.ts";
import { defineCheck, type Finding } from "../../check.ts";
import { carriedSetting, isCarried, limbEndsOf } from "../shared/limb-ends.ts";

/** With numbers in working units. */
export interface RetracedPathFinding extends Finding {
  readonly numbers: {
    readonly at: number;
    readonly times: number;
    readonly farthest: number;
    readonly length: number;
  };
}

const settings = {
  length: {
    default: 0.15,
    unit: "H",
    what: "shortest way back that is judged, in body heights",
    source: "common practice: about 25 cm of a grown person; shorter ways look alike out and back",
    min: 0,
  },
  share: {
    default: 0.06,
    unit: "share",
    what: "largest distance between the way out and the way back, as a share of its length, under which it is retraced",
    source:
      "common practice: on a way of 50 cm the two ways lie 3 cm apart, less than the width of the hand that goes them",
    min: 0,
    max: 1,
  },
  carried: carriedSetting,
} as const;

/** A limb goes out and comes back along the same line. */
export const retracedPath = defineCheck({
  name: "retraced-path",
  title: "Retraced path",
  family: "paths",
  scope: "node",
  ceiling: "minor",
  notBefore: "splining",
  what: "The end of a limb goes out and comes back along the same line.",
  why: "Joints that work together carry a hand out and back on different ways; on one line it moves like a piston or a film run backwards.",
  computes:
    "The world paths of hands, feet, wing tips and tail end are cut where they rest and where they turn back by more than 0.08 body heights. A turn is the point of a short rest that is farthest from the way's start. The way out and the way back are compared at 16 points of equal path length from it. A path is retraced where their largest distance is less than 6 % of the length that is compared (that of the shorter side).",
  fix: "Move the way back off the way out: offset one joint of the limb, or add a breakdown to the side.",
  notAFault: [
    "a jaw, an eyelid, a head on its spine and other hinges by nature: only ends of limbs are judged",
    "a limb that is carried, as in a jump: the body makes half of the way at least, by its travel or its turn",
    "a foot that stands at the turn, a hand in contact",
    "a pendulum or another prop: only figures are judged",
  ],
  limits: [
    "Where the whole body moves, the path through the world is judged, not the path against the body.",
  ],
  sources: [],
  since: "0.1.0",
  settings,
  find(study, node, values) {
    if (!limbEndsOf(study).has(node)) {
      excused(node, 0, gridOf(study).count - 1, "it is no end of a limb");
      return [];
    }
    const strokes = strokesOf(study, node);
    const path = worldOf(study, node).position;
    const found: RetracedPathFinding[] = [];
    let run: Turn[] = [];
    for (let k = 0; k + 1 < strokes.length; k++) {
      const { from } = strokes[k];
      const to = strokes[k + 1].to;
      const at = turnOf(path, from, strokes[k].to, strokes[k + 1].from);
      const retrace = retraceOf(path, from, at, to);
      const retraced =
        retrace.length >= values.length &&
        retrace.farthest < values.share * retrace.length &&
        nodeContactAt(study, node)[at] === 0 &&
        !isCarried(study, node, from, at, retrace.length, values.carried);
      if (retraced) run.push({ from, at, to, retrace });
      if (run.length > 0 && (!retraced || k + 2 === strokes.length)) {
        found.push(findingOf(study, node, run, values.share));
        run = [];
      }
    }
    return found;
  },
  word({ from, to, numbers }, words) {
    const { times, farthest, length } = numbers;
    const often = times > 1 ? `${times} times ` : "";
    return {
      message: `${words.part} goes out and comes back ${often}on the same line at ${words.span(from, to)}: over ${words.length(length)} the ways are at most ${words.length(farthest)} apart`,
      suggestion: `bring the way back ${words.length(0.15 * length)} to the side at its middle: offset one joint by 1 to 2 frames, or add a breakdown after frame ${words.frame(numbers.at)}`,
    };
  },
});

/** A stroke ends where it comes to rest; it turns where the path, while it rests, is farthest from the stroke's start. */
function turnOf(path: Float64Array, from: number, rests: number, leaves: number): number {
  let at = rests;
  for (let i = rests + 1; i <= leaves; i++) {
    if (distanceBetween(path, from, path, i) > distanceBetween(path, from, path, at)) at = i;
  }
  return at;
}

interface Turn {
  readonly from: number;
  readonly at: number;
  readonly to: number;
  readonly retrace: Retrace;
}

/** One finding for turns that follow each other; the most exact of them speaks. */
function findingOf(study: Study, node: number, run: readonly Turn[], share: number): RetracedPathFinding {
  const worst = run.reduce((best, turn) => (apart(turn) < apart(best) ? turn : best));
  const { from, at, to, retrace } = worst;
  const limit = share * retrace.length;
  return {
    node,
    figure: figureOfNode(study, node),
    from: run[0].from,
    to: run[run.length - 1].to,
    measured: { quantity: "distance between the ways over their length", value: apart(worst), unit: "share" },
    expected: { min: share, unit: "share", source: settings.share.source },
    excess: Math.min(4, limit / Math.max(retrace.farthest, limit / 4)),
    size: limit - retrace.farthest,
    numbers: { at, times: run.length, farthest: retrace.farthest, length: retrace.length },
    fault: {
      kind: "position",
      subject: node,
      lo: from,
      hi: to,
      // Any key of the way out and of the way back can lead one of them off the other.
      from: from + 1,
      to: to - 1,
      sees: ["retraced", at - from, limit],
      // What is gone is the way that is retraced: a key without which there is no such way counts as its cause.
      strength: (series) => {
        const left = retraceOf(series, 0, at - from, to - from);
        return left.length * Math.max(0, 1 - left.farthest / (2 * limit));
      },
    },
  };
}

function apart({ retrace }: Turn): number {
  return retrace.farthest / retrace.length;
}
