import { sampleCurve } from "../curve/evaluate.ts";
import type { Channel, Curve } from "../document/model.ts";
import { gridOf } from "../motion/grid.ts";
import { curveOf, measure, type Study, sameNumbers } from "../study/study.ts";
import { channelOfName, curveNamesOfNode } from "./channels.ts";
import { eulersToQuaternions, multiplyQuaternions } from "./quaternion.ts";
import { type Rig, radiansPerUnitOf, rigOf } from "./rig.ts";

/**
 * A node's local motion: numbers per grid sample, or, where no curve drives it, those of one sample that stands for
 * all (`still`).
 */
export interface LocalSeries {
  readonly values: Float64Array;
  readonly still: boolean;
}

/** Translation against the parent, 3 numbers per sample, document units. */
export const localShiftOf = measure("local shift", (study, node: number): LocalSeries => {
  return vectorSeries(study, axisCurves(study, node, "translate."), rigOf(study).offset, node);
});

/** Scale, 3 numbers per sample; null where it is 1 throughout because nothing sets it. */
export const localScaleOf = measure("local scale", (study, node: number): LocalSeries | null => {
  const { restScale } = rigOf(study);
  const curves = axisCurves(study, node, "scale.");
  const isPlain = restScale[3 * node] === 1 && restScale[3 * node + 1] === 1 && restScale[3 * node + 2] === 1;
  return curves === null && isPlain ? null : vectorSeries(study, curves, restScale, node);
});

/** Turn against the parent, 4 numbers per sample: orient, then the node's own rotation. */
export const localTurnOf = measure(
  "local turn",
  (study, node: number): LocalSeries => {
    const rig = rigOf(study);
    const quaternion = keyedCurve(study, node, "rotate");
    const curves = axisCurves(study, node, "rotate.");
    const still = quaternion === null && curves === null;
    const count = still ? 1 : gridOf(study).count;
    const values = new Float64Array(4 * count);
    if (quaternion !== null) sampleCurve(quaternion, gridOf(study).frames, values);
    else {
      const toRadians = radiansPerUnitOf(study);
      const angles = sampleAxes(study, curves, rig.restRotation, node, 1 / toRadians, count);
      eulersToQuaternions(rig.order[node], angles[0], angles[1], angles[2], toRadians, values, count);
    }
    applyOrient(rig, node, values);
    return { values, still };
  },
  (a, b) => a.still === b.still && sameNumbers(a.values, b.values),
);

/** The curve of one channel of a node, null where it has none or one without keys. */
export function keyedCurve(study: Study, node: number, channel: Channel): Curve | null {
  for (const name of curveNamesOfNode(study, node)) {
    if (channelOfName(name) !== channel) continue;
    const curve = curveOf(study, name);
    return curve === null || curve.frames.length === 0 ? null : curve;
  }
  return null;
}

type AxisCurves = [x: Curve | null, y: Curve | null, z: Curve | null];

/** The curves of the x, y and z channel of a kind; null where none of them has a key. */
function axisCurves(study: Study, node: number, kind: string): AxisCurves | null {
  let found: AxisCurves | null = null;
  for (const name of curveNamesOfNode(study, node)) {
    const channel = channelOfName(name);
    if (!channel.startsWith(kind)) continue;
    const curve = curveOf(study, name);
    if (curve === null || curve.frames.length === 0) continue;
    found ??= [null, null, null];
    found["xyz".indexOf(channel[channel.length - 1])] = curve;
  }
  return found;
}

// Samples of three axes while a node is worked out; never read afterwards.
const scratch = [new Float64Array(0), new Float64Array(0), new Float64Array(0)];

/** Samples of three axes, in scratch that the next call overwrites; rest values (times `factor`) where there is no curve. */
function sampleAxes(
  study: Study,
  curves: AxisCurves | null,
  rest: Float64Array,
  node: number,
  factor: number,
  count: number,
): readonly Float64Array[] {
  for (let axis = 0; axis < 3; axis++) {
    if (scratch[axis].length < count) scratch[axis] = new Float64Array(count);
    const curve = curves?.[axis] ?? null;
    if (curve === null) scratch[axis].fill(rest[3 * node + axis] * factor, 0, count);
    else sampleCurve(curve, gridOf(study).frames, scratch[axis]);
  }
  return scratch;
}

/** Curves in place of components of a rest vector. */
function vectorSeries(
  study: Study,
  curves: AxisCurves | null,
  rest: Float64Array,
  node: number,
): LocalSeries {
  if (curves === null) return { values: rest.slice(3 * node, 3 * node + 3), still: true };
  const { count } = gridOf(study);
  const values = new Float64Array(3 * count);
  const samples = sampleAxes(study, curves, rest, node, 1, count);
  for (let axis = 0; axis < 3; axis++) {
    const series = samples[axis];
    for (let i = 0; i < count; i++) values[3 * i + axis] = series[i];
  }
  return { values, still: false };
}

function applyOrient(rig: Rig, node: number, values: Float64Array): void {
  const { orient } = rig;
  if (orient[4 * node] === 0 && orient[4 * node + 1] === 0 && orient[4 * node + 2] === 0) return;
  for (let at = 0; at < values.length; at += 4) multiplyQuaternions(orient, 4 * node, values, at, values, at);
}
