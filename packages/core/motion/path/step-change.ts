import { referenceRate } from "../../base/constants.ts";
import { bytes } from "../../base/room.ts";
import { measure, type Study, sameNumbers } from "../../base/study.ts";
import { stepMode } from "../../curve/keys.ts";
import { curveOf } from "../../document/inputs.ts";
import type { Curve } from "../../document/model.ts";
import { chainOf, curveNamesOfNode } from "../../rig/pose.ts";
import { rigOf } from "../../rig/rig.ts";
import { gridOf, sampleAt } from "../../time/grid.ts";
import { isAnySteppedOf } from "./held.ts";

/**
 * Holds of up to this many frames at 24 per second are motion on ones to fours (common practice); longer ones are poses
 * that are switched.
 */
const longestOnHold = 4;

/**
 * 1 at the samples at which a step key switches something that drives the node from one held pose to another, as an
 * eyelid or a mouth shape is switched. Motion that is held on twos, threes or fours is no switch. Empty where nothing
 * is switched.
 */
export const switchedOf = measure<number, Uint8Array>(
  "switched",
  (study, node) => {
    if (!isAnySteppedOf(study)) return none;
    let switched: Uint8Array = none;
    for (const at of chainOf(rigOf(study), node)) {
      const own = ownSwitchesOf(study, at);
      if (own.length === 0) continue;
      if (switched.length === 0) switched = own;
      else switched = switched.map((flag, i) => flag | own[i]);
    }
    return switched;
  },
  sameNumbers,
);

/** Switches of a node's own curves; empty where it has none. */
const ownSwitchesOf = measure<number, Uint8Array>(
  "own switches",
  (study, node) => {
    let switched: Uint8Array = none;
    for (const curve of switchingCurves(study, node)) {
      if (switched.length === 0) switched = bytes(gridOf(study).count);
      for (const { at } of switchesIn(study, curve)) switched[at] = 1;
    }
    return switched;
  },
  sameNumbers,
);

/** A step key that switches a curve from one held pose to another. */
export interface Switch {
  readonly curve: Curve;
  /** Grid index at which it does, and index of the key. */
  readonly at: number;
  readonly key: number;
}

/** The switches by a node's own curves between two samples, both included. */
export function switchesBetween(study: Study, node: number, from: number, to: number): readonly Switch[] {
  if (!isAnySteppedOf(study)) return [];
  return switchingCurves(study, node).flatMap((curve) =>
    switchesIn(study, curve).filter(({ at }) => at >= from && at <= to),
  );
}

function switchingCurves(study: Study, node: number): readonly Curve[] {
  const { rate, step } = gridOf(study);
  const longest = (longestOnHold * rate * step) / referenceRate;
  return curveNamesOfNode(study, node).flatMap((name) => {
    const curve = curveOf(study, name);
    return curve?.modes.includes(stepMode) === true && typicalGap(curve) > longest ? [curve] : [];
  });
}

function switchesIn(study: Study, curve: Curve): Switch[] {
  const grid = gridOf(study);
  const switches: Switch[] = [];
  for (let key = 1; key < curve.frames.length; key++) {
    const frame = curve.frames[key];
    const isInRange = frame >= grid.frames[0] && frame <= grid.frames[grid.count - 1];
    if (curve.modes[key - 1] === stepMode && isInRange) {
      switches.push({ curve, at: sampleAt(grid, frame), key });
    }
  }
  return switches;
}

/** Stands for a series in which nothing is switched. */
const none = new Uint8Array(0);

/** Median distance between neighbouring keys that step segments part, in document frames. */
function typicalGap({ frames, modes }: Curve): number {
  const gaps: number[] = [];
  for (let key = 1; key < frames.length; key++)
    if (modes[key - 1] === stepMode) gaps.push(frames[key] - frames[key - 1]);
  gaps.sort((a, b) => a - b);
  return gaps[gaps.length >> 1] ?? 0;
}
