import { conjugateInto, multiplyQuaternions } from "../base/quaternion.ts";
import { bytes, floats } from "../base/room.ts";
import type { Study } from "../base/study.ts";
import type { Channel } from "../document/model.ts";
import { type AxisTurn, axisTurnOf, seriesOf, turnByAxis } from "./axis-turn.ts";
import { applyLinear } from "./down-chain.ts";
import { type LocalSeries, localMotionOf } from "./local.ts";
import { outerWorldOf, worldOf } from "./pose.ts";
import { rigOf } from "./rig.ts";
import { metresPerUnitOf } from "./stature.ts";
import type { World } from "./world.ts";

/**
 * Other values of one channel over some samples, and how they turn or shift in the world what hangs on its node: worked
 * out once for all nodes that are looked at (see `Influence`). One object and its room serve one channel after another.
 */
export class ChannelChange {
  ancestor = -1;
  readonly lo: number;
  readonly hi: number;
  kind: "shift" | "turn" | "scale" = "scale";
  /** World of the node's parent. */
  outer: World;
  /** Per sample from lo: 1 where the values differ; the first and the last such sample, counted from lo. */
  readonly isChanged: Uint8Array;
  first = 0;
  last = -1;
  /** Where they do: by what they turn, 4 numbers per sample, or the way that they shift, 3 numbers, metres. */
  turns: Float64Array = none;
  ways: Float64Array = none;
  private readonly study: Study;
  private axis = -1;
  private values: Float64Array = none;
  /** Axes of the channel's turns, 3 numbers per sample, and which of them are known: no value changes them. */
  private axes: Float64Array = none;
  private readonly isAxisKnown: Uint8Array;
  private shifting: Shifting | null = null;
  private turning: Turning | null = null;

  /**
   * @param lo first grid sample, `hi` the last one, both included
   */
  constructor(study: Study, lo: number, hi: number) {
    this.study = study;
    this.lo = lo;
    this.hi = hi;
    this.outer = outerWorldOf(study, undefined);
    this.isChanged = bytes(hi - lo + 1);
    this.isAxisKnown = bytes(hi - lo + 1);
  }

  /**
   * Goes over to a channel, which has the values that it has until others are set.
   * @param ancestor rig index of the node whose channel changes
   */
  take(ancestor: number, channel: Channel): void {
    const { study } = this;
    const count = this.hi - this.lo + 1;
    const up = rigOf(study).parent[ancestor];
    this.clear();
    this.ancestor = ancestor;
    this.kind = channel.startsWith("translation") ? "shift" : channel.startsWith("scale") ? "scale" : "turn";
    this.axis = "xyz".indexOf(channel[channel.length - 1]);
    this.outer = up < 0 ? outerWorldOf(study, undefined) : worldOf(study, up);
    if (this.kind === "turn") {
      if (this.turns === none) this.turns = floats(4 * count);
      if (this.axes === none) this.axes = floats(3 * count);
      for (let at = 0; at < count; at++) this.isAxisKnown[at] = 0;
    }
    if (this.kind === "shift" && this.ways === none) this.ways = floats(3 * count);
    this.shifting = this.kind === "shift" ? shiftingOf(study, ancestor, this.axis) : null;
    this.turning = this.kind === "turn" ? turningOf(study, ancestor, channel, this.axis) : null;
  }

  /**
   * @param values of the samples lo to hi, document units; 4 numbers each for `rotation`. They are read until the next.
   * @param from first and last sample, counted from lo, that may have another value than it has
   */
  set(values: Float64Array, from = 0, to = this.hi - this.lo): void {
    const { kind, isChanged } = this;
    this.clear();
    this.values = values;
    if (kind === "scale") return;
    for (let at = from; at <= to; at++) {
      if (!(kind === "shift" ? this.shiftAt(at) : this.turnAt(at))) continue;
      isChanged[at] = 1;
      if (this.last < 0) this.first = at;
      this.last = at;
    }
  }

  private clear(): void {
    for (let at = this.first; at <= this.last; at++) this.isChanged[at] = 0;
    this.first = 0;
    this.last = -1;
  }

  /** Puts a sample's own turn (4) and scale (3) of the ancestor to what they are with the values. */
  readonly applyOwn = (sample: number, turn: Float64Array, scale: Float64Array): void => {
    if (this.kind === "scale") scale[this.axis] = this.values[sample - this.lo];
    else if (this.ownTurnAt(sample - this.lo, own, 0)) multiplyQuaternions(own, 0, turn, 0, turn, 0);
  };

  /** The way that the ancestor's parent gives to the difference of a translation. */
  private shiftAt(at: number): boolean {
    const { shifting, axis, lo, outer, ways } = this;
    if (shifting === null) return false;
    const { series, rest, metres } = shifting;
    const difference = this.values[at] - (series === null ? rest : series[lo + at]);
    if (difference === 0) return false;
    way[0] = axis === 0 ? difference * metres : 0;
    way[1] = axis === 1 ? difference * metres : 0;
    way[2] = axis === 2 ? difference * metres : 0;
    applyLinear(outer, lo + at, way);
    ways[3 * at] = way[0];
    ways[3 * at + 1] = way[1];
    ways[3 * at + 2] = way[2];
    return true;
  }

  /** The turn of a sample, from the parent's axes to the world's: outer · turn · outer⁻¹. */
  private turnAt(at: number): boolean {
    const { turns } = this;
    if (!this.ownTurnAt(at, turns, 4 * at)) return false;
    const { orientation } = this.outer;
    const i = 4 * (this.lo + at);
    conjugateInto(orientation, i, back, 0);
    multiplyQuaternions(orientation, i, turns, 4 * at, turns, 4 * at);
    multiplyQuaternions(turns, 4 * at, back, 0, turns, 4 * at);
    return true;
  }

  /** The turn of a sample in the axes of the ancestor's parent; false where nothing changes. */
  private ownTurnAt(at: number, out: Float64Array, io: number): boolean {
    const { turning, lo, values } = this;
    if (turning === null) return false;
    if (turning.byAxis !== null)
      return turnByAxis(turning.byAxis, lo + at, values, at, this.axes, this.isAxisKnown, out, io);
    return (
      turning.byQuaternion !== null && turnByQuaternion(turning.byQuaternion, lo + at, values, at, out, io)
    );
  }
}

const none = new Float64Array(0);
// What is worked on for one sample; a search for causes asks hundreds of times, for some samples each.
const own = new Float64Array(4);
const back = new Float64Array(4);
const way = new Float64Array(3);

/** What a translation channel has now: its samples, or its rest value where it has none. */
interface Shifting {
  readonly series: Float64Array | null;
  readonly rest: number;
  readonly metres: number;
}

function shiftingOf(study: Study, ancestor: number, axis: number): Shifting {
  return {
    series: seriesOf(study, ancestor, "translation", axis),
    rest: rigOf(study).translation[3 * ancestor + axis],
    metres: metresPerUnitOf(study),
  };
}

/** What a rotation channel turns by; nothing where a quaternion curve stands in place of the axis channel. */
interface Turning {
  readonly byAxis: AxisTurn | null;
  readonly byQuaternion: QuaternionTurn | null;
}

/** What other quaternions turn against. */
interface QuaternionTurn {
  /** The node's own turn as it is. */
  readonly turn: LocalSeries;
  /** Fixed rotations of all nodes, and where that of the node begins. */
  readonly fixedRotation: Float64Array;
  readonly fixedAt: number;
}

function turningOf(study: Study, ancestor: number, channel: Channel, axis: number): Turning {
  if (channel !== "rotation") return { byAxis: axisTurnOf(study, 3 * ancestor + axis), byQuaternion: null };
  const { turn } = localMotionOf(study, ancestor);
  const { fixedRotation } = rigOf(study);
  return { byAxis: null, byQuaternion: { turn, fixedRotation, fixedAt: 4 * ancestor } };
}

/** Writes the turn that another quaternion makes: fixedRotation · replacement · (the turn as it is)⁻¹. */
function turnByQuaternion(
  { turn, fixedRotation, fixedAt }: QuaternionTurn,
  i: number,
  values: Float64Array,
  at: number,
  out: Float64Array,
  io: number,
): boolean {
  conjugateInto(turn.values, turn.still ? 0 : 4 * i, back, 0);
  multiplyQuaternions(fixedRotation, fixedAt, values, 4 * at, out, io);
  multiplyQuaternions(out, io, back, 0, out, io);
  return out[io] !== 0 || out[io + 1] !== 0 || out[io + 2] !== 0;
}
