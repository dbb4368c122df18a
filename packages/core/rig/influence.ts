import { multiplyQuaternions, rotateVector } from "../base/quaternion.ts";
import { floats } from "../base/room.ts";
import type { Study } from "../base/study.ts";
import type { Channel } from "../document/model.ts";
import { ChannelChange } from "./channel-change.ts";
import { DownChain } from "./down-chain.ts";
import { worldOf } from "./pose.ts";
import { isAbove, rigOf } from "./rig.ts";
import type { World } from "./world.ts";

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
  const change = new ChannelChange(study, lo, hi);
  change.take(ancestor, channel);
  change.set(replacement);
  const influence = new Influence(study, change, node);
  influence.take();
  influence.write(outPosition, outOrientation);
}

/** What a change of a channel does to a node: what all values of a channel hang on is looked up once ({@link take}). */
export class Influence {
  /** Whether the channel's node is the node itself, or above it; where it is not, nothing ever changes. */
  reaches = false;
  private readonly study: Study;
  private readonly change: ChannelChange;
  private readonly node: number;
  private readonly world: World;
  private pivot: Float64Array;
  private isScaled = false;
  private chain: DownChain | null = null;
  /** What comes out down the chain where nothing is turned: rounding parts it from the node's world. */
  private still: Float64Array | null = null;

  constructor(study: Study, change: ChannelChange, node: number) {
    this.study = study;
    this.change = change;
    this.node = node;
    this.world = worldOf(study, node);
    this.pivot = this.world.position;
  }

  /** Goes over to the channel that the change has gone over to. */
  take(): void {
    const { study, change, node } = this;
    const { ancestor } = change;
    const rig = rigOf(study);
    this.reaches = isAbove(rig, ancestor, node);
    const isBelow = this.reaches && node !== ancestor;
    this.pivot = this.reaches ? worldOf(study, ancestor).position : this.world.position;
    this.isScaled = isBelow && change.kind === "turn" && worldOf(study, rig.parent[node]).linear !== null;
    this.chain = null;
    this.still = null;
  }

  /**
   * Writes the node's motion with the values that the change was set to.
   * @param outPosition receives 3 numbers per sample of the change, metres
   * @param outOrientation receives 4 numbers per sample
   */
  write(outPosition: Float64Array | null, outOrientation: Float64Array | null): void {
    const { world, change, node } = this;
    const { lo, hi } = change;
    if (outPosition !== null) copyRun(world.position, 3 * lo, 3 * (hi - lo + 1), outPosition);
    if (outOrientation !== null) copyRun(world.orientation, 4 * lo, 4 * (hi - lo + 1), outOrientation);
    if (!this.reaches) return;
    const isBelow = node !== change.ancestor;
    if (change.kind === "shift") {
      if (outPosition !== null) this.shift(outPosition);
    } else if (change.kind === "turn") {
      if (outOrientation !== null) this.turn(outOrientation);
      if (outPosition === null || !isBelow) return;
      if (this.isScaled) this.moveDownChain(outPosition);
      else this.swing(outPosition);
    } else if (outPosition !== null && isBelow) this.moveDownChain(outPosition);
  }

  private shift(out: Float64Array): void {
    const { isChanged, ways, first, last } = this.change;
    for (let at = first; at <= last; at++) {
      if (isChanged[at] === 0) continue;
      for (let k = 3 * at; k < 3 * at + 3; k++) out[k] += ways[k];
    }
  }

  private turn(out: Float64Array): void {
    const { isChanged, turns, first, last } = this.change;
    for (let at = first; at <= last; at++)
      if (isChanged[at] === 1) multiplyQuaternions(turns, 4 * at, out, 4 * at, out, 4 * at);
  }

  /** Turns the arm from the ancestor to the node. */
  private swing(out: Float64Array): void {
    const { change, pivot } = this;
    const { isChanged, turns, lo, first, last } = change;
    for (let at = first; at <= last; at++) {
      if (isChanged[at] === 0) continue;
      const from = 3 * (lo + at);
      const to = 3 * at;
      arm[0] = out[to] - pivot[from];
      arm[1] = out[to + 1] - pivot[from + 1];
      arm[2] = out[to + 2] - pivot[from + 2];
      rotateVector(turns, 4 * at, arm, 0, arm, 0);
      out[to] = pivot[from] + arm[0];
      out[to + 1] = pivot[from + 1] + arm[1];
      out[to + 2] = pivot[from + 2] + arm[2];
    }
  }

  /** Only samples that are turned differ from what comes out where nothing is; a scale is tried at all of them. */
  private moveDownChain(out: Float64Array): void {
    const { study, change, node } = this;
    const { ancestor, outer, kind, lo, hi, first, last } = change;
    this.chain ??= new DownChain(study, ancestor, node, outer);
    if (kind === "scale") {
      this.chain.write(lo, hi, lo, out, change.applyOwn);
      return;
    }
    if (this.still === null) {
      this.still = floats(3 * (hi - lo + 1));
      this.chain.write(lo, hi, lo, this.still, unchanged);
    }
    copyRun(this.still, 0, this.still.length, out);
    this.chain.write(lo + first, lo + last, lo, out, change.applyOwn);
  }
}

const unchanged = () => {};
const arm = new Float64Array(3);

/** Copies numbers; a search for causes looks at a few at a time mostly, for which a view would cost more than they do. */
function copyRun(from: Float64Array, at: number, length: number, out: Float64Array): void {
  if (length > 100) out.set(from.subarray(at, at + length));
  else for (let k = 0; k < length; k++) out[k] = from[at + k];
}
