import { referenceRate } from "../../../base/constants.ts";
import { floats } from "../../../base/room.ts";
import { measure, type Study, sameNumbers } from "../../../base/study.ts";
import { headerOf } from "../../../document/inputs.ts";
import { heldOf } from "../../../motion/path/held.ts";
import { uncutSpacingOf } from "../../../motion/path/uncut.ts";
import { carrierOf, figuresOf } from "../../../rig/body.ts";
import { worldOf } from "../../../rig/pose.ts";
import { isAbove, rigOf } from "../../../rig/rig.ts";
import { gridOf } from "../../../time/grid.ts";
import type { Finding } from "../../check.ts";
import { keysOfNodes } from "../../keys-of-nodes.ts";
import type { Words } from "../../words.ts";
import { hardEndSettings } from "./hard-ends.ts";

/** With numbers in working units. */
export interface FreezeFinding extends Finding {
  readonly numbers: {
    readonly frames: number;
    readonly parts: number;
    readonly drift: number;
    /** Fewest frames that are noted. */
    readonly shortest: number;
  };
}

/** The settings that the checks of freezes share. */
export const freezeSettings = {
  still: {
    default: 0.0001,
    unit: "H",
    what: "travel per frame (at 24 per second) under which a part is frozen, in body heights",
    source:
      "common practice: a tenth of a pixel where the figure fills a picture of 1080 lines. Half a second moves no part by more than about a pixel, while a moving hold drifts about 1 cm",
    min: 0,
  },
  motion: {
    default: 0.0002,
    unit: "H",
    what: "travel per frame (at 24 per second) that some part has just before, in body heights",
    source:
      "common practice: a fifth of a pixel where the figure fills a picture of 1080 lines, 0.3 mm a frame of a grown person. A moving hold drifts about 1 cm in 12 frames, more than twice that",
    min: 0,
  },
} as const;

/** What is asked of freezes: those at the end of the range or the others, and the settings. */
export interface FreezesAsked {
  readonly still: number;
  readonly motion: number;
  /** Fewest frames that repeat the one before. */
  readonly shortest: number;
  /** Where {@link shortest} comes from. */
  readonly source: string;
  readonly atEnd: boolean;
}

/**
 * Frames (at 24 per second) before a freeze in which the figure must have moved: it stops, rather than stand still on.
 * A quarter of a second, as long as an ease (our choice).
 */
const directly = 6;

/**
 * Stretches in which every part of a figure stands still, straight out of motion; those by step keys are none.
 * @param index figure, index into `figuresOf`
 */
export function freezesOf(study: Study, index: number, asked: FreezesAsked): FreezeFinding[] {
  const { rate, count } = gridOf(study);
  const moving = movingPartsOf(study, index);
  if (moving.length === 0) return [];
  const most = mostTravelOf(study, index);
  const floor = (asked.still * referenceRate) / rate;
  const shortest = Math.max(1, Math.round(asked.shortest));
  const found: FreezeFinding[] = [];
  for (let i = 1; i < count; ) {
    if (most[i] >= floor) {
      i++;
      continue;
    }
    let end = i;
    while (end < count && most[end] < floor) end++;
    // Sample i repeats i − 1: the freeze lasts from i − 1 to end − 1.
    if ((end === count) === asked.atEnd && end - i >= shortest && i > 1) {
      const finding = findingOf(study, index, moving, most, i - 1, end - 1, asked);
      if (finding !== null) found.push(finding);
    }
    i = end;
  }
  return found;
}

/** "all 12 parts of the figure that moved stop dead at frame 24 and stay frozen, frames 24 to 44 (21 frames)". */
export function frozenParts({ from, to, numbers }: FreezeFinding, words: Words): string {
  const parts = numbers.parts === 1 ? "the one part" : `all ${numbers.parts} parts`;
  return `${parts} of the figure that moved stop dead at frame ${words.frame(from)} and stay frozen, ${words.counted(from, to)}`;
}

/** What of a figure moves at all, declared props left out. */
const movingPartsOf = measure("moving parts", (study, index: number): readonly number[] => {
  const { nodes } = figuresOf(study)[index];
  const rig = rigOf(study);
  const props = (headerOf(study).props ?? []).flatMap(({ node }) => rig.indexOf.get(node) ?? []);
  const isOfProp = (node: number) => props.some((prop) => isAbove(rig, prop, node));
  return nodes.filter((node) => !worldOf(study, node).still && !isOfProp(node));
});

/** Per sample: the largest travel of any of a figure's moving parts since the sample before. */
const mostTravelOf = measure(
  "most travel",
  (study, index: number): Float64Array => {
    const most = floats(gridOf(study).count);
    for (const node of movingPartsOf(study, index)) {
      const steps = uncutSpacingOf(study, node);
      for (let i = 1; i < most.length; i++) if (steps[i] > most[i]) most[i] = steps[i];
    }
    return most;
  },
  sameNumbers,
);

function findingOf(
  study: Study,
  figure: number,
  moving: readonly number[],
  most: Float64Array,
  from: number,
  to: number,
  asked: FreezesAsked,
): FreezeFinding | null {
  const { rate } = gridOf(study);
  const first = Math.max(1, from - Math.round((directly * rate) / referenceRate) + 1);
  let fastest = 0;
  for (let i = first; i <= from; i++) fastest = Math.max(fastest, most[i]);
  if (fastest < (asked.motion * referenceRate) / rate) return null;
  // The part that went farthest in those frames speaks for the figure.
  const floor = (asked.still * referenceRate) / rate;
  const moved = moving.filter((node) => travelOver(study, node, first, from) > floor);
  if (moved.length === 0 || moved.every((node) => isByStep(study, node, from))) return null;
  const lead = moved.reduce((best, node) =>
    travelOver(study, node, first, from) > travelOver(study, best, first, from) ? node : best,
  );
  const frames = to - from;
  const seconds = frames / rate;
  return {
    node: lead,
    seenAt: [...new Set([lead, ...mainParts(study, figure).filter((node) => moved.includes(node))])],
    isOfFigure: true,
    figure,
    from,
    to,
    measured: { quantity: "frames that repeat the one before", value: frames, unit: "frames" },
    expected: { max: asked.shortest, unit: "frames", source: asked.source },
    excess: frames / asked.shortest,
    size: fastest,
    // What slows down evenly from that speed, over the freeze or the longest ease that is missed, goes half as far.
    amiss: 0.5 * fastest * Math.min(frames, (hardEndSettings.longest.default * rate) / referenceRate),
    // A moving hold drifts by about 1 cm in half a second.
    numbers: {
      frames,
      parts: moved.length,
      drift: Math.min(0.04, 0.02 * seconds) + 0.005,
      shortest: Math.max(1, Math.round(asked.shortest)),
    },
    // The keys on which the moves end; a joint that turns need not travel itself.
    fault: { kind: "keys", keys: keysOfNodes(study, moving, from, Math.min(to, from + 1)) },
  };
}

/** Where one looks whether a body lives: its hips or top node, its chest and its head. */
function mainParts(study: Study, index: number): readonly number[] {
  const figure = figuresOf(study)[index];
  const first = (["chest", "head"] as const).flatMap((part) => figure.parts.get(part)?.[0] ?? []);
  return [carrierOf(figure), ...first];
}

/**
 * Whether a node is held by step keys behind a sample; at the end of its keys, where nothing holds it, whether it was
 * switched from one held pose to another there.
 */
function isByStep(study: Study, node: number, from: number): boolean {
  const held = heldOf(study, node);
  return held[from + 1] === 1 || (from > 1 && held[from - 1] === 1);
}

function travelOver(study: Study, node: number, first: number, last: number): number {
  const steps = uncutSpacingOf(study, node);
  let sum = 0;
  for (let i = first; i <= last; i++) sum += steps[i];
  return sum;
}
