import { rotateBetween } from "../base/quaternion.ts";
import { floats } from "../base/room.ts";
import type { Study } from "../base/study.ts";
import { sampleCurveWithout } from "../curve/evaluate.ts";
import { firstKeyFrom } from "../curve/keys.ts";
import { curveName, curveOf } from "../document/inputs.ts";
import type { Curve } from "../document/model.ts";
import { massCentreOf, massSharesBelow, subtreeMassOf } from "../motion/body/mass-centre.ts";
import { figuresOf } from "../rig/body.ts";
import { channelSeriesOf } from "../rig/channels.ts";
import { influenceOf } from "../rig/influence.ts";
import { chainOf, curveNamesOfNode, worldOf } from "../rig/pose.ts";
import { isAbove, rigOf } from "../rig/rig.ts";
import { gridOf } from "../time/grid.ts";
import type { Fault } from "./check.ts";
import type { NoteKey } from "./note.ts";

/**
 * Least share of a fault that has to go away with a key for the key to be named; what explains less is no help (our
 * choice).
 */
const leastShare = 0.1;
/** At most so many keys are named in a note; longer lists are not read (our choice). */
const mostKeys = 6;
/** At most so many channels are looked into key by key. */
const mostChannels = 4;
/** At most so many keys of a channel are tried one by one. */
const mostSingles = 8;
/**
 * Least share of a figure's mass below a node for its channels to be tried on the centre of mass, which hardly answers
 * to less (our choice).
 */
const leastMass = 0.1;

type SeriesFault = Exclude<Fault, { kind: "keys" }>;

/**
 * The keys that cause a fault, the one that causes most first.
 *
 * Every channel of every ancestor is tried: its keys near the fault are taken out, the motion that follows is worked
 * out exactly (see `influenceOf`) and the fault is measured again. What goes away with a key is its share. A channel
 * is first tried with all of its keys in the fault's frames at once, since a fault may be held by several.
 * @param fault how the fault is measured again; null where no keys are to be named
 * @returns empty where no key changes the fault
 */
export function causesOf(study: Study, fault: Fault | null): readonly NoteKey[] {
  if (fault === null) return [];
  if (fault.kind === "keys") {
    return fault.keys.flatMap((key) => {
      const curve = curveOf(study, `${key.node} ${key.channel}`);
      return curve === null ? [] : [{ ...key, frame: curve.frames[key.index] }];
    });
  }
  const trial = new Trial(study, fault);
  if (!(trial.before > 0)) return [];
  const channels: Channel[] = [];
  for (const { node, curve } of candidateCurves(study, fault)) {
    const [first, last] = keysNear(curve, trial.frames, fault);
    if (first > last) continue;
    const share = trial.shareOf(node, curve, first, last);
    if (share >= leastShare) channels.push({ node, curve, first, last, share });
  }
  // Keys are tried one by one in the channels that matter most only: each trial poses the chain once more.
  channels.sort((a, b) => b.share - a.share);
  const found = channels.slice(0, mostChannels).flatMap((channel) => keysOf(trial, channel));
  // A key that fixes the fault alone comes before one that does so only with its neighbours.
  found.sort((a, b) => b.channelShare + b.part - (a.channelShare + a.part));
  return found
    .filter((key) => key.part >= leastShare || key.channelShare >= 3 * leastShare)
    .slice(0, mostKeys)
    .map(({ channelShare: _, part, isTried, ...key }) =>
      isTried ? { ...key, share: Math.min(1, Math.max(0, part)) } : key,
    );
}

/** A channel whose keys first..last, taken out together, take a share of the fault away. */
interface Channel {
  readonly node: number;
  readonly curve: Curve;
  readonly first: number;
  readonly last: number;
  readonly share: number;
}

/** A key with what speaks for it as the cause. */
interface BlamedKey extends NoteKey {
  readonly channelShare: number;
  /** What went with this key alone; where it was not tried alone, its part of what went with the channel's. */
  readonly part: number;
  readonly isTried: boolean;
}

function keysOf(trial: Trial, { node, curve, first, last, share }: Channel): BlamedKey[] {
  const count = last - first + 1;
  // A channel keyed on every frame of a long fault would cost one trial per key, for shares that are all alike.
  const single = count <= mostSingles;
  return Array.from({ length: count }, (_, k) => {
    const index = first + k;
    const part = !single ? share / count : count === 1 ? share : trial.shareOf(node, curve, index, index);
    return {
      node: curve.node,
      channel: curve.channel,
      index,
      frame: curve.frames[index],
      channelShare: share,
      part,
      isTried: single,
    };
  });
}

/** Curves that can move the fault's subject: those of its ancestors, or of all nodes of a figure with mass below. */
function candidateCurves(study: Study, fault: SeriesFault): { node: number; curve: Curve }[] {
  const rig = rigOf(study);
  const nodes =
    fault.kind === "massCentre" ? massCarriers(study, fault.subject) : chainOf(rig, fault.subject);
  const curves: { node: number; curve: Curve }[] = [];
  for (const node of nodes) {
    if (fault.top !== undefined && !isAbove(rig, fault.top, node)) continue;
    for (const name of curveNamesOfNode(study, node)) {
      const curve = curveOf(study, name);
      if (curve === null || curve.frames.length < 2) continue;
      const turnsOnly = curve.channel.startsWith("rotation") || curve.channel.startsWith("scale");
      if (fault.kind === "position" && node === fault.subject && turnsOnly) continue;
      if (fault.kind === "orientation" && !curve.channel.startsWith("rotation")) continue;
      curves.push({ node, curve });
    }
  }
  return curves;
}

function massCarriers(study: Study, figure: number): readonly number[] {
  const { nodes } = figuresOf(study)[figure];
  const shares = massSharesBelow(study, figure);
  return nodes.filter((node) => shares[node] >= leastMass);
}

/** Indices of the keys within the fault's frames; where there are none, of the two keys around it. */
function keysNear(curve: Curve, frames: Float64Array, fault: SeriesFault): [number, number] {
  const { frames: keys } = curve;
  const from = frames[fault.from] - 0.5;
  const to = frames[fault.to] + 0.5;
  let first = firstKeyFrom(keys, from);
  let last = firstKeyFrom(keys, to) - 1;
  if (first > last) {
    first = Math.max(0, first - 1);
    last = Math.min(keys.length - 1, last + 1);
  }
  // Taking out every key of a curve leaves nothing to compare with.
  if (first === 0 && last === keys.length - 1)
    return keys.length > 2 ? [1, keys.length - 2] : [keys.length - 1, keys.length - 1];
  return [first, last];
}

/** Measures a fault with keys taken out. */
class Trial {
  readonly frames: Float64Array;
  /** Strength with all keys in place. */
  readonly before: number;
  private readonly study: Study;
  private readonly fault: SeriesFault;
  private readonly base: Float64Array;
  private readonly series: Float64Array;
  private readonly times: Float64Array;
  /** Room for a channel's other values, up to four numbers per sample. */
  private readonly replacement: Float64Array;

  constructor(study: Study, fault: SeriesFault) {
    this.study = study;
    this.fault = fault;
    this.frames = gridOf(study).frames;
    this.times = this.frames.subarray(fault.lo, fault.hi + 1);
    const width = fault.kind === "orientation" ? 4 : 3;
    const whole =
      fault.kind === "massCentre"
        ? massCentreOf(study, fault.subject)
        : fault.kind === "position"
          ? worldOf(study, fault.subject).position
          : worldOf(study, fault.subject).orientation;
    this.base = whole.subarray(fault.lo * width, (fault.hi + 1) * width);
    this.series = floats(this.base.length);
    this.replacement = floats(4 * this.times.length);
    this.before = fault.strength(this.base);
  }

  /** Share of the fault that goes away when keys first..last of a curve are taken out; below 0 where it grows. */
  shareOf(node: number, curve: Curve, first: number, last: number): number {
    const { study, fault, series, times } = this;
    const replacement = this.replacement.subarray(0, times.length * curve.width);
    sampleCurveWithout(curve, first, last, times, replacement);
    const { lo, hi } = fault;
    if (!this.changes(curve, replacement)) return 0;
    if (fault.kind === "position") {
      influenceOf(study, node, curve.channel, lo, hi, replacement, fault.subject, series, null);
    } else if (fault.kind === "orientation") {
      influenceOf(study, node, curve.channel, lo, hi, replacement, fault.subject, null, series);
    } else {
      this.moveMassCentre(node, curve, replacement);
    }
    return 1 - fault.strength(series) / this.before;
  }

  /** Whether a channel without some of its keys is anywhere else: most channels of a chain hold still near a fault. */
  private changes(curve: Curve, replacement: Float64Array): boolean {
    const now = channelSeriesOf(this.study, curveName(curve.node, curve.channel));
    if (now === null) return true;
    const from = this.fault.lo * curve.width;
    for (let i = 0; i < replacement.length; i++) if (replacement[i] !== now[from + i]) return true;
    return false;
  }

  /** The centre of mass moves with the mass below the changed node, which moves as one rigid piece. */
  private moveMassCentre(node: number, curve: Curve, replacement: Float64Array): void {
    const { study, fault, series, base } = this;
    const { lo, hi } = fault;
    const count = hi - lo + 1;
    const pivot = floats(3 * count);
    const turn = floats(4 * count);
    influenceOf(study, node, curve.channel, lo, hi, replacement, node, pivot, turn);
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
