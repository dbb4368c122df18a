import { rotateBetween } from "../base/quaternion.ts";
import { floats } from "../base/room.ts";
import type { Study } from "../base/study.ts";
import type { Channel } from "../document/model.ts";
import { massCentreOf, subtreeMassOf } from "../motion/body/mass-centre.ts";
import { ChannelChange } from "../rig/channel-change.ts";
import { Influence } from "../rig/influence.ts";
import { worldOf } from "../rig/pose.ts";
import { gridOf } from "../time/grid.ts";
import type { Fault } from "./check.ts";

/** A fault that is measured again. */
export type SeriesFault = Exclude<Fault, { kind: "keys" }>;

/** Measures a fault again with other values of one channel. */
export class Trial {
  /** Document frames of the samples that the fault needs to see. */
  readonly times: Float64Array;
  /** Strength as the curves are. */
  readonly before: number;
  private readonly study: Study;
  private readonly fault: SeriesFault;
  private readonly series: Float64Array;
  private readonly others: readonly Float64Array[];
  /** The series as they are. */
  private readonly base: Float64Array;
  private readonly otherBases: readonly Float64Array[];
  /** The channel that is tried, and what moves with it: its keys are tried one after another. */
  private node = -1;
  private channel: Channel | null = null;
  private change: ChannelChange | null = null;
  private readonly influences: Influence[] = [];
  private mass: MovedMass | null = null;

  constructor(study: Study, fault: SeriesFault) {
    this.study = study;
    this.fault = fault;
    this.times = gridOf(study).frames.subarray(fault.lo, fault.hi + 1);
    this.base = this.seriesOf(fault.subject);
    this.otherBases = (fault.others ?? []).map((node) => this.seriesOf(node));
    this.series = floats(this.base.length);
    this.others = this.otherBases.map(({ length }) => floats(length));
    this.before = fault.strength(this.base, this.otherBases);
  }

  /**
   * Strength of the fault with other values of a channel.
   * @param node rig index of the channel's node
   * @param values of the samples from `lo` to `hi` of the fault, document units
   * @param from first and last sample, counted from `lo`, that may have another value than it has
   */
  strengthWith(
    node: number,
    channel: Channel,
    values: Float64Array,
    from = 0,
    to = this.times.length - 1,
  ): number {
    const { fault, series, others, influences } = this;
    if (this.node !== node || this.channel !== channel || this.change === null) this.take(node, channel);
    this.change?.set(values, from, to);
    this.mass?.write(series);
    const isTurn = fault.kind === "orientation";
    for (let k = 0; k < influences.length; k++) {
      const influence = influences[k];
      const out = k === 0 ? series : others[k - 1];
      if (influence.reaches) influence.write(isTurn ? null : out, isTurn ? out : null);
    }
    return fault.strength(series, others);
  }

  /** Makes a channel the one that is tried. What it does not reach is as it is, whatever its values. */
  private take(node: number, channel: Channel): void {
    const { study, fault, series, others, base, otherBases, influences } = this;
    this.node = node;
    this.channel = channel;
    this.change ??= new ChannelChange(study, fault.lo, fault.hi);
    const { change } = this;
    change.take(node, channel);
    if (fault.kind === "massCentre") {
      if (this.mass?.node !== node) this.mass = new MovedMass(study, fault, node, base, change);
      this.mass.take();
      return;
    }
    if (influences.length === 0) {
      influences.push(new Influence(study, change, fault.subject));
      for (const other of fault.others ?? []) influences.push(new Influence(study, change, other));
    }
    for (let k = 0; k < influences.length; k++) {
      const influence = influences[k];
      influence.take();
      if (!influence.reaches) (k === 0 ? series : others[k - 1]).set(k === 0 ? base : otherBases[k - 1]);
    }
  }

  private seriesOf(subject: number): Float64Array {
    const { study, fault } = this;
    const { kind, lo, hi } = fault;
    const width = kind === "orientation" ? 4 : 3;
    const whole =
      kind === "massCentre"
        ? massCentreOf(study, subject)
        : kind === "position"
          ? worldOf(study, subject).position
          : worldOf(study, subject).orientation;
    return whole.subarray(lo * width, (hi + 1) * width);
  }
}

/** The centre of mass, which moves with the mass below a node; that moves as one rigid piece. */
class MovedMass {
  readonly node: number;
  private readonly study: Study;
  private readonly figure: number;
  private readonly lo: number;
  private readonly base: Float64Array;
  /** What comes out where nothing is changed: rounding may part it from `base`. */
  private readonly still: Float64Array;
  private readonly pivot: Float64Array;
  private readonly turn: Float64Array;
  private readonly change: ChannelChange;
  private readonly influence: Influence;

  constructor(
    study: Study,
    { subject, lo, hi }: SeriesFault,
    node: number,
    base: Float64Array,
    change: ChannelChange,
  ) {
    const count = hi - lo + 1;
    this.node = node;
    this.change = change;
    this.influence = new Influence(study, change, node);
    this.study = study;
    this.figure = subject;
    this.lo = lo;
    this.base = base;
    this.pivot = floats(3 * count);
    this.turn = floats(4 * count);
    this.still = floats(3 * count);
    const { position, orientation } = worldOf(study, node);
    this.pivot.set(position.subarray(3 * lo, 3 * hi + 3));
    this.turn.set(orientation.subarray(4 * lo, 4 * hi + 4));
    this.put(0, count - 1, this.still);
  }

  /** Goes with another channel of the node. */
  take(): void {
    this.influence.take();
  }

  write(out: Float64Array): void {
    const { change, influence, still, pivot, turn } = this;
    for (let k = 0; k < still.length; k++) out[k] = still[k];
    influence.write(pivot, turn);
    this.put(change.first, change.last, out);
  }

  /** Writes the samples `first` to `last`, counted from `lo`, with the pivot and the turn as they now are. */
  private put(first: number, last: number, out: Float64Array): void {
    const { study, figure, node, lo, base, pivot, turn } = this;
    const { share, moment } = subtreeMassOf(study, figure, node);
    const { position, orientation } = worldOf(study, node);
    for (let i = first, k = 3 * first, p = 3 * (lo + first); i <= last; i++, k += 3, p += 3) {
      arm[0] = moment[p] / share - position[p];
      arm[1] = moment[p + 1] / share - position[p + 1];
      arm[2] = moment[p + 2] / share - position[p + 2];
      rotateBetween(orientation, 4 * (lo + i), turn, 4 * i, arm);
      out[k] = base[k] + share * (pivot[k] + arm[0]) - moment[p];
      out[k + 1] = base[k + 1] + share * (pivot[k + 1] + arm[1]) - moment[p + 1];
      out[k + 2] = base[k + 2] + share * (pivot[k + 2] + arm[2]) - moment[p + 2];
    }
  }
}

const arm = new Float64Array(3);
