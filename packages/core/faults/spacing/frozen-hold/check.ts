import { referenceRate } from "../../../base/constants.ts";
import { floats } from "../../../base/room.ts";
import type { Study } from "../../../base/study.ts";
import { headerOf } from "../../../document/inputs.ts";
import { heldOf } from "../../../motion/path/held.ts";
import { uncutSpacingOf } from "../../../motion/path/uncut.ts";
import { figuresOf } from "../../../rig/body.ts";
import { worldOf } from "../../../rig/pose.ts";
import { isAbove, rigOf } from "../../../rig/rig.ts";
import { gridOf } from "../../../time/grid.ts";
import { defineCheck, type Finding } from "../../check.ts";
import { keysOfNodes } from "../../keys-of-nodes.ts";

/** With numbers in working units. */
export interface FrozenHoldFinding extends Finding {
  readonly numbers: { readonly frames: number; readonly parts: number; readonly drift: number };
}

const settings = {
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
  shortest: {
    default: 5,
    unit: "frames",
    what: "shortest freeze that is noted",
    source:
      "common practice: on twos a pose is held two frames, so that a hold of up to four frames reads as timing, not as a stop",
    min: 1,
  },
  atEnd: {
    default: 6,
    unit: "frames",
    what: "shortest freeze that is noted at the end of the shot",
    source:
      "common practice: a quarter of a second, as long as an ease; what is cut sooner than that behind its last move does not stand yet",
    min: 1,
  },
} as const;

type FreezeValues = { readonly [K in keyof typeof settings]: number };

/**
 * Frames (at 24 per second) before a freeze in which the figure must have moved: it stops, rather than stand still on.
 * A quarter of a second, as long as an ease (our choice).
 */
const directly = 6;

/** Everything that was moving stops dead and stays. */
export const frozenHold = defineCheck({
  name: "frozen-hold",
  title: "Frozen hold",
  family: "spacing",
  scope: "figure",
  ceiling: "major",
  notBefore: "splining",
  what: "Every part of a figure stops dead, out of a move or out of a moving hold, and stays still.",
  why: "Something alive never stops altogether; a figure without the least movement turns into a picture, and the eye sees it die.",
  computes:
    "For every frame the largest travel of any node of the figure. A freeze is 5 frames or more (6 at the end of the shot) in which it stays under the floor. In one of the 6 frames before it a part travelled at least twice as much. Props that are declared do not count as parts.",
  fix: "Let the body drift on through the hold by a centimetre or so, and let the parts arrive one after the other.",
  notAFault: [
    "the start of the shot; a shot that ends within 6 frames of its last move",
    "a freeze by step keys",
    "a hold in which any part still moves (a moving hold)",
  ],
  limits: [
    "What the picture shows besides the figure's nodes (cloth, hair of another document) is not seen.",
  ],
  sources: [],
  since: "0.1.0",
  settings,
  styles: { twos: false },
  find(study, index, values) {
    const { rate, count } = gridOf(study);
    const { nodes } = figuresOf(study)[index];
    const rig = rigOf(study);
    const props = (headerOf(study).props ?? []).flatMap(({ node }) => rig.indexOf.get(node) ?? []);
    const isOfProp = (node: number) => props.some((prop) => isAbove(rig, prop, node));
    const moving = nodes.filter((node) => !worldOf(study, node).still && !isOfProp(node));
    if (moving.length === 0) return [];
    const most = mostTravel(study, moving);
    const perFrame = 24 / rate;
    const shortest = Math.max(1, Math.round(values.shortest));
    const atEnd = Math.max(1, Math.round(values.atEnd));
    const found: FrozenHoldFinding[] = [];
    for (let i = 1; i < count; ) {
      if (most[i] >= values.still * perFrame) {
        i++;
        continue;
      }
      let end = i;
      while (end < count && most[end] < values.still * perFrame) end++;
      // Sample i repeats i − 1: the freeze lasts from i − 1 to end − 1.
      if (end - i >= (end < count ? shortest : atEnd) && i > 1) {
        const finding = findingOf(study, index, moving, most, i - 1, end - 1, values);
        if (finding !== null) found.push(finding);
      }
      i = end;
    }
    return found;
  },
  word({ from, to, numbers }, words) {
    const parts = numbers.parts === 1 ? "the one part" : `all ${numbers.parts} parts`;
    return {
      message: `${parts} of the figure that moved stop dead at frame ${words.frame(from)} and stay frozen, ${words.counted(from, to)}`,
      suggestion: `let ${words.part} drift on by ${words.length(numbers.drift)} over ${words.span(from, to)}, the others by less, one to three frames later`,
    };
  },
});

/** Per sample: the largest travel of any of the nodes since the sample before. */
function mostTravel(study: Study, nodes: readonly number[]): Float64Array {
  const most = floats(gridOf(study).count);
  for (const node of nodes) {
    const steps = uncutSpacingOf(study, node);
    for (let i = 1; i < most.length; i++) if (steps[i] > most[i]) most[i] = steps[i];
  }
  return most;
}

function findingOf(
  study: Study,
  figure: number,
  moving: readonly number[],
  most: Float64Array,
  from: number,
  to: number,
  values: FreezeValues,
): FrozenHoldFinding | null {
  const { rate } = gridOf(study);
  const first = Math.max(1, from - Math.round((directly * rate) / referenceRate) + 1);
  let fastest = 0;
  for (let i = first; i <= from; i++) fastest = Math.max(fastest, most[i]);
  if (fastest < (values.motion * referenceRate) / rate) return null;
  // The part that went farthest in those frames speaks for the figure.
  const floor = (values.still * referenceRate) / rate;
  const moved = moving.filter((node) => travelOver(study, node, first, from) > floor);
  if (moved.length === 0 || moved.every((node) => isByStep(study, node, from))) return null;
  const lead = moved.reduce((best, node) =>
    travelOver(study, node, first, from) > travelOver(study, best, first, from) ? node : best,
  );
  const frames = to - from;
  const seconds = frames / rate;
  return {
    node: lead,
    figure,
    from,
    to,
    measured: { quantity: "frames that repeat the one before", value: frames, unit: "frames" },
    expected: { max: values.shortest, unit: "frames", source: settings.shortest.source },
    excess: frames / values.shortest,
    size: fastest,
    // A moving hold drifts by about 1 cm in half a second.
    numbers: { frames, parts: moved.length, drift: Math.min(0.04, 0.02 * seconds) + 0.005 },
    // The keys on which the moves end; a joint that turns need not travel itself.
    fault: { kind: "keys", keys: keysOfNodes(study, moving, from, Math.min(to, from + 1)) },
  };
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
