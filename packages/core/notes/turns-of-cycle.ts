import type { Study } from "../base/study.ts";
import { sampleCurve } from "../curve/evaluate.ts";
import { curveTraitsOf } from "../curve/traits.ts";
import { curveName, curveOf } from "../document/inputs.ts";
import type { NoteKey } from "../faults/note.ts";
import { curveNamesOfNode } from "../rig/pose.ts";
import { rigOf } from "../rig/rig.ts";

/** What is the same in each turn of a cycle differs by less than this share (our choice: keys are thinned out on the way). */
const alike = 0.02;

/** What is told of one turn: how much it is, and the key that it comes from first. */
export interface Told {
  readonly value: number;
  readonly key: NoteKey | undefined;
}

/**
 * Whether the same is told of two turns of a cycle: it is as large, and at both keys, which are of one channel, all curves
 * of their node have the same values. A walk that was copied from step to step has the slip of its first one in all of
 * them.
 */
export function isOfCycle(study: Study, a: Told, b: Told): boolean {
  const [one, two] = [a.key, b.key];
  if (one === undefined || two === undefined) return false;
  if (one.node !== two.node || one.channel !== two.channel || one.frame === two.frame) return false;
  if (!(Math.abs(a.value - b.value) <= alike * Math.abs(a.value))) return false;
  const node = rigOf(study).indexOf.get(one.node);
  if (node === undefined || curveOf(study, curveName(one.node, one.channel))?.width !== 1) return false;
  const times = Float64Array.of(one.frame, two.frame).sort();
  return curveNamesOfNode(study, node).every((name) => isAlike(study, name, times));
}

/** Whether a curve has the same value at two times, as near as its own range tells. */
function isAlike(study: Study, name: string, times: Float64Array): boolean {
  const curve = curveOf(study, name);
  const traits = curveTraitsOf(study, name);
  if (curve === null || traits === null || curve.width !== 1) return curve === null;
  const values = new Float64Array(2);
  sampleCurve(curve, times, values);
  return Math.abs(values[0] - values[1]) <= alike * (traits.high - traits.low);
}
