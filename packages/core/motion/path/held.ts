import { referenceRate } from "../../base/constants.ts";
import { bytes, floats } from "../../base/room.ts";
import { measure, type Study, sameNumbers, shotMeasure } from "../../base/study.ts";
import { sampleCurve } from "../../curve/evaluate.ts";
import { stepMode } from "../../curve/keys.ts";
import { curveTraitsOf } from "../../curve/traits.ts";
import { curveNamesOf, curveOf } from "../../document/inputs.ts";
import type { Curve } from "../../document/model.ts";
import { curveNamesOfNode } from "../../rig/pose.ts";
import { chainOf, rigOf } from "../../rig/rig.ts";
import { gridOf } from "../../time/grid.ts";

/**
 * A pose held for more frames than this (at 24 per second) is a hold and no longer a slow pose rate. Common practice:
 * drawn animation runs on ones, twos and threes; a drawing that stays for longer is meant as a hold.
 */
export const longestPose = 3;

/** Whole frames that are no longer than a number of frames at 24 per second; a rate may be a hair under a whole one. */
export function framesAt(rate: number, frames: number): number {
  return Math.max(1, Math.floor((frames * rate) / referenceRate + 0.01));
}

/** What a curve does from the sample before to a sample: it changes, it stays as it is, it is held by a step key. */
export const curveChanges = 0;
const stays = 1;
const heldByStep = 2;

/** Per sample, the state of one curve (by name) since the sample before. */
export const curveStateOf = measure(
  "curve state",
  (study, name: string): Uint8Array => {
    const grid = gridOf(study);
    const state = bytes(grid.count).fill(stays);
    const curve = curveOf(study, name);
    if (curve === null || curve.frames.length === 0) return state;
    const { width } = curve;
    const values = floats(width * grid.count);
    sampleCurve(curve, grid.frames, values);
    for (let i = 1; i < grid.count; i++) {
      let equal = true;
      for (let k = width * i; k < width * (i + 1); k++) if (values[k] !== values[k - width]) equal = false;
      state[i] = !equal
        ? curveChanges
        : onStep(curve, grid.frames[i - 1], grid.frames[i])
          ? heldByStep
          : stays;
    }
    return state;
  },
  sameNumbers,
);

/** Whether a curve (by name) has any step segment. */
function isSteppedOf(study: Study, name: string): boolean {
  return curveTraitsOf(study, name)?.isStepped ?? false;
}

/** Whether anything that drives a node has step segments: elsewhere nothing is held, and no curve has to be looked at. */
export function isChainStepped(study: Study, node: number): boolean {
  return isAnySteppedOf(study) && isChainSteppedOf(study, node);
}
/** Whether any curve of the shot has step segments. */
export const isAnySteppedOf = shotMeasure("any stepped", (study): boolean => {
  return curveNamesOf(study).some((name) => isSteppedOf(study, name));
});
const isChainSteppedOf = measure("chain stepped", (study, node: number): boolean => {
  return chainOf(rigOf(study), node).some((at) => isNodeSteppedOf(study, at));
});
const isNodeSteppedOf = measure("node stepped", (study, node: number): boolean => {
  return curveNamesOfNode(study, node).some((name) => isSteppedOf(study, name));
});

/** Levels of a hierarchy that are gone down by recursion at a time. */
const levels = 64;

/** Per sample, the state of everything that drives a node: its own curves and those of all nodes above. */
const chainStateOf = measure(
  "chain state",
  (study, node: number): Uint8Array => {
    const { count } = gridOf(study);
    const rig = rigOf(study);
    const above = rig.parent[node];
    // Ancestors at some levels are asked for from the root on, so that a very deep chain does not fill the call stack.
    if (rig.depth[node] > 0 && rig.depth[node] % levels === 0) {
      for (const at of chainOf(rig, above)) if (rig.depth[at] % levels === 0) chainStateOf(study, at);
    }
    const names = curveNamesOfNode(study, node);
    if (names.length === 0 && above >= 0) return chainStateOf(study, above);
    const state = above < 0 ? bytes(count).fill(stays) : chainStateOf(study, above).slice();
    for (const name of names) {
      const own = curveStateOf(study, name);
      for (let i = 0; i < count; i++) {
        state[i] =
          own[i] === curveChanges || state[i] === curveChanges ? curveChanges : Math.max(own[i], state[i]);
      }
    }
    return state;
  },
  sameNumbers,
);

/**
 * 1 where a sample repeats the one before because the curves that drive the node are held on a step segment there:
 * at least one of them, with no other of them changing. Counts the node's own curves and those of the nodes above.
 */
export function heldOf(study: Study, node: number): Uint8Array {
  return isChainStepped(study, node) ? steppedHeldOf(study, node) : neverHeldOf(study);
}
/** What {@link heldOf} gives for every node that nothing with step keys drives: most shots have no other. */
export const neverHeldOf = shotMeasure("never held", (study) => bytes(gridOf(study).count), sameNumbers);
const steppedHeldOf = measure(
  "held",
  (study, node: number): Uint8Array => {
    const held = bytes(gridOf(study).count);
    const state = chainStateOf(study, node);
    for (let i = 1; i < held.length; i++) held[i] = state[i] === heldByStep ? 1 : 0;
    return held;
  },
  sameNumbers,
);

/**
 * How many judged frames a pose of the node is typically shown: 1 where it moves on every frame, 2 where it is held
 * on twos. The median over the poses that step keys make, but for those that stay for longer than threes, which are
 * holds; frames at which nothing is keyed or moves are left out.
 */
export function onTwosOf(study: Study, node: number): number {
  return isChainStepped(study, node) ? typicalHoldOf(study, node) : 1;
}
const typicalHoldOf = measure("on twos", (study, node: number): number => {
  return typicalHold(chainStateOf(study, node), framesAt(gridOf(study).rate, longestPose));
});

function typicalHold(state: Uint8Array, longest: number): number {
  const lengths: number[] = [];
  let length = 1;
  let isPose = false;
  for (let i = 1; i < state.length; i++) {
    if (state[i] === heldByStep) length++;
    else {
      if (isPose && length <= longest) lengths.push(length);
      length = 1;
    }
    isPose = state[i] === curveChanges || (isPose && state[i] === heldByStep);
  }
  if (lengths.length === 0) return 1;
  lengths.sort((a, b) => a - b);
  return lengths[lengths.length >> 1];
}

/** Whether a curve is on step segments all the way between two frames, both inside the keys or after the last. */
function onStep(curve: Curve, before: number, after: number): boolean {
  const { frames, modes } = curve;
  let low = 0;
  let high = frames.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (frames[middle] <= before) low = middle + 1;
    else high = middle;
  }
  const first = low - 1;
  if (first < 0 || first >= frames.length - 1) return false;
  for (let key = first; key < frames.length - 1 && frames[key] < after; key++) {
    if (modes[key] !== stepMode) return false;
  }
  return true;
}
