import { curveNamesOf, curveOf } from "../../../document/inputs.ts";
import type { Curve } from "../../../document/model.ts";
import { figureOfNode } from "../../../rig/body.ts";
import { rigOf } from "../../../rig/rig.ts";
import { gridOf } from "../../../time/grid.ts";
import { defineCheck } from "../../check.ts";
import { isOnEveryFrame } from "../../shared/keying/on-every-frame.ts";

const settings = {
  band: {
    default: 1e-6,
    unit: "count",
    what: "how much a curve has to change, in document units, to do anything",
    source: "common practice: below the last digit that documents carry",
    min: 0,
  },
  keys: {
    default: 3,
    unit: "count",
    what: "least number of keys of a curve that is called idle; one or two may pin a pose at both ends",
    source:
      "common practice: one or two equal keys pin a pose; three and more that change nothing were left behind",
    min: 1,
  },
} as const;

/** A curve that has keys and does nothing. */
export const idleCurve = defineCheck({
  name: "idle-curve",
  title: "Idle curve",
  family: "data",
  scope: "curve",
  ceiling: "polish",
  what: "A curve has several keys and never changes.",
  why: "Keys that do nothing hide the ones that do, and every later change has to be made in all of them.",
  computes:
    "The range of the key values, and of the handles where there are any. All idle curves with a key on every frame are one note, as recordings and bakes leave them.",
  fix: "Keep the first key and take the others out.",
  notAFault: ["one or two keys that pin a pose"],
  limits: [],
  sources: ["Common practice: curves that do nothing are deleted before a shot is handed on"],
  since: "0.1.0",
  settings,
  isNeedless: true,
  find(study, subject, values) {
    const curve = curveOf(study, curveNamesOf(study)[subject]);
    if (curve === null || curve.frames.length < values.keys) return [];
    if (!isIdle(curve, values.band)) return [];
    const node = rigOf(study).indexOf.get(curve.node) ?? -1;
    if (node < 0) return [];
    return [
      {
        node,
        figure: figureOfNode(study, node),
        from: 0,
        to: gridOf(study).count - 1,
        measured: { quantity: "keys that change nothing", value: curve.frames.length, unit: "count" },
        expected: { max: 1, unit: "count", source: settings.keys.source },
        excess: 1,
        size: 0,
        numbers: { keys: curve.frames.length },
        fault: { kind: "keys", keys: [{ node: curve.node, channel: curve.channel, index: 0 }] },
        isBookkeeping: isOnEveryFrame(study, curve),
      },
    ];
  },
  word(finding, words) {
    const key = words.keys[0];
    return {
      message: `${words.part}: ${finding.numbers.keys} ${key?.channel ?? ""} keys all hold the same value`,
      suggestion: "keep the first key and take the others out",
    };
  },
});

/**
 * Whether nothing of a curve changes.
 * @param band largest change that is none, in document units
 */
export function isIdle({ values, width, handles }: Curve, band: number): boolean {
  for (let i = width; i < values.length; i++) {
    if (Math.abs(values[i] - values[i % width]) > band) return false;
  }
  if (handles === null) return true;
  // Handles and slopes off the level move the curve between its keys.
  const stride = width === 1 ? 2 : 1;
  for (let i = stride - 1; i < handles.length; i += stride) if (Math.abs(handles[i]) > band) return false;
  return true;
}
