import { excused } from "../../../base/excuse.ts";
import type { Study } from "../../../base/study.ts";
import { curveOf } from "../../../document/inputs.ts";
import type { Curve } from "../../../document/model.ts";
import { figureOfNode } from "../../../rig/body.ts";
import { curveNamesOfNode } from "../../../rig/channels.ts";
import { rigOf } from "../../../rig/rig.ts";
import { gridOf } from "../../../time/grid.ts";
import { defineCheck, type Finding } from "../../check.ts";

/** With the curves that never change. */
export interface IdleCurveFinding extends Finding {
  readonly numbers: { readonly keys: number; readonly curves: number };
  readonly curves: readonly Curve[];
}

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
  scope: "node",
  ceiling: "polish",
  what: "A curve has several keys and never changes.",
  why: "Keys that do nothing hide the ones that do, and every later change has to be made in all of them.",
  computes:
    "The range of the key values, and of the handles where there are any. All nodes with idle curves are one note of the shot, which counts those of the first: nothing is seen of them.",
  fix: "Keep the first key and take the others out.",
  notAFault: [
    "one or two keys that pin a pose",
    "a curve with keys on the very frames of another one of its figure that moves: they are keyed together as poses, or written frame by frame",
  ],
  limits: ["A note names the first key of six curves at most; further curves are counted, not listed."],
  sources: ["Common practice: curves that do nothing are deleted before a shot is handed on"],
  since: "0.1.0",
  settings,
  isNeedless: true,
  find(study, node, values) {
    const idle: Curve[] = [];
    for (const name of curveNamesOfNode(study, node)) {
      const curve = curveOf(study, name);
      if (curve !== null && curve.frames.length >= values.keys && isIdle(curve, values.band)) {
        idle.push(curve);
      }
    }
    if (idle.length === 0) return [];
    const left = idle.filter((curve) => !isOfPoses(study, node, curve, values.band));
    if (left.length > 0) return [findingOf(study, node, left)];
    excused(
      node,
      0,
      gridOf(study).count - 1,
      "its keys stand with those of a curve that moves: they are poses",
    );
    return [];
  },
  word(finding, words) {
    const key = words.keys[0];
    const { keys, curves } = finding.numbers;
    return curves === 1
      ? {
          message: `${words.part}: ${keys} ${key?.channel ?? ""} keys all hold the same value`,
          suggestion: "keep the first key and take the others out",
        }
      : {
          message: `${words.part}: ${curves} curves never change, with ${keys} keys in all, the first is ${key?.channel ?? ""}`,
          suggestion: "keep the first key of each and take the others out",
        };
  },
});

function findingOf(study: Study, node: number, curves: readonly Curve[]): IdleCurveFinding {
  const keys = curves.reduce((sum, { frames }) => sum + frames.length, 0);
  return {
    node,
    figure: figureOfNode(study, node),
    from: 0,
    to: gridOf(study).count - 1,
    measured: { quantity: "keys that change nothing", value: keys, unit: "count" },
    expected: { max: curves.length, unit: "count", source: settings.keys.source },
    excess: 1,
    size: 0,
    numbers: { keys, curves: curves.length },
    curves,
    fault: {
      kind: "keys",
      keys: curves.slice(0, mostNamed).map(({ node, channel }) => ({ node, channel, index: 0 })),
    },
    isBookkeeping: true,
  };
}

/** Whether a curve is keyed on the very frames of one of its figure, or of its node, that moves. */
function isOfPoses(study: Study, node: number, idle: Curve, band: number): boolean {
  const figure = figureOfNode(study, node);
  const all = rigOf(study).ids;
  for (let other = 0; other < all.length; other++) {
    if (other !== node && (figure < 0 || figureOfNode(study, other) !== figure)) continue;
    for (const name of curveNamesOfNode(study, other)) {
      const curve = curveOf(study, name);
      if (curve !== null && hasSameFrames(curve, idle) && !isIdle(curve, band)) return true;
    }
  }
  return false;
}

function hasSameFrames({ frames }: Curve, { frames: others }: Curve): boolean {
  return frames.length === others.length && frames.every((frame, key) => frame === others[key]);
}

/** The first key of at most so many curves is named (our choice). */
const mostNamed = 6;

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
