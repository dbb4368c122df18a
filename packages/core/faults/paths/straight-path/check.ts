import { excused } from "../../../base/excuse.ts";
import type { Study } from "../../../base/study.ts";
import { nodeContactAt } from "../../../motion/ground/contact.ts";
import { type Chord, chordOf } from "../../../motion/path/path.ts";
import { strokesOf } from "../../../motion/path/strokes.ts";
import { figureOfNode, figuresOf } from "../../../rig/body.ts";
import { worldOf } from "../../../rig/pose.ts";
import { gridOf } from "../../../time/grid.ts";
import { defineCheck, type Finding } from "../../check.ts";
import { keysOfNodes } from "../../keys-of-nodes.ts";
import { carriedSetting, isCarried, limbEndsOf } from "../shared/limb-ends.ts";

/** With numbers in working units. */
export interface StraightPathFinding extends Finding {
  readonly numbers: {
    readonly length: number;
    readonly deviation: number;
    readonly middle: number;
    readonly arc: number;
  };
}

const settings = {
  length: {
    default: 0.15,
    unit: "H",
    what: "shortest move that is judged, in body heights",
    source: "common practice: about 25 cm of a grown person; shorter arcs are not told from lines",
    min: 0,
  },
  share: {
    default: 0.02,
    unit: "share",
    what: "largest distance from the straight line, as a share of its length, under which a path is straight",
    source:
      "common practice: hands reach on paths that bow by a few per cent of their length, and swing on arcs",
    min: 0,
    max: 1,
  },
  carried: carriedSetting,
} as const;

/** An end of a limb that swings on a straight line. */
export const straightPath = defineCheck({
  name: "straight-path",
  title: "Straight path",
  family: "paths",
  scope: "node",
  ceiling: "minor",
  notBefore: "splining",
  what: "A hand, a foot, a wing tip or a tail end moves on a straight line where a limb swings on an arc.",
  why: "Limbs turn about joints, so that their ends draw arcs; a straight line looks pulled on a string.",
  computes:
    "World paths of hands, feet, wing tips and tail end, cut where they rest and where they turn back by more than 0.08 body heights. A way of more than 0.15 body heights is straight if no sample lies farther from the line between its ends than 2 % of the line.",
  fix: "Add a breakdown in the middle, off the line by what the note names, toward where the elbow or knee points.",
  notAFault: [
    "sliding in a contact",
    "a limb that is carried: the body makes half of the way at least, by its travel or its turn",
    "punches and pushes: a style or a waiver says so",
  ],
  limits: ["A line within a longer way that also bends is not seen."],
  sources: [],
  since: "0.1.0",
  settings,
  styles: {
    snappy: {
      off: true,
      why: "With few frames between the poses a hand goes the short way; the poses carry the arc.",
    },
  },
  find(study, node, values) {
    if (!limbEndsOf(study).has(node)) {
      excused(node, 0, gridOf(study).count - 1, "it is no end of a limb");
      return [];
    }
    const path = worldOf(study, node).position;
    const found: StraightPathFinding[] = [];
    for (const { from, to } of strokesOf(study, node)) {
      if (to - from < 3) continue;
      const chord = chordOf(path, from, to);
      if (chord.chord < values.length || chord.deviation > values.share * chord.chord) continue;
      if (isCarried(study, node, from, to, chord.chord, values.carried)) {
        excused(node, from, to, "most of its way it is carried by the body");
        continue;
      }
      if (
        nodeContactAt(study, node)
          .subarray(from + 1, to)
          .includes(1)
      ) {
        excused(node, from, to, "it stands on something on its way");
        continue;
      }
      found.push(findingOf(study, node, from, to, chord, values.share));
    }
    return found;
  },
  word({ from, to, numbers }, words) {
    const { length, deviation, middle, arc } = numbers;
    return {
      message: `${words.part} moves ${words.length(length)} on a straight line at ${words.span(from, to)}, at most ${words.length(deviation)} off it`,
      suggestion: `add a breakdown at frame ${words.frame(middle)}, about ${words.length(arc)} off the line`,
    };
  },
});

function findingOf(
  study: Study,
  node: number,
  from: number,
  to: number,
  { chord, deviation }: Chord,
  share: number,
): StraightPathFinding {
  const limit = share * chord;
  // An arc that is read as one rises by about a tenth of its chord.
  const arc = 0.1 * chord;
  return {
    node,
    figure: figureOfNode(study, node),
    from,
    to,
    measured: { quantity: "distance from the line over its length", value: deviation / chord, unit: "share" },
    expected: { min: share, unit: "share", source: settings.share.source },
    excess: Math.min(4, limit / Math.max(deviation, limit / 4)),
    size: arc - deviation,
    numbers: { length: chord, deviation, middle: (from + to) >> 1, arc },
    fault: { kind: "keys", keys: keysOfNodes(study, drivers(study, node), from, to) },
  };
}

/** The node and the limb above it, up to where the body begins. */
function drivers(study: Study, node: number): number[] {
  const { parts } = figuresOf(study)[figureOfNode(study, node)];
  const part = limbEndsOf(study).get(node);
  const side = part?.startsWith("left") ? "left" : "right";
  const limb = part?.endsWith("Hand") ? (["Forearm", "UpperArm"] as const) : (["Shin", "Thigh"] as const);
  if (!part?.endsWith("Hand") && !part?.endsWith("Foot")) return [...(parts.get(part ?? "tail") ?? [node])];
  return [node, ...limb.flatMap((name) => parts.get(`${side}${name}`) ?? [])];
}
