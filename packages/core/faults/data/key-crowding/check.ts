import { stepMode } from "../../../curve/keys.ts";
import { curveTraitsOf } from "../../../curve/traits.ts";
import { curveNamesOf, curveOf } from "../../../document/inputs.ts";
import { figureOfNode } from "../../../rig/body.ts";
import { metresPerChannelUnit } from "../../../rig/reach.ts";
import { rigOf } from "../../../rig/rig.ts";
import { gridOf, sampleAt } from "../../../time/grid.ts";
import { defineCheck, type Finding } from "../../check.ts";

/** With numbers in working units. */
export interface KeyCrowdingFinding extends Finding {
  readonly numbers: { readonly gap: number; readonly first: number; readonly second: number };
}

const settings = {
  gap: {
    default: 0.95,
    unit: "count",
    what: "least distance between neighbouring keys, in the document's frames",
    source:
      "common practice: a picture shows one pose per frame, so that of two keys within it one is never seen",
    min: 0,
    max: 1,
  },
  share: {
    default: 0.25,
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
  scope: "curve",
  ceiling: "minor",
  what: "Two keys of one curve stand within one frame.",
  why: "Only one of the two poses can be seen, and the curve between them turns so sharply that the next edit makes a pop of it.",
  computes:
    "The distance between neighbouring keys of a curve, in frames, and how much the value changes between them.",
  fix: "Keep one of the two keys, on the whole frame.",
  notAFault: [
    "curves that were sampled at a higher rate throughout",
    "a step key that is followed at once by its new value",
  ],
  limits: [],
  sources: ["Common practice: no two keys of a curve within a frame"],
  since: "0.1.0",
  settings,
  find(study, subject, values) {
    const name = curveNamesOf(study)[subject];
    const traits = curveTraitsOf(study, name);
    if (traits === null || traits.gap >= values.gap) return [];
    const curve = curveOf(study, name);
    if (curve === null || curve.frames.length < 3) return [];
    const { frames, modes } = curve;
    const close: number[] = [];
    for (let key = 1; key < frames.length; key++) {
      if (frames[key] - frames[key - 1] < values.gap && modes[key - 1] !== stepMode) close.push(key);
    }
    if (close.length === 0 || close.length >= values.share * (frames.length - 1)) return [];
    const grid = gridOf(study);
    const node = rigOf(study).indexOf.get(curve.node) ?? -1;
    if (node < 0) return [];
    return close.map((key): KeyCrowdingFinding => {
      const gap = frames[key] - frames[key - 1];
      const change = curve.width === 1 ? Math.abs(curve.values[key] - curve.values[key - 1]) : 0;
      return {
        node,
        figure: figureOfNode(study, node),
        from: sampleAt(grid, frames[key - 1]),
        to: sampleAt(grid, frames[key]),
        measured: { quantity: "distance between two keys", value: gap, unit: "frames" },
        expected: { min: 1, unit: "frames", source: settings.gap.source },
        excess: values.gap / Math.max(gap, 0.05),
        size: Math.min(0.3, change * metresPerChannelUnit(study, node, curve.channel)),
        numbers: { gap, first: frames[key - 1], second: frames[key] },
        fault: {
          kind: "keys",
          keys: [
            { node: curve.node, channel: curve.channel, index: key },
            { node: curve.node, channel: curve.channel, index: key - 1 },
          ],
        },
      };
    });
  },
  word(finding, words) {
    const { gap, first, second } = finding.numbers;
    const channel = words.keys[0]?.channel ?? "curve";
    return {
      message: `${words.part}: two ${channel} keys within one frame, at ${round(first)} and ${round(second)} (${round(gap)} of a frame apart)`,
      suggestion: `keep one of them, at frame ${Math.round(second)}`,
    };
  },
});

function round(frame: number): string {
  return String(Math.round(frame * 100) / 100);
}
