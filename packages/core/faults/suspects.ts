import type { Study } from "../base/study.ts";
import { firstKeyFrom } from "../curve/keys.ts";
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
 * @param name of the curve (`curveName`)
 * @param suspects receives those that take enough of the fault away
 */
export function addSuspects(
  study: Study,
  fault: SeriesFault,
  trial: Trial,
  node: number,
  curve: Curve,
  name: string,
  suspects: Suspect[],
): void {
  const { frames, step } = gridOf(study);
  const [from, to] = [frames[fault.from], frames[fault.to]];
  const own = keysBetween(curve, from - 0.5, to + 0.5);
  const near = keysBetween(curve, from - reach * step, to + reach * step);
  const [first, last] = near[0] <= near[1] ? near : around(curve, from);
  const { lo, hi } = fault;
  const now = channelSeriesOf(study, name);
  if (isStill(curve, Math.max(0, first - 1), last + 1) && holds(now, lo, hi, curve.width)) return;
  const search = spare ?? new Search();
  // A strength that searches for causes itself takes another one.
  spare = null;
  const { stretch, look } = search;
  stretch.take(
    curve,
    Math.min(frames[lo], curve.frames[first]),
    Math.max(frames[hi], curve.frames[last]),
    step,
  );
  search.take(trial, node, curve, now, lo);
  let largest = 0;
  if (last - first < mostSingles) {
    for (let index = first; index <= last; index++) {
      if (!search.turnsTo(index, index)) continue;
      stretch.each(index, own, look);
      largest = Math.max(largest, search.most);
      if (search.most >= leastShare) suspects.push(search.suspect(index, index));
    }
  }
  if (own[1] > own[0] && search.turnsTo(own[0], own[1])) {
    stretch.onPath(own[0], own[1], look);
    if (search.most >= leastShare && search.most > together * largest)
      suspects.push(search.suspect(own[0], own[1]));
  }
  search.rest();
  spare = search;
}

/** A search that is not under way: one and its room serve one curve after another. */
let spare: Search | null = null;

/** Looks at what goes of a fault with a curve as it is put right, and keeps the way that helps most. */
class Search {
  readonly stretch = new PutRight();
  /** Largest share since it last turned to other keys. */
  most = Number.NEGATIVE_INFINITY;
  private trial: Trial | null = null;
  private node = -1;
  private curve: Curve | null = null;
  /** The channel as it is, and what is tried in place of its samples from `from` on: as it is but where keys have a say. */
  private now: Float64Array | null = null;
  private from = 0;
  private values = new Float64Array(0);
  /** First and last sample at which the keys have a say, counted from `from`. */
  private first = 0;
  private last = -1;

  take(trial: Trial, node: number, curve: Curve, now: Float64Array | null, lo: number): void {
    const { width } = curve;
    const count = width * trial.times.length;
    this.trial = trial;
    this.node = node;
    this.curve = curve;
    this.now = now;
    this.from = lo * width;
    if (this.values.length < count) this.values = new Float64Array(2 * count);
    this.first = 0;
    this.last = trial.times.length - 1;
    this.restore();
  }

  /** Lets go of what it was looking at. */
  rest(): void {
    this.trial = null;
    this.curve = null;
    this.now = null;
  }

  /**
   * Turns to some keys of the curve: nothing of them has been looked at.
   * @returns false where they have no say at any time of the trial
   */
  turnsTo(first: number, last: number): boolean {
    const { stretch, trial, now } = this;
    const { times } = trial as Trial;
    if (!stretch.isSeenAt(first, last, times)) return false;
    this.most = Number.NEGATIVE_INFINITY;
    this.restore();
    this.first = 0;
    this.last = times.length - 1;
    // Elsewhere they leave the channel as it is. A quaternion that is as it is can come out turned by rounding.
    if (now !== null && this.curve?.width === 1) {
      while (!(times[this.first] > stretch.seenFrom)) this.first++;
      while (!(times[this.last] < stretch.seenTo)) this.last--;
      // None may lie between them.
      if (this.first > this.last) this.last = this.first;
    }
    return true;
  }

  /** The keys that it turned to, put right in the way that helped most. */
  suspect(first: number, last: number): Suspect {
    const { node, most, stretch } = this;
    const curve = this.curve as Curve;
    return { node, curve, first, last, share: most, stretch: stretch.remembered(), start: stretch.start };
  }

  /** The share of the fault that goes with the stretch as it now is; below 0 where it grows. */
  readonly look = (): number => {
    const { stretch, values, now } = this;
    const trial = this.trial as Trial;
    const { channel, width } = this.curve as Curve;
    let { first, last } = this;
    stretch.sample(trial.times, values, first, last);
    if (now !== null && width === 1) {
      const { from } = this;
      while (first <= last && values[first] === now[from + first]) first++;
      // Most channels of a chain hold still near a fault.
      if (first > last) return 0;
      while (values[last] === now[from + last]) last--;
    } else if (!this.differs()) return 0;
    const share = 1 - trial.strengthWith(this.node, channel, values, first, last) / trial.before;
    if (share > this.most) {
      this.most = share;
      if (share >= leastShare) stretch.remember();
    }
    return share;
  };

  /** Whether values are anywhere else than they are now. */
  private differs(): boolean {
    const { values, now, from, last } = this;
    if (now === null) return true;
    const count = (this.curve as Curve).width * (last + 1);
    for (let i = 0; i < count; i++) if (values[i] !== now[from + i]) return true;
    return false;
  }

  /** Puts the values where the keys had a say to what they are. */
  private restore(): void {
    const { now, from, values } = this;
    if (now === null) return;
    const { width } = this.curve as Curve;
    for (let i = width * this.first; i < width * (this.last + 1); i++) values[i] = now[from + i];
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
