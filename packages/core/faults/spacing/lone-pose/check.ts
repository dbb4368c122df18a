import { referenceRate } from "../../../base/constants.ts";
import type { Study } from "../../../base/study.ts";
import { restFloorOf } from "../../../motion/path/moves.ts";
import { uncutSpacingOf } from "../../../motion/path/uncut.ts";
import { carrierOf, figuresOf, statureOf } from "../../../rig/body.ts";
import { worldOf } from "../../../rig/pose.ts";
import { gridOf } from "../../../time/grid.ts";
import { defineCheck, type Finding } from "../../check.ts";
import { keysOfNodes } from "../../keys-of-nodes.ts";

export interface LonePoseFinding extends Finding {
  readonly numbers: {
    /** 1 at the beginning of the shot, 0 at its end. */
    readonly isFirst: 0 | 1;
    /** First and last sample at which the pose stands. */
    readonly first: number;
    readonly last: number;
    /** The sample beside it that belongs to the motion. */
    readonly beside: number;
    readonly parts: number;
    readonly of: number;
    /** The node that goes farthest from it, and how far, metres. */
    readonly farthest: number;
    readonly jump: number;
  };
}

const settings = {
  times: {
    default: 6,
    unit: "ratio",
    what: "times the largest step of the next half second by which a part jumps",
    source:
      "common practice: what is six times as much as usual of a part reads as a slip of it, as of a pop (our choice)",
    min: 1,
  },
  share: {
    default: 0.5,
    unit: "share",
    what: "share of the moving parts of a figure that jump at once",
    source:
      "common practice: where half of a body jumps the pose is looked at, and not its parts (our choice)",
    min: 0,
    max: 1,
  },
  least: {
    default: 0.1,
    unit: "H",
    what: "least way of the part that jumps farthest, in body heights",
    source:
      "from memory: boxers' hands go by a fifth of the stature in a frame at 24. A whole body that goes half as far at once is in no move",
    min: 0,
  },
  longest: {
    default: 2,
    unit: "frames",
    what: "longest stand of the pose",
    source:
      "common practice: on twos a drawing stands for two frames; what stands for less than three is read as a flash",
    min: 1,
  },
} as const;

interface Values {
  readonly times: number;
  readonly share: number;
  readonly least: number;
  readonly longest: number;
}

/** Frames (at 24 per second) behind the jump that have to be calm: half a second (our choice). */
const calm = 12;

/** The first or the last pose of a shot is not of its motion. */
export const lonePose = defineCheck({
  name: "lone-pose",
  title: "Lone pose",
  family: "spacing",
  scope: "figure",
  ceiling: "major",
  notBefore: "splining",
  what: "The first pose of a shot, or its last one, is not of its motion: the whole body jumps away from it, or into it.",
  why: "A rest pose that was left in, or a pose of another take, flashes up as the shot begins or ends.",
  computes:
    "For each figure the way of all its moving parts in the world, frame by frame, at both ends of the range. The pose stands for two frames (at 24 per second) or less, within which nothing goes farther than the floor of rest. Then half of the parts or more jump at once. A part jumps where its step is six times the largest that it makes in the half second beside it, or the floor of rest where that is larger. The farthest jump is a tenth of the body's height at least.",
  fix: "Take the pose out, or let the shot begin behind it and end before it.",
  notAFault: [
    "a pose that step keys hold and cut from",
    "a start out of rest, after which the body goes on: it makes no step six times those that follow",
    "a shot in which less than half a second is left beside the pose",
  ],
  limits: [
    "A pose that stands for longer than two frames is a hold.",
    "Where the shot blends out of a rest pose over some frames, that is a move.",
  ],
  sources: [
    "Common practice: recordings are delivered with a rest pose in front, for whoever fits them to a body",
  ],
  since: "0.1.0",
  settings,
  find(study, index, values) {
    const found: LonePoseFinding[] = [];
    for (const isFirst of [true, false]) {
      const finding = lonePoseAt(study, index, isFirst, values);
      if (finding !== null) found.push(finding);
    }
    return found;
  },
  word({ numbers: { isFirst, first, last, beside, parts, of, farthest, jump } }, words) {
    const which = isFirst === 1 ? "first" : "last";
    const away = isFirst === 1 ? "away from it" : "into it";
    const range = isFirst === 1 ? "begin" : "end";
    return {
      message: `the ${which} pose, ${words.span(first, last)}, is not of the motion: ${parts} of ${of} parts jump ${away} at once, ${words.name(farthest)} by ${words.length(jump)}`,
      suggestion: `take the keys of ${words.span(first, last)} out, or let the shot ${range} at frame ${words.frame(beside)}`,
    };
  },
});

/** A pose that stands alone at one end of the range; null where there is none. */
function lonePoseAt(study: Study, index: number, isFirst: boolean, values: Values): LonePoseFinding | null {
  const { count, rate } = gridOf(study);
  const inFrames = (frames: number) => Math.max(1, Math.round((frames * rate) / referenceRate));
  const beside = inFrames(calm);
  const moving = figuresOf(study)[index].nodes.filter((node) => !worldOf(study, node).still);
  if (moving.length === 0) return null;
  const steps = moving.map((node) => uncutSpacingOf(study, node));
  const floors = moving.map((node) => restFloorOf(study, node));
  // Steps are counted from the end of the range inwards: the first leads from its outmost pose to the next one.
  const stepAt = (k: number) => (isFirst ? k : count - k);
  const moves = (k: number) => steps.some((own, n) => own[stepAt(k)] > floors[n]);
  let at = 1;
  while (at <= inFrames(values.longest) && at < count && !moves(at)) at++;
  if (at > inFrames(values.longest) || at + beside >= count) return null;
  const jumps = moving.flatMap((node, n) => {
    let calmest = floors[n];
    for (let k = at + 1; k <= at + beside; k++) calmest = Math.max(calmest, steps[n][stepAt(k)]);
    const way = steps[n][stepAt(at)];
    return way > values.times * calmest ? [{ node, way }] : [];
  });
  if (jumps.length === 0) return null;
  const share = jumps.length / moving.length;
  const far = jumps.reduce((a, b) => (b.way > a.way ? b : a));
  if (share < values.share || far.way < values.least * statureOf(study, index)) return null;
  const [first, last] = isFirst ? [0, at - 1] : [count - at, count - 1];
  const [from, to] = isFirst ? [0, at] : [count - 1 - at, count - 1];
  const figure = figuresOf(study)[index];
  return {
    node: carrierOf(figure),
    seenAt: [carrierOf(figure), ...jumps.map(({ node }) => node)],
    isOfFigure: true,
    figure: index,
    from,
    to,
    measured: { quantity: "share of the moving parts that jump", value: share, unit: "share" },
    expected: { max: values.share, unit: "share", source: settings.share.source },
    excess: share / Math.max(values.share, Number.EPSILON),
    size: far.way,
    numbers: {
      isFirst: isFirst ? 1 : 0,
      first,
      last,
      beside: isFirst ? at : count - 1 - at,
      parts: jumps.length,
      of: moving.length,
      farthest: far.node,
      jump: far.way,
    },
    fault: { kind: "keys", keys: keysOfNodes(study, moving, first, last) },
  };
}
