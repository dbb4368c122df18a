import { rotateBetween } from "../base/quaternion.ts";
import { floats } from "../base/room.ts";
import type { Study } from "../base/study.ts";
import type { Channel } from "../document/model.ts";
import { massCentreOf, subtreeMassOf } from "../motion/body/mass-centre.ts";
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
  /** What the channel that is tried moves, by subject: its keys are tried one after another. */
  private readonly influences = new Map<number, Influence>();
  private tried = "";

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
   */
  strengthWith(node: number, channel: Channel, values: Float64Array): number {
    const { fault, series, others } = this;
    const tried = `${node} ${channel}`;
    if (this.tried !== tried) this.influences.clear();
    this.tried = tried;
    if (fault.kind === "massCentre") this.moveMassCentre(node, channel, values);
    else {
      this.move(node, channel, values, fault.subject, series);
      fault.others?.forEach((other, k) => {
        this.move(node, channel, values, other, others[k]);
      });
    }
    return fault.strength(series, others);
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

  private move(node: number, channel: Channel, values: Float64Array, subject: number, out: Float64Array) {
    const isPosition = this.fault.kind === "position";
    const influence = this.influence(node, channel, subject);
    influence.write(values, isPosition ? out : null, isPosition ? null : out);
  }

  private influence(node: number, channel: Channel, subject: number): Influence {
    let influence = this.influences.get(subject);
    if (influence === undefined) {
      const { study, fault } = this;
      influence = new Influence(study, node, channel, fault.lo, fault.hi, subject);
      this.influences.set(subject, influence);
    }
    return influence;
  }

  /** The centre of mass moves with the mass below the changed node, which moves as one rigid piece. */
  private moveMassCentre(node: number, channel: Channel, values: Float64Array): void {
    const { study, fault, series, base } = this;
    const { lo, hi } = fault;
    const count = hi - lo + 1;
    const pivot = floats(3 * count);
    const turn = floats(4 * count);
    this.influence(node, channel, node).write(values, pivot, turn);
    const world = worldOf(study, node);
    const { share, moment } = subtreeMassOf(study, fault.subject, node);
    const { position, orientation } = world;
    const moved = new Float64Array(3);
    for (let i = 0, k = 0, p = 3 * lo; i < count; i++, k += 3, p += 3) {
      moved[0] = moment[p] / share - position[p];
      moved[1] = moment[p + 1] / share - position[p + 1];
      moved[2] = moment[p + 2] / share - position[p + 2];
      rotateBetween(orientation, 4 * (lo + i), turn, 4 * i, moved);
      series[k] = base[k] + share * (pivot[k] + moved[0]) - moment[p];
      series[k + 1] = base[k + 1] + share * (pivot[k + 1] + moved[1]) - moment[p + 1];
      series[k + 2] = base[k + 2] + share * (pivot[k + 2] + moved[2]) - moment[p + 2];
    }
  }
}
