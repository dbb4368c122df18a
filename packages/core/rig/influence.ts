import { conjugateInto, multiplyQuaternions, rotateVector } from "../base/quaternion.ts";
import { bothStretches, changedSamples, everywhere, type Study, sampledMeasure } from "../base/study.ts";
import type { Channel } from "../document/model.ts";
import { rotationOrders } from "../document/schema.ts";
import { channelSeriesOf, drivingNamesOf } from "./channels.ts";
import { changedSeries, type LocalSeries, localMotionOf, quaternionCurveOf } from "./local.ts";
import { outerWorldOf, worldOf } from "./pose.ts";
import { chainOf, isAbove, type Rig, radiansPerUnitOf, rigOf } from "./rig.ts";
import { metresPerUnitOf } from "./stature.ts";
import { multiplyMatrix, type World } from "./world.ts";

/**
 * The world motion that a node would have, over some samples, if one channel of one of its ancestors (or its own) had
 * other values there.
 *
 * Nothing but that channel changes, so the node moves with the ancestor as one piece: a rotation channel turns it about
 * the world axis of the channel's own turn through the ancestor's pivot, by the difference of the angles; a translation
 * channel shifts it along the axes of the ancestor's parent. Where the chain is scaled the piece is not rigid, and its
 * positions are worked out down the chain instead.
 * @param ancestor rig index of the node whose channel changes; of a node that is not above `node`, nothing changes
 * @param lo first grid sample, `hi` the last one, both included
 * @param replacement the channel's values for the samples lo to hi, document units; 4 numbers each for `rotation`
 * @param outPosition receives 3 numbers per sample from lo to hi, metres
 * @param outOrientation receives 4 numbers per sample from lo to hi
 */
export function influenceOf(
  study: Study,
  ancestor: number,
  channel: Channel,
  lo: number,
  hi: number,
  replacement: Float64Array,
  node: number,
  outPosition: Float64Array | null,
  outOrientation: Float64Array | null,
): void {
  new Influence(study, ancestor, channel, lo, hi, node).write(replacement, outPosition, outOrientation);
}

/** {@link influenceOf} for many values of one channel: what all of them hang on is looked up once. */
export class Influence {
  private readonly span: Span;
  private readonly channel: Channel;
  private readonly axis: number;
  private readonly node: number;
  private readonly world: World;
  /** World of the ancestor's parent; null where the ancestor is not above the node. */
  private readonly outer: World | null;
  private turning: Turning | null = null;
  private shifting: Shifting | null = null;

  /** The parameters are those of {@link influenceOf}. */
  constructor(study: Study, ancestor: number, channel: Channel, lo: number, hi: number, node: number) {
    const rig = rigOf(study);
    const up = rig.parent[ancestor];
    this.span = { study, ancestor, lo, hi };
    this.channel = channel;
    this.axis = "xyz".indexOf(channel[channel.length - 1]);
    this.node = node;
    this.world = worldOf(study, node);
    this.outer = !isAbove(rig, ancestor, node)
      ? null
      : up < 0
        ? outerWorldOf(study, undefined)
        : worldOf(study, up);
  }

  write(
    replacement: Float64Array,
    outPosition: Float64Array | null,
    outOrientation: Float64Array | null,
  ): void {
    const { span, channel, axis, node, world, outer } = this;
    const { lo, hi, ancestor } = span;
    if (outPosition !== null) copyRun(world.position, 3 * lo, 3 * (hi - lo + 1), outPosition);
    if (outOrientation !== null) copyRun(world.orientation, 4 * lo, 4 * (hi - lo + 1), outOrientation);
    if (outer === null) return;
    if (channel.startsWith("translation")) {
      if (outPosition === null) return;
      this.shifting ??= shiftingOf(span, axis);
      shiftPositions(span, this.shifting, axis, outer, replacement, outPosition);
    } else if (channel.startsWith("scale")) {
      if (outPosition !== null && node !== ancestor) {
        positionsDownChain(span, outer, node, outPosition, (i, _turn, scale) => {
          scale[axis] = replacement[i - lo];
        });
      }
    } else {
      this.turning ??= turningOf(span, channel, axis, node);
      turnSubject(span, this.turning, outer, node, replacement, outPosition, outOrientation);
    }
  }
}

/** Copies numbers; a search for causes looks at a few at a time mostly, for which a view would cost more than they do. */
function copyRun(from: Float64Array, at: number, length: number, out: Float64Array): void {
  if (length > 100) out.set(from.subarray(at, at + length));
  else for (let k = 0; k < length; k++) out[k] = from[at + k];
}

// What is worked on for one sample; a search for causes asks hundreds of times, for some samples each.
const scratch = {
  turn: new Float64Array(4),
  back: new Float64Array(4),
  arm: new Float64Array(3),
  direction: new Float64Array(3),
  outerTurn: new Float64Array(4),
  own: new Float64Array(4),
  way: new Float64Array(3),
};

interface Span {
  readonly study: Study;
  readonly ancestor: number;
  readonly lo: number;
  readonly hi: number;
}

/** What a translation channel has now: its samples, or its rest value where it has none. */
interface Shifting {
  readonly series: Float64Array | null;
  readonly rest: number;
  readonly metres: number;
}

function shiftingOf({ study, ancestor }: Span, axis: number): Shifting {
  return {
    series: seriesOf(study, ancestor, "translation", axis),
    rest: rigOf(study).translation[3 * ancestor + axis],
    metres: metresPerUnitOf(study),
  };
}

/** Adds the way that the ancestor's parent gives to the difference of one translation. */
function shiftPositions(
  { lo, hi }: Span,
  { series, rest, metres }: Shifting,
  axis: number,
  outer: World,
  replacement: Float64Array,
  out: Float64Array,
): void {
  const { way } = scratch;
  for (let i = lo; i <= hi; i++) {
    const difference = replacement[i - lo] - (series === null ? rest : series[i]);
    if (difference === 0) continue;
    way.fill(0);
    way[axis] = difference * metres;
    applyLinear(outer, i, way);
    for (let k = 0; k < 3; k++) out[3 * (i - lo) + k] += way[k];
  }
}

/** What a rotation channel turns by, and about what. */
interface Turning {
  /** Null where a quaternion curve stands in place of the axis channels, or is the channel. */
  readonly byAxis: AxisTurn | null;
  readonly isQuaternion: boolean;
  readonly pivot: Float64Array;
  readonly isMoved: boolean;
  readonly isScaled: boolean;
}

function turningOf({ study, ancestor }: Span, channel: Channel, axis: number, node: number): Turning {
  const isMoved = node !== ancestor;
  return {
    byAxis: channel === "rotation" ? null : axisTurnOf(study, 3 * ancestor + axis),
    isQuaternion: channel === "rotation",
    pivot: worldOf(study, ancestor).position,
    isMoved,
    isScaled: isMoved && worldOf(study, rigOf(study).parent[node]).linear !== null,
  };
}

/** Turns the subject by what a rotation channel's other values turn the ancestor by. */
function turnSubject(
  span: Span,
  { byAxis, isQuaternion, pivot, isMoved, isScaled }: Turning,
  outer: World,
  node: number,
  replacement: Float64Array,
  outPosition: Float64Array | null,
  outOrientation: Float64Array | null,
): void {
  const { lo, hi } = span;
  if (!isQuaternion && byAxis === null) return;
  const turnAt = byAxis === null ? quaternionTurns(span, replacement) : null;
  const { turn, back, arm } = scratch;
  const isTurned = (i: number) =>
    byAxis !== null ? turnByAxis(byAxis, i, replacement[i - lo], turn) : turnAt?.(i, turn) === true;
  for (let i = lo; i <= hi; i++) {
    if (!isTurned(i)) continue;
    // From the parent's axes to the world's: outer · turn · outer⁻¹.
    conjugateInto(outer.orientation, 4 * i, back, 0);
    multiplyQuaternions(outer.orientation, 4 * i, turn, 0, turn, 0);
    multiplyQuaternions(turn, 0, back, 0, turn, 0);
    const at = i - lo;
    if (outOrientation !== null) multiplyQuaternions(turn, 0, outOrientation, 4 * at, outOrientation, 4 * at);
    if (outPosition === null || !isMoved || isScaled) continue;
    const from = 3 * i;
    const to = 3 * at;
    arm[0] = outPosition[to] - pivot[from];
    arm[1] = outPosition[to + 1] - pivot[from + 1];
    arm[2] = outPosition[to + 2] - pivot[from + 2];
    rotateVector(turn, 0, arm, 0, arm, 0);
    outPosition[to] = pivot[from] + arm[0];
    outPosition[to + 1] = pivot[from + 1] + arm[1];
    outPosition[to + 2] = pivot[from + 2] + arm[2];
  }
  if (outPosition !== null && isScaled) {
    positionsDownChain(span, outer, node, outPosition, (i, own) => {
      if (isTurned(i)) multiplyQuaternions(turn, 0, own, 0, own, 0);
    });
  }
}

/** Writes, for a sample, the turn in the axes of the ancestor's parent; false where nothing changes. */
type TurnAt = (sample: number, out: Float64Array) => boolean;

/** What the turn of one axis channel hangs on: the same for all values that are tried in its place. */
interface AxisTurn {
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
const axisTurnOf = sampledMeasure<number, AxisTurn | null>(
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

/** Writes the turn that another value of an axis channel makes at a sample; false where it makes none. */
function turnByAxis(of: AxisTurn, i: number, value: number, out: Float64Array): boolean {
  const { axis, place, outerAxis, series, toRadians, turn } = of;
  const before = series === null ? of.rest : series[i] * toRadians;
  const difference = value * toRadians - before;
  if (difference === 0) return false;
  const { direction, outerTurn } = scratch;
  // The axis stands where the turns that come before it in the order have brought it.
  direction[0] = axis === 0 ? 1 : 0;
  direction[1] = axis === 1 ? 1 : 0;
  direction[2] = axis === 2 ? 1 : 0;
  if (place === 2) rotateVector(turn.values, turn.still ? 0 : 4 * i, direction, 0, direction, 0);
  else {
    if (place === 1) {
      const angle = of.outerSeries === null ? of.outerRest : of.outerSeries[i] * toRadians;
      outerTurn[0] = outerTurn[1] = outerTurn[2] = 0;
      outerTurn[outerAxis] = Math.sin(0.5 * angle);
      outerTurn[3] = Math.cos(0.5 * angle);
      rotateVector(outerTurn, 0, direction, 0, direction, 0);
    }
    rotateVector(of.fixedRotation, of.fixedAt, direction, 0, direction, 0);
  }
  const sine = Math.sin(0.5 * difference);
  out[0] = sine * direction[0];
  out[1] = sine * direction[1];
  out[2] = sine * direction[2];
  out[3] = Math.cos(0.5 * difference);
  return true;
}

/** Turns of other quaternions: fixedRotation · replacement · (the turn as it is)⁻¹. */
function quaternionTurns(span: Span, replacement: Float64Array): TurnAt {
  const { study, ancestor, lo } = span;
  const { fixedRotation } = rigOf(study);
  const turns = localMotionOf(study, ancestor).turn;
  const { own } = scratch;
  return (i, out) => {
    const at = turns.still ? 0 : 4 * i;
    for (let k = 0; k < 3; k++) own[k] = -turns.values[at + k];
    own[3] = turns.values[at + 3];
    multiplyQuaternions(fixedRotation, 4 * ancestor, replacement, 4 * (i - lo), out, 0);
    multiplyQuaternions(out, 0, own, 0, out, 0);
    return out[0] !== 0 || out[1] !== 0 || out[2] !== 0;
  };
}

/** Changes a sample's own turn (4) and scale (3) of the ancestor. */
type Change = (sample: number, turn: Float64Array, scale: Float64Array) => void;

/** Positions of a node, worked out sample by sample from a changed ancestor down. */
function positionsDownChain(span: Span, outer: World, node: number, out: Float64Array, change: Change): void {
  const { study, ancestor, lo, hi } = span;
  const metres = metresPerUnitOf(study);
  const chain = chainBetween(rigOf(study), ancestor, node);
  const motions = chain.map((link) => localMotionOf(study, link));
  const pivot = worldOf(study, ancestor).position;
  const turn = new Float64Array(4);
  const scale = new Float64Array(3);
  const arm = new Float64Array(3);
  for (let i = lo; i <= hi; i++) {
    // The arm from the ancestor's pivot to the node, gathered from the node up.
    arm.fill(0);
    for (let link = chain.length - 1; link >= 1; link--) {
      addSample(motions[link].shift, 3, i, arm);
      copySample(motions[link - 1].turn, 4, i, turn);
      copyScale(motions[link - 1].scale, i, scale);
      if (link === 1) change(i, turn, scale);
      for (let k = 0; k < 3; k++) arm[k] *= scale[k];
      rotateVector(turn, 0, arm, 0, arm, 0);
    }
    for (let k = 0; k < 3; k++) arm[k] *= metres;
    applyLinear(outer, i, arm);
    for (let k = 0; k < 3; k++) out[3 * (i - lo) + k] = pivot[3 * i + k] + arm[k];
  }
}

/** v = the turns and scales of a world at a sample, applied to v. */
function applyLinear(world: World, sample: number, v: Float64Array): void {
  if (world.linear === null) rotateVector(world.orientation, 4 * sample, v, 0, v, 0);
  else multiplyMatrix(world.linear, 9 * sample, v);
}

/** Nodes from an ancestor down to a node, both included. */
function chainBetween(rig: Rig, ancestor: number, node: number): number[] {
  const chain = chainOf(rig, node);
  return chain.slice(chain.indexOf(ancestor));
}

/** Samples of the x, y or z channel (`axis` 0 to 2) of a kind; null where no curve drives it. */
function seriesOf(
  study: Study,
  node: number,
  kind: "translation" | "rotation",
  axis: number,
): Float64Array | null {
  const name = drivingNamesOf(study, node)[kind]?.[axis] ?? null;
  return name === null ? null : channelSeriesOf(study, name);
}

function copySample(series: LocalSeries, width: number, sample: number, out: Float64Array): void {
  const at = series.still ? 0 : width * sample;
  for (let k = 0; k < width; k++) out[k] = series.values[at + k];
}

function addSample(series: LocalSeries, width: number, sample: number, out: Float64Array): void {
  const at = series.still ? 0 : width * sample;
  for (let k = 0; k < width; k++) out[k] += series.values[at + k];
}

function copyScale(series: LocalSeries | null, sample: number, out: Float64Array): void {
  if (series === null) out.fill(1);
  else copySample(series, 3, sample, out);
}
