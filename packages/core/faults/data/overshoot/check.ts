import { excused } from "../../../base/excuse.ts";
import type { Study } from "../../../base/study.ts";
import { isAskedTurn } from "../../../curve/asked-turn.ts";
import { valueAt } from "../../../curve/evaluate.ts";
import { extremaBetween } from "../../../curve/shape.ts";
import { curveNamesOf, curveOf } from "../../../document/inputs.ts";
import type { Curve } from "../../../document/model.ts";
import { nodeContactAt } from "../../../motion/ground/contact.ts";
import { statureNear } from "../../../motion/path/moves.ts";
import { figureOfNode } from "../../../rig/body.ts";
import { metresPerChannelUnit } from "../../../rig/reach.ts";
import { rigOf, subtreeOf } from "../../../rig/rig.ts";
import { type Grid, gridOf, sampleAt } from "../../../time/grid.ts";
import { defineCheck, type Finding } from "../../check.ts";

import { seenOf } from "./seen.ts";

/** With numbers in working units. */
export interface OvershootFinding extends Finding {
  readonly numbers: {
    readonly past: number;
    readonly seen: number;
    readonly first: number;
    readonly last: number;
    readonly kind: number;
  };
}

const settings = {
  floor: {
    default: 0.003,
    unit: "H",
    what: "how far what hangs on the channel has to leave the way between its two keys while some of it is planted, in body heights",
    source: "common practice: about 5 mm of a grown person, three pixels where the figure fills 1,080 lines",
    min: 0,
  },
  free: {
    default: 0.006,
    unit: "H",
    what: "the same where nothing of it is planted: nothing stands beside it that shows less",
    source:
      "common practice: a breath moves a hand that is held by about a centimetre, and a hold that is kept alive drifts as far",
    min: 0,
  },
  share: {
    default: 0.1,
    unit: "share",
    what: "how far past the nearer key, as a share of the change between the keys; ignored in holds and contacts",
    source: "common practice: a tenth past a pose reads as settling, and is often asked for",
    min: 0,
  },
  hold: {
    default: 0.002,
    unit: "H",
    what: "change between two keys up to which they count as a hold",
    source: "common practice: about 3 mm of a grown person; two keys that differ by less were set as a hold",
    min: 0,
  },
  beat: {
    default: 4,
    unit: "frames",
    what: "the longest way between two keys that are alike and that a turn passes; farther apart they are a pose that is held",
    source: "common practice: a pose that is seen is held for more than a beat of four frames",
    min: 0,
  },
} as const;

/** A curve that leaves the band of its two keys without being asked. */
export const overshoot = defineCheck({
  name: "overshoot",
  title: "Overshoot",
  family: "data",
  scope: "curve",
  ceiling: "minor",
  notBefore: "splining",
  what: "A curve leaves the band between two of its keys: a hold breathes, a planted foot drifts.",
  why: "Nobody keyed that pose: handles that are too long made it, and it shows most where the part should stand.",
  computes:
    "Of each bezier or cubic segment, the judged frame at which it is farthest outside the band of its two keys. How far that is in metres follows from what hangs on the channel. A tenth of the change is allowed, but nothing in holds and in contacts. Two keys are a held pose where they differ by less than a tenth of the ways to the keys outside of them, too.",
  fix: "Shorten or level the handles at the two keys.",
  notAFault: [
    "step, linear and smooth segments: they stay in their band",
    "a small settle past a pose",
    "a turn that the keys on both sides ask for: the curve passes both keys on its way there and back (Fritsch & Carlson 1980)",
    "a turn between two neighbouring frames: no picture shows it",
    "a turn that keeps the ends below on their way, as a leg bends over a foot that stands: without it they would be twice as far off it",
    "a turn that moves no end of what hangs on it by the floor, as one about its own length",
    "a drift of a part that is planted nowhere by less than a breath moves it: a hold that is alive",
  ],
  limits: ["An overshoot that was wanted looks the same; waive it or key its extreme."],
  sources: [
    "Common practice: handles are levelled in holds and at contacts",
    "F. N. Fritsch and R. E. Carlson 1980, Monotone piecewise cubic interpolation, SIAM Journal on Numerical Analysis 17, 238–246: slopes up to three times the way to the neighbour keep a curve within its keys",
  ],
  since: "0.1.0",
  settings,
  yieldsTo: ["contact-slide", "through-ground"],
  // Poses are passed and settled into on purpose.
  styles: {
    snappy: {
      times: { share: 3 },
      why: "A pose that is hit hard goes past its mark and comes back; that is drawn on purpose.",
    },
  },
  find(study, subject, values) {
    const curve = curveOf(study, curveNamesOf(study)[subject]);
    if (curve === null || curve.width !== 1 || curve.handles === null) return [];
    const node = rigOf(study).indexOf.get(curve.node);
    if (node === undefined) return [];
    const found: OvershootFinding[] = [];
    for (let key = 0; key + 1 < curve.frames.length; key++) {
      const finding = overshootAt(study, node, curve, key, values);
      if (finding !== null) found.push(finding);
    }
    return found;
  },
  word(finding, words) {
    const { past, seen, first, last, kind } = finding.numbers;
    const channel = words.keys[0]?.channel ?? "a curve";
    const where = kind === 2 ? "while it is planted" : kind === 1 ? "in a hold" : "between its keys";
    return {
      message: `${words.part}: ${channel} runs ${round(past)} past its keys at frames ${round(first)} and ${round(last)} ${where}, which moves what hangs on it by ${words.length(seen)}`,
      suggestion: `shorten or level the handles at frames ${round(first)} and ${round(last)}, or key the extreme at frame ${words.frame(finding.from)} if it is wanted`,
    };
  },
});

/** Frames and values of a segment's turning points. */
const extrema = new Float64Array(4);

/** How far a value lies outside of the band of two others; 0 within it. */
function beyond(value: number, a: number, b: number): number {
  return Math.max(Math.min(a, b) - value, value - Math.max(a, b), 0);
}

function overshootAt(
  study: Study,
  node: number,
  curve: Curve,
  key: number,
  values: { floor: number; free: number; share: number; hold: number; beat: number },
): OvershootFinding | null {
  const count = extremaBetween(curve, key, extrema);
  if (count === 0) return null;
  const a = curve.values[key];
  const b = curve.values[key + 1];
  const perUnit = metresPerChannelUnit(study, node, curve.channel);
  const least = Math.min(values.floor, values.free);
  // No frame shows more than the turning points do: most segments need no more than these.
  const isOut = (value: number) => beyond(value, a, b) > 0 && beyond(value, a, b) * perUnit >= least;
  if (!isOut(extrema[1]) && !(count > 1 && isOut(extrema[3]))) return null;
  const grid = gridOf(study);
  const start = curve.frames[key];
  const end = curve.frames[key + 1];
  let past = 0;
  let sample = 0;
  for (let i = sampleAt(grid, start); i < grid.count && grid.frames[i] < end; i++) {
    if (grid.frames[i] <= start) continue;
    const here = beyond(valueAt(curve, grid.frames[i]), a, b);
    if (here > past) {
      past = here;
      sample = i;
    }
  }
  if (past === 0) return null;
  const seen = past * perUnit;
  const isHold = Math.abs(b - a) * perUnit <= values.hold;
  const isPlanted = plants(study, node, sample);
  const floor = isPlanted ? values.floor : values.free;
  if (seen < floor || (!isHold && !isPlanted && past < values.share * Math.abs(b - a))) return null;
  const side = valueAt(curve, grid.frames[sample]) > Math.max(a, b) ? 1 : -1;
  const isPose = isLongHold(curve, key, framesBetween(grid, start, end), values, perUnit);
  if (!isPose && isAskedTurn(curve, key, side)) {
    excused(
      node,
      sample,
      sample,
      "its keys ask for the turn: the curve passes both on its way there and back",
    );
    return null;
  }
  const span = { from: sampleAt(grid, start), to: sampleAt(grid, end), at: sample };
  const within = side > 0 ? Math.max(a, b) : Math.min(a, b);
  const shown = seenOf(study, { node, channel: curve.channel, ...span, key: within });
  if (shown !== null && shown < floor) {
    excused(node, sample, sample, "what hangs on it keeps its way, and would leave it without it");
    return null;
  }
  const allowed = isHold || isPlanted ? 0 : values.share * Math.abs(b - a) * perUnit;
  const limit = Math.max(floor, allowed);
  return {
    node,
    figure: figureOfNode(study, node),
    from: sample,
    to: sample,
    measured: { quantity: "way past the keys", value: seen, unit: "m" },
    expected: { max: limit, unit: "m", source: settings[isPlanted ? "floor" : "free"].source },
    // A hold may drift as far as `free`; one that leaves it weighs by all that is seen.
    excess: seen / Math.max(Math.min(values.floor, floor), allowed),
    size: Math.min(seen, 0.1 * statureNear(study, node)),
    numbers: {
      past,
      seen,
      first: curve.frames[key],
      last: curve.frames[key + 1],
      kind: isPlanted ? 2 : isHold ? 1 : 0,
    },
    fault: {
      kind: "keys",
      keys: [
        { node: curve.node, channel: curve.channel, index: key },
        { node: curve.node, channel: curve.channel, index: key + 1 },
      ],
    },
  };
}

/** Whether two keys, more than a beat apart, differ so little beside the ways outside of them that they hold a pose. */
function isLongHold(
  { frames, values }: Curve,
  key: number,
  judged: number,
  { hold, share, beat }: { hold: number; share: number; beat: number },
  perUnit: number,
): boolean {
  if (key < 1 || key + 2 >= frames.length || judged <= beat) return false;
  const outside = Math.min(
    Math.abs(values[key] - values[key - 1]),
    Math.abs(values[key + 2] - values[key + 1]),
  );
  return Math.abs(values[key + 1] - values[key]) <= Math.max(hold / perUnit, share * outside);
}

/** Judged frames from one frame of the document to another. */
function framesBetween(grid: Grid, from: number, to: number): number {
  return sampleAt(grid, to) - sampleAt(grid, from);
}

/** Whether anything that hangs on a node is planted at a sample. */
function plants(study: Study, node: number, sample: number): boolean {
  return subtreeOf(rigOf(study), node).some((below) => nodeContactAt(study, below)[sample] === 1);
}

function round(value: number): string {
  return String(Math.round(value * 100) / 100);
}
