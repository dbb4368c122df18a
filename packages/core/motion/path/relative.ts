import { angleBetween, conjugateInto, multiplyQuaternions } from "../../base/quaternion.ts";
import { floats } from "../../base/room.ts";
import { measure, type Study } from "../../base/study.ts";
import { worldOf } from "../../rig/pose.ts";
import { gridOf } from "../../time/grid.ts";

/**
 * Turn of a node against an ancestor from each sample to the next, in radians; the first entry is 0.
 * Key: "node ancestor", both rig indices; see {@link relativeTurns}.
 */
const relativeTurnsOf = measure<string, Float64Array>("relative turns", (study, key) => {
  const [node, ancestor] = key.split(" ").map(Number);
  const { count } = gridOf(study);
  const inner = worldOf(study, node).orientation;
  const outer = worldOf(study, ancestor).orientation;
  const turns = floats(count);
  const before = new Float64Array(4);
  const here = new Float64Array(4);
  for (let i = 0; i < count; i++) {
    relative(outer, inner, 4 * i, here);
    if (i > 0) turns[i] = angleBetween(before, 0, here, 0);
    before.set(here);
  }
  return turns;
});

/** Turn of a node against an ancestor from the sample before to each sample, in radians; the first entry is 0. */
export function relativeTurns(study: Study, node: number, ancestor: number): Float64Array {
  return relativeTurnsOf(study, `${node} ${ancestor}`);
}

/** Angle in radians by which a node turned against an ancestor between two samples. */
export function relativeAngle(
  study: Study,
  node: number,
  ancestor: number,
  from: number,
  to: number,
): number {
  return relativeAngles(study, node, ancestor)(from, to);
}

/** The same for whoever asks for many samples of one node. */
export function relativeAngles(
  study: Study,
  node: number,
  ancestor: number,
): (from: number, to: number) => number {
  const inner = worldOf(study, node).orientation;
  const outer = worldOf(study, ancestor).orientation;
  return (from, to) => {
    relative(outer, inner, 4 * from, one);
    relative(outer, inner, 4 * to, other);
    return angleBetween(one, 0, other, 0);
  };
}

/** Angle in radians between a node's world orientations at two samples. */
export function worldAngle(study: Study, node: number, from: number, to: number): number {
  const { orientation } = worldOf(study, node);
  return angleBetween(orientation, 4 * from, orientation, 4 * to);
}

// Written anew by each call that reads them.
const inverse = new Float64Array(4);
const one = new Float64Array(4);
const other = new Float64Array(4);

/** outer⁻¹ · inner at one sample. */
function relative(outer: Float64Array, inner: Float64Array, at: number, out: Float64Array): void {
  conjugateInto(outer, at, inverse, 0);
  multiplyQuaternions(inverse, 0, inner, at, out, 0);
}

/** Sum of a series over the samples from..to, both included. */
export function sumOver(series: Float64Array, from: number, to: number): number {
  let sum = 0;
  for (let i = Math.max(0, from); i <= Math.min(series.length - 1, to); i++) sum += series[i];
  return sum;
}
