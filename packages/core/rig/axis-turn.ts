import { rotateVector } from "../base/quaternion.ts";
import { bothStretches, changedSamples, everywhere, type Study, sampledMeasure } from "../base/study.ts";
import { rotationOrders } from "../document/schema.ts";
import { channelSeriesOf, drivingNamesOf } from "./channels.ts";
import { changedSeries, type LocalSeries, localMotionOf, quaternionCurveOf } from "./local.ts";
import { radiansPerUnitOf, rigOf } from "./rig.ts";

// What is worked on for one sample; a search for causes asks hundreds of times, for some samples each.
const outerTurn = new Float64Array(4);

/** What the turn of one axis channel hangs on: the same for all values that are tried in its place. */
export interface AxisTurn {
  readonly axis: number;
  /** Place of the axis in the rotation order, and the axis that comes first in it. */
  readonly place: number;
  readonly outerAxis: number;
  /** Samples of the first axis (asked for where it turns this one) and of the channel; rest values where they are null. */
  readonly outerSeries: Float64Array | null;
  readonly outerRest: number;
  readonly series: Float64Array | null;
  readonly rest: number;
  readonly toRadians: number;
  readonly turn: LocalSeries;
  /** Fixed rotations of all nodes, and where that of the node begins. */
  readonly fixedRotation: Float64Array;
  readonly fixedAt: number;
}

/** By 3 · node + axis; null where a quaternion curve stands in place of the axis channels. A search asks hundreds of times. */
export const axisTurnOf = sampledMeasure<number, AxisTurn | null>(
  "axis turn",
  (study, key) => {
    const axis = key % 3;
    const node = (key - axis) / 3;
    if (quaternionCurveOf(study, node) !== null) return null;
    const rig = rigOf(study);
    const order = rotationOrders[rig.order[node]];
    const place = order.indexOf("xyz"[axis]);
    const outerAxis = "xyz".indexOf(order[0]);
    return {
      axis,
      place,
      outerAxis,
      outerSeries: place === 1 ? seriesOf(study, node, "rotation", outerAxis) : null,
      outerRest: rig.restRotation[3 * node + outerAxis],
      series: seriesOf(study, node, "rotation", axis),
      rest: rig.restRotation[3 * node + axis],
      toRadians: radiansPerUnitOf(study),
      turn: localMotionOf(study, node).turn,
      fixedRotation: rig.fixedRotation,
      fixedAt: 4 * node,
    };
  },
  changedTurn,
);

function changedTurn(a: AxisTurn | null, b: AxisTurn | null) {
  if (a === null || b === null) return a === b ? null : everywhere;
  const isOfOneRig =
    a.place === b.place &&
    a.outerAxis === b.outerAxis &&
    a.outerRest === b.outerRest &&
    a.rest === b.rest &&
    a.toRadians === b.toRadians &&
    a.fixedRotation === b.fixedRotation;
  if (!isOfOneRig) return everywhere;
  return bothStretches(
    bothStretches(changedSamples(a.series, b.series, 1), changedSamples(a.outerSeries, b.outerSeries, 1)),
    changedSeries(a.turn, b.turn, 4),
  );
}

/**
 * Writes the turn, in the axes of the node's parent, that another value of an axis channel makes at a sample.
 * @param values other values, document units; `at` the index of that of the sample
 * @param axes of the samples of `values`, 3 numbers each: worked out where `isKnown` says that one is not
 * @returns false where it makes none
 */
export function turnByAxis(
  of: AxisTurn,
  i: number,
  values: Float64Array,
  at: number,
  axes: Float64Array,
  isKnown: Uint8Array,
  out: Float64Array,
  io: number,
): boolean {
  const { series, toRadians } = of;
  const before = series === null ? of.rest : series[i] * toRadians;
  const difference = values[at] * toRadians - before;
  if (difference === 0) return false;
  if (isKnown[at] === 0) {
    writeAxis(of, i, axes, 3 * at);
    isKnown[at] = 1;
  }
  const sine = Math.sin(0.5 * difference);
  out[io] = sine * axes[3 * at];
  out[io + 1] = sine * axes[3 * at + 1];
  out[io + 2] = sine * axes[3 * at + 2];
  out[io + 3] = Math.cos(0.5 * difference);
  return true;
}

/** The axis stands where the turns that come before it in the order have brought it. */
function writeAxis(of: AxisTurn, i: number, out: Float64Array, io: number): void {
  const { axis, place, outerAxis, toRadians, turn } = of;
  out[io] = axis === 0 ? 1 : 0;
  out[io + 1] = axis === 1 ? 1 : 0;
  out[io + 2] = axis === 2 ? 1 : 0;
  if (place === 2) {
    rotateVector(turn.values, turn.still ? 0 : 4 * i, out, io, out, io);
    return;
  }
  if (place === 1) {
    const angle = of.outerSeries === null ? of.outerRest : of.outerSeries[i] * toRadians;
    outerTurn[0] = outerTurn[1] = outerTurn[2] = 0;
    outerTurn[outerAxis] = Math.sin(0.5 * angle);
    outerTurn[3] = Math.cos(0.5 * angle);
    rotateVector(outerTurn, 0, out, io, out, io);
  }
  rotateVector(of.fixedRotation, of.fixedAt, out, io, out, io);
}

/** Samples of the x, y or z channel (`axis` 0 to 2) of a kind; null where no curve drives it. */
export function seriesOf(
  study: Study,
  node: number,
  kind: "translation" | "rotation",
  axis: number,
): Float64Array | null {
  const name = drivingNamesOf(study, node)[kind]?.[axis] ?? null;
  return name === null ? null : channelSeriesOf(study, name);
}
