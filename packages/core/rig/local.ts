import { gridOf } from "../motion/grid.ts";
import { measure, type Study } from "../study/study.ts";
import { channelOfName, channelSeriesOf, curveNamesOfNode } from "./channels.ts";
import { eulerToQuaternion, multiplyQuaternions } from "./quaternion.ts";
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
  const series = axisSeries(study, node, "translate.");
  return vectorSeries(series, rigOf(study).offset, node, gridOf(study).count);
});

/** Scale, 3 numbers per sample; null where it is 1 throughout because nothing sets it. */
export const localScaleOf = measure("local scale", (study, node: number): LocalSeries | null => {
  const { restScale } = rigOf(study);
  const series = axisSeries(study, node, "scale.");
  const isPlain = restScale[3 * node] === 1 && restScale[3 * node + 1] === 1 && restScale[3 * node + 2] === 1;
  return series === null && isPlain ? null : vectorSeries(series, restScale, node, gridOf(study).count);
});

/** Turn against the parent, 4 numbers per sample: orient, then the node's own rotation. */
export const localTurnOf = measure("local turn", (study, node: number): LocalSeries => {
  const rig = rigOf(study);
  const quaternions = quaternionSeries(study, node);
  if (quaternions !== null) {
    const values = new Float64Array(quaternions);
    applyOrient(rig, node, values);
    return { values, still: false };
  }
  const series = axisSeries(study, node, "rotate.");
  const count = series === null ? 1 : gridOf(study).count;
  const values = new Float64Array(4 * count);
  const { order, restRotation } = rig;
  const toRadians = radiansPerUnitOf(study);
  const [xs, ys, zs] = series ?? [null, null, null];
  const x = restRotation[3 * node];
  const y = restRotation[3 * node + 1];
  const z = restRotation[3 * node + 2];
  for (let i = 0; i < count; i++) {
    eulerToQuaternion(
      order[node],
      xs === null ? x : xs[i] * toRadians,
      ys === null ? y : ys[i] * toRadians,
      zs === null ? z : zs[i] * toRadians,
      values,
      4 * i,
    );
  }
  applyOrient(rig, node, values);
  return { values, still: series === null };
});

/** The samples of the quaternion curve of a node, null where it has none. */
export function quaternionSeries(study: Study, node: number): Float64Array | null {
  for (const name of curveNamesOfNode(study, node)) {
    if (channelOfName(name) === "rotate") return channelSeriesOf(study, name);
  }
  return null;
}

type AxisSeries = readonly [Float64Array | null, Float64Array | null, Float64Array | null];

/** The samples of the x, y and z channel of a kind; null where none of them has a key. */
export function axisSeries(study: Study, node: number, kind: string): AxisSeries | null {
  let found: [Float64Array | null, Float64Array | null, Float64Array | null] | null = null;
  for (const name of curveNamesOfNode(study, node)) {
    const channel = channelOfName(name);
    if (!channel.startsWith(kind)) continue;
    const series = channelSeriesOf(study, name);
    if (series === null) continue;
    found ??= [null, null, null];
    found["xyz".indexOf(channel[channel.length - 1])] = series;
  }
  return found;
}

/** Curves in place of components of a rest vector. */
function vectorSeries(
  series: AxisSeries | null,
  rest: Float64Array,
  node: number,
  count: number,
): LocalSeries {
  if (series === null) return { values: rest.slice(3 * node, 3 * node + 3), still: true };
  const values = new Float64Array(3 * count);
  for (let axis = 0; axis < 3; axis++) {
    const samples = series[axis];
    const constant = rest[3 * node + axis];
    if (samples === null) for (let i = 0; i < count; i++) values[3 * i + axis] = constant;
    else for (let i = 0; i < count; i++) values[3 * i + axis] = samples[i];
  }
  return { values, still: false };
}

function applyOrient(rig: Rig, node: number, values: Float64Array): void {
  const { orient } = rig;
  if (orient[4 * node] === 0 && orient[4 * node + 1] === 0 && orient[4 * node + 2] === 0) return;
  for (let at = 0; at < values.length; at += 4) multiplyQuaternions(orient, 4 * node, values, at, values, at);
}
