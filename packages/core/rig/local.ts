import { eulersToQuaternions, multiplyQuaternions } from "../base/quaternion.ts";
import { floats } from "../base/room.ts";
import { bothStretches, changedSamples, everywhere, type Study, sampledMeasure } from "../base/study.ts";
import { sampleCurve } from "../curve/evaluate.ts";
import { curveOf } from "../document/inputs.ts";
import type { Curve } from "../document/model.ts";
import { gridOf } from "../time/grid.ts";
import { drivingNamesOf } from "./channels.ts";
import { type Rig, radiansPerUnitOf, rigOf } from "./rig.ts";

/**
 * A node's local motion: numbers per grid sample, or, where no curve drives it, those of one sample that stands for
 * all (`still`).
 */
export interface LocalSeries {
  readonly values: Float64Array;
  readonly still: boolean;
}

/** How a node moves against its parent. */
export interface LocalMotion {
  /** 3 numbers per sample, document units. */
  readonly shift: LocalSeries;
  /** 4 numbers per sample: the fixed rotation, then the node's own rotation. */
  readonly turn: LocalSeries;
  /** 3 numbers per sample; null where the scale is 1 throughout because nothing sets it. */
  readonly scale: LocalSeries | null;
}

/** One measure for shift, turn and scale: remembering three would cost more than working two of them out again. */
export const localMotionOf = sampledMeasure(
  "local motion",
  (study, node: number): LocalMotion => {
    const rig = rigOf(study);
    return {
      shift: vectorSeries(study, axisCurves(study, node, "translation"), rig.translation, node),
      turn: turnSeries(study, rig, node),
      scale: scaleSeries(study, rig, node),
    };
  },
  (a, b) =>
    bothStretches(
      bothStretches(changedSeries(a.shift, b.shift, 3), changedSeries(a.turn, b.turn, 4)),
      changedSeries(a.scale, b.scale, 3),
    ),
);

function scaleSeries(study: Study, rig: Rig, node: number): LocalSeries | null {
  const { restScale } = rig;
  const curves = axisCurves(study, node, "scale");
  const isPlain = restScale[3 * node] === 1 && restScale[3 * node + 1] === 1 && restScale[3 * node + 2] === 1;
  return curves === null && isPlain ? null : vectorSeries(study, curves, restScale, node);
}

function turnSeries(study: Study, rig: Rig, node: number): LocalSeries {
  const quaternion = quaternionCurveOf(study, node);
  const curves = quaternion === null ? axisCurves(study, node, "rotation") : null;
  const still = quaternion === null && curves === null;
  const count = still ? 1 : gridOf(study).count;
  const values = floats(4 * count);
  if (quaternion !== null) sampleCurve(quaternion, gridOf(study).frames, values);
  else {
    const toRadians = radiansPerUnitOf(study);
    const angles = sampleAxes(study, curves, rig.restRotation, node, 1 / toRadians, count);
    eulersToQuaternions(rig.order[node], angles[0], angles[1], angles[2], toRadians, values, count);
  }
  applyFixedRotation(rig, node, values);
  return { values, still };
}

/** The samples in which two local series differ; all where one of them has only one that stands for all. */
export function changedSeries(a: LocalSeries | null, b: LocalSeries | null, width: number) {
  if (a === b) return null;
  if (a?.still !== b?.still) return everywhere;
  const changed = changedSamples(a?.values ?? null, b?.values ?? null, width);
  return a?.still === true ? changed && everywhere : changed;
}

/** The quaternion curve of a node, null where it has none or one without keys. */
export function quaternionCurveOf(study: Study, node: number): Curve | null {
  return keyedCurve(study, drivingNamesOf(study, node).quaternion);
}

function keyedCurve(study: Study, name: string | null): Curve | null {
  if (name === null) return null;
  const curve = curveOf(study, name);
  return curve === null || curve.frames.length === 0 ? null : curve;
}

type AxisCurves = readonly (Curve | null)[];

/** The curves of the x, y and z channel of a kind; null where none of them has a key. */
function axisCurves(
  study: Study,
  node: number,
  kind: "translation" | "rotation" | "scale",
): AxisCurves | null {
  const names = drivingNamesOf(study, node)[kind];
  if (names === null) return null;
  const curves = names.map((name) => keyedCurve(study, name));
  return curves.some((curve) => curve !== null) ? curves : null;
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
  const values = floats(3 * count);
  const samples = sampleAxes(study, curves, rest, node, 1, count);
  for (let axis = 0; axis < 3; axis++) {
    const series = samples[axis];
    for (let i = 0; i < count; i++) values[3 * i + axis] = series[i];
  }
  return { values, still: false };
}

function applyFixedRotation(rig: Rig, node: number, values: Float64Array): void {
  const { fixedRotation } = rig;
  if (fixedRotation[4 * node] === 0 && fixedRotation[4 * node + 1] === 0 && fixedRotation[4 * node + 2] === 0)
    return;
  for (let at = 0; at < values.length; at += 4)
    multiplyQuaternions(fixedRotation, 4 * node, values, at, values, at);
}
