import { floats } from "../base/room.ts";
import type { Study } from "../base/study.ts";
import { firstKeyFrom } from "../curve/keys.ts";
import { curveName } from "../document/inputs.ts";
import type { Curve, CurveKeys } from "../document/model.ts";
import { channelSeriesOf } from "../rig/channels.ts";
import { gridOf } from "../time/grid.ts";
import { PutRight } from "./put-right.ts";
import type { SeriesFault, Trial } from "./trial.ts";

/**
 * Least share of a fault that has to go away with a key for the key to be named; what explains less is no help (our
 * choice).
 */
const leastShare = 0.1;
/** At most so many keys of a channel are tried one by one. */
const mostSingles = 16;
/** Judged frames around a fault in which a key can be its cause. */
export const reach = 4;
/** A run of keys is the cause where it does more than any of its keys alone by this factor. */
const together = 1.25;

/** A key, or a run of keys of one channel, that takes a share of the fault away. */
export interface Suspect {
  readonly curve: Curve;
  readonly first: number;
  readonly last: number;
  readonly share: number;
  /** Rig index of the curve's node. */
  readonly node: number;
  /** The stretch of the curve as it was when that share had gone, and where in the curve it begins. */
  readonly stretch: CurveKeys;
  readonly start: number;
}

/**
 * Tries the keys of one curve near a fault, each alone and those in the fault's frames together.
 * @param suspects receives those that take enough of the fault away
 */
export function addSuspects(
  study: Study,
  fault: SeriesFault,
  trial: Trial,
  node: number,
  curve: Curve,
  suspects: Suspect[],
): void {
  const { frames, step } = gridOf(study);
  const [from, to] = [frames[fault.from], frames[fault.to]];
  const own = keysBetween(curve, from - 0.5, to + 0.5);
  const near = keysBetween(curve, from - reach * step, to + reach * step);
  const [first, last] = near[0] <= near[1] ? near : around(curve, from);
  const { lo, hi } = fault;
  const now = channelSeriesOf(study, curveName(curve.node, curve.channel));
  if (isStill(curve, Math.max(0, first - 1), last + 1) && holds(now, lo, hi, curve.width)) return;
  const stretch = new PutRight(
    curve,
    Math.min(frames[lo], curve.frames[first]),
    Math.max(frames[hi], curve.frames[last]),
    step,
  );
  const search = new Search(trial, node, curve, stretch, now, lo, hi);
  const { look } = search;
  const { start } = stretch;
  let largest = 0;
  if (last - first < mostSingles) {
    for (let index = first; index <= last; index++) {
      if (!stretch.isSeenAt(index, trial.times)) continue;
      search.most = Number.NEGATIVE_INFINITY;
      stretch.each(index, own, look);
      const share = search.most;
      largest = Math.max(largest, share);
      if (share >= leastShare)
        suspects.push({ node, curve, first: index, last: index, share, stretch: search.best, start });
    }
  }
  if (own[1] > own[0]) {
    search.most = Number.NEGATIVE_INFINITY;
    stretch.onPath(own[0], own[1], look);
    const share = search.most;
    if (share >= leastShare && share > together * largest)
      suspects.push({ node, curve, first: own[0], last: own[1], share, stretch: search.best, start });
  }
}

/** Looks at what goes of a fault with a curve as it is put right, and keeps the way that helps most. */
class Search {
  /** Largest share since it was last put back, and the stretch as it then was. */
  most = Number.NEGATIVE_INFINITY;
  best: CurveKeys;
  private readonly trial: Trial;
  private readonly node: number;
  private readonly curve: Curve;
  private readonly stretch: PutRight;
  /** The channel as it is, and what is tried in place of its samples lo to hi. */
  private readonly now: Float64Array | null;
  private readonly from: number;
  private readonly values: Float64Array;

  constructor(
    trial: Trial,
    node: number,
    curve: Curve,
    stretch: PutRight,
    now: Float64Array | null,
    lo: number,
    hi: number,
  ) {
    this.trial = trial;
    this.node = node;
    this.curve = curve;
    this.stretch = stretch;
    this.now = now;
    this.from = lo * curve.width;
    this.values = floats((hi - lo + 1) * curve.width);
    this.best = stretch.keys;
  }

  /** The share of the fault that goes with the stretch as it now is; below 0 where it grows. */
  readonly look = (): number => {
    const { trial, node, curve, stretch, values } = this;
    stretch.sample(trial.times, values);
    // Most channels of a chain hold still near a fault.
    if (!this.differs()) return 0;
    const share = 1 - trial.strengthWith(node, curve.channel, values) / trial.before;
    if (share > this.most) {
      this.most = share;
      if (share >= leastShare) this.best = stretch.copy();
    }
    return share;
  };

  /** Whether values are anywhere else than they are now. */
  private differs(): boolean {
    const { values, now, from } = this;
    if (now === null) return true;
    for (let i = 0; i < values.length; i++) if (values[i] !== now[from + i]) return true;
    return false;
  }
}

/** Whether some keys of a curve all have one value: putting one of them right changes nothing. */
function isStill({ values, width }: Curve, first: number, last: number): boolean {
  const end = Math.min(values.length, width * (last + 1));
  for (let i = width * (first + 1); i < end; i++) if (values[i] !== values[i - width]) return false;
  return true;
}

/** Whether a channel keeps one value from one sample to another. */
function holds(series: Float64Array | null, lo: number, hi: number, width: number): boolean {
  if (series === null) return false;
  for (let i = width * (lo + 1); i < width * (hi + 1); i++) if (series[i] !== series[i - width]) return false;
  return true;
}

/** Indices of the first and the last key between two frames; the first is the greater one where there are none. */
function keysBetween({ frames }: Curve, from: number, to: number): [number, number] {
  return [firstKeyFrom(frames, from), firstKeyFrom(frames, to + 1e-6) - 1];
}

/** Indices of the keys before and after a frame. */
function around({ frames }: Curve, frame: number): [number, number] {
  const after = firstKeyFrom(frames, frame);
  return [Math.max(0, after - 1), Math.min(frames.length - 1, after)];
}
