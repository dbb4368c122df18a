import type { Study } from "../../../base/study.ts";
import { curveTraitsOf } from "../../../curve/traits.ts";
import type { Curve } from "../../../document/model.ts";
import { figureOfNode } from "../../../rig/body.ts";
import { metresPerChannelUnit } from "../../../rig/reach.ts";
import { gridOf, sampleAt } from "../../../time/grid.ts";
import { defineCheck, type Finding } from "../../check.ts";
import { crowdedIn, leastGap, sampledShare } from "../shared/crowded.ts";
import { curvesOf, type KeyPlace, runsOfPlaces } from "../shared/places.ts";

/** With numbers in the document's frames, and the second keys of all pairs that are meant, the closest pair first. */
export interface KeyCrowdingFinding extends Finding {
  readonly numbers: {
    readonly gap: number;
    readonly first: number;
    readonly second: number;
    readonly pairs: number;
    readonly curves: number;
  };
  readonly places: readonly KeyPlace[];
}

const settings = {
  gap: {
    default: leastGap,
    unit: "count",
    what: "least distance between neighbouring keys, in the document's frames",
    source:
      "common practice: a picture shows one pose per frame, so that of two keys within it one is never seen",
    min: 0,
    max: 1,
  },
  share: {
    default: sampledShare,
    unit: "share",
    what: "share of a curve's gaps that are this short from which on the curve counts as sampled at a higher rate",
    source: "common practice: keys that crowd by mistake are few",
    min: 0,
    max: 1,
  },
} as const;

/** Two keys within one frame. */
export const keyCrowding = defineCheck({
  name: "key-crowding",
  title: "Crowded keys",
  family: "data",
  scope: "node",
  ceiling: "minor",
  what: "Two keys of one curve stand within one frame.",
  why: "Only one of the two poses can be seen, and the curve between them turns so sharply that the next edit makes a pop of it.",
  computes:
    "The distance between neighbouring keys of a curve, in frames, and how much the value changes between them. Pairs of one node that follow each other within a second are one note, whichever curves they are on; it tells the closest pair.",
  fix: "Keep one of the two keys, on the whole frame.",
  notAFault: [
    "curves that were sampled at a higher rate throughout",
    "a step key that is followed at once by its new value",
  ],
  limits: ["A note names the closest pairs; further ones are counted, not listed."],
  sources: ["Common practice: no two keys of a curve within a frame"],
  since: "0.1.0",
  settings,
  // Of two keys within one frame one lies between frames.
  yieldsTo: ["key-off-frame"],
  find(study, node, values) {
    return runsOfPlaces(study, node, (name, curve): readonly KeyPlace[] => {
      const traits = curveTraitsOf(study, name);
      if (traits === null || traits.gap >= values.gap) return none;
      return crowdedIn(curve, values.gap, values.share).map((index) => ({
        curve,
        index,
        frame: curve.frames[index],
      }));
    }).map((places) => findingOf(study, node, places, values.gap));
  },
  word(finding, words) {
    const { gap, first, second, pairs, curves } = finding.numbers;
    const channel = words.keys[0]?.channel ?? "curve";
    const closest = `at ${round(first)} and ${round(second)} (${round(gap)} of a frame apart)`;
    if (pairs === 1) {
      return {
        message: `${words.part}: two ${channel} keys within one frame, ${closest}`,
        suggestion: `keep one of them, at frame ${Math.round(second)}`,
      };
    }
    const where = curves === 1 ? `of ${channel}` : `in ${curves} curves`;
    return {
      message: `${words.part}: ${pairs} pairs of keys ${where} within one frame, the closest ${curves === 1 ? "" : `in ${channel} `}${closest}`,
      suggestion: "keep one of each two, on the whole frame",
    };
  },
});

const none: readonly KeyPlace[] = [];

const gapAt = ({ curve: { frames }, index }: KeyPlace) => frames[index] - frames[index - 1];

function findingOf(
  study: Study,
  node: number,
  places: readonly KeyPlace[],
  least: number,
): KeyCrowdingFinding {
  const grid = gridOf(study);
  const closestFirst = [...places].sort((a, b) => gapAt(a) - gapAt(b));
  const [closest] = closestFirst;
  const gap = gapAt(closest);
  return {
    node,
    figure: figureOfNode(study, node),
    from: sampleAt(grid, Math.min(...places.map(({ curve, index }) => curve.frames[index - 1]))),
    to: sampleAt(grid, places[places.length - 1].frame),
    measured: { quantity: "distance between two keys", value: gap, unit: "frames" },
    expected: { min: 1, unit: "frames", source: settings.gap.source },
    excess: least / Math.max(gap, 0.05),
    size: Math.min(0.3, Math.max(...places.map((place) => changeAt(study, node, place)))),
    amiss: Math.min(0.3, Math.max(...places.map((place) => jumpAt(study, node, place)))),
    numbers: {
      gap,
      first: closest.curve.frames[closest.index - 1],
      second: closest.frame,
      pairs: places.length,
      curves: curvesOf(places),
    },
    places: closestFirst,
    fault: { kind: "keys", keys: closestFirst.slice(0, mostNamed).flatMap(pairOf) },
  };
}

/** At most so many pairs are named (our choice). */
const mostNamed = 3;

/** What a pair's change of value moves, in metres. */
function changeAt(study: Study, node: number, { curve, index }: KeyPlace): number {
  const change = curve.width === 1 ? Math.abs(curve.values[index] - curve.values[index - 1]) : 0;
  return change * metresPerChannelUnit(study, node, curve.channel);
}

/**
 * What of a pair's change of value the keys around it do not lead to, in metres: a pair that lies on the course of its move
 * is not seen.
 */
function jumpAt(study: Study, node: number, place: KeyPlace): number {
  const { curve, index } = place;
  const { frames, values, width } = curve;
  const before = index - 2;
  const after = index + 1;
  if (width !== 1 || before < 0 || after >= frames.length) return changeAt(study, node, place);
  const speed = (values[after] - values[before]) / (frames[after] - frames[before]);
  const jump = values[index] - values[index - 1] - speed * gapAt(place);
  return Math.min(
    changeAt(study, node, place),
    Math.abs(jump) * metresPerChannelUnit(study, node, curve.channel),
  );
}

/** Both keys of a pair, the one that stands further from a whole frame first: it is the slip. */
function pairOf({ curve, index }: KeyPlace) {
  const { node, channel, frames } = curve;
  const order =
    offFrame(frames, index) >= offFrame(frames, index - 1) ? [index, index - 1] : [index - 1, index];
  return order.map((one) => ({ node, channel, index: one }));
}

function offFrame(frames: Curve["frames"], index: number): number {
  return Math.abs(frames[index] - Math.round(frames[index]));
}

function round(frame: number): string {
  return String(Math.round(frame * 100) / 100);
}
