import { sampleBetween, sampleCurve, sampleCurveWithout } from "../curve/evaluate.ts";
import { bezierMode, cubicMode, firstKeyFrom, linearMode, stepMode } from "../curve/keys.ts";
import type { Curve, CurveKeys } from "../document/model.ts";

/** Keys beside a stretch of a curve on which its shape there hangs: the next one, its slope, and one that takes its place. */
const beside = 3;
const oneTime = new Float64Array(1);
/** The two keys before and after those that are put on a cubic through them. */
const around = new Int32Array(4);
/** The handles beside a run of keys as they were drawn, while they are longer. */
const drawn = new Float64Array(4);

/** Share of a fault that a key has to change, either way, for its slope to be tried (our choice). */
const leastEffect = 0.02;

/**
 * A stretch of a curve in which keys are put right in the ways of an animator, one after another: its value on the path
 * of its neighbours, one or two frames earlier or later, its slope that of the line between its neighbours, or flat.
 * Nothing is allocated for a way.
 */
export class PutRight {
  /** The stretch as it is now: changed while {@link each} calls back. */
  private readonly keys: Writable<CurveKeys>;
  /** Index in the curve of the stretch's first key. */
  start = 0;
  /** The open stretch of times at which {@link isSeenAt} found that keys have a say; document frames. */
  seenFrom = Number.NEGATIVE_INFINITY;
  seenTo = Number.POSITIVE_INFINITY;
  private count = 0;
  private step = 1;
  private handles = new Float64Array(0);
  private modes = new Uint8Array(0);
  /** Values as they were, and on the path, while a way is looked at. */
  private kept = new Float64Array(0);
  private path = new Float64Array(0);
  /** The handles of a key as they are, while other slopes are tried. */
  private readonly ownHandles = new Float64Array(4);
  /** Times of keys: room, and views of its first so many numbers. */
  private times = new Float64Array(0);
  private views: Float64Array[] = [];
  /** The stretch as it was when it was told to {@link remember} it. */
  private best = { frames: this.times, values: this.path, handles: this.handles, modes: this.modes };

  constructor() {
    const { times, handles, modes } = this;
    this.keys = {
      interpolation: "linear",
      width: 1,
      frames: times,
      values: new Float64Array(0),
      modes,
      handles,
      ownModes: null,
      place: null,
    };
  }

  /**
   * Goes over to a stretch of a curve.
   * @param from first and last frame (of the document) at which the curve is looked at, or its keys are put right
   * @param step document frames from one judged frame to the next
   */
  take(curve: Curve, from: number, to: number, step: number): void {
    const { width } = curve;
    const stride = strideOf(width);
    const start = Math.max(0, firstKeyFrom(curve.frames, from) - beside);
    const end = Math.min(curve.frames.length, firstKeyFrom(curve.frames, to) + beside);
    const count = end - start;
    this.step = step;
    this.start = start;
    this.count = count;
    if (4 * count > this.path.length) this.grow(2 * count);
    const { modes, handles, times, keys } = this;
    for (let k = 0; k < count; k++) {
      modes[k] = curve.modes[start + k];
      times[k] = curve.frames[start + k];
    }
    for (let k = 0; k < width * count; k++) keys.values[k] = curve.values[width * start + k];
    if (curve.handles === null) handles.fill(Number.NaN, 0, stride * count);
    else for (let k = 0; k < stride * count; k++) handles[k] = curve.handles[stride * start + k];
    this.views[count] ??= times.subarray(0, count);
    keys.interpolation = curve.interpolation;
    keys.width = width;
    keys.frames = this.views[count];
  }

  /** Makes room for stretches of so many keys, of any width. */
  private grow(count: number): void {
    const { keys } = this;
    this.handles = new Float64Array(8 * count);
    this.modes = new Uint8Array(count);
    this.kept = new Float64Array(4 * count);
    this.path = new Float64Array(4 * count);
    this.times = new Float64Array(count);
    this.views = [];
    keys.values = new Float64Array(4 * count);
    keys.handles = this.handles;
    keys.modes = this.modes;
    this.best = {
      frames: new Float64Array(count),
      values: new Float64Array(4 * count),
      handles: new Float64Array(8 * count),
      modes: new Uint8Array(count),
    };
  }

  /**
   * Whether some keys (indices in the curve) have a say at any of some times: beyond the keys beside them where these are
   * joined by straight lines and steps, beyond the next but one where slopes follow keys, nothing of them is seen.
   * @param times document frames, ascending, within those that the stretch was made for
   */
  isSeenAt(first: number, last: number, times: Float64Array): boolean {
    const { keys, modes, count } = this;
    const { frames } = keys;
    const [a, b] = [first - this.start, last - this.start];
    this.seenFrom = Number.NEGATIVE_INFINITY;
    this.seenTo = Number.POSITIVE_INFINITY;
    if (a > 0 && frames[a - 1] === frames[a]) return true;
    let far = 1;
    for (let k = Math.max(0, a - 2); k <= b + 1 && k < count; k++)
      if (modes[k] !== stepMode && modes[k] !== linearMode) far = 2;
    if (a - far >= 0) this.seenFrom = frames[a - far];
    if (b + far < count) this.seenTo = frames[b + far];
    return times[times.length - 1] > this.seenFrom && times[0] < this.seenTo;
  }

  /** Puts the keys first to last (indices in the curve) on the path of those beside them, while `look` is called. */
  onPath(first: number, last: number, look: () => number): number {
    const { frames, values, width } = this.keys;
    if (last - first + 1 >= frames.length) return 0;
    const { path } = this;
    const [a, b] = [first - this.start, last - this.start];
    const isHeld = a > 0 && b + 1 < frames.length && width === 1 && this.modes[a - 1] === stepMode;
    if (isHeld) {
      // Between poses that step keys hold the path leads from one to the other.
      const way = (values[b + 1] - values[a - 1]) / (frames[b + 1] - frames[a - 1]);
      for (let k = a; k <= b; k++) path[k - a] = values[a - 1] + way * (frames[k] - frames[a - 1]);
    } else this.withoutKeys(a, b);
    return this.lookOnPath(a, b, look);
  }

  /** Writes the values of keys a to b on the curve without them to the path. */
  private withoutKeys(a: number, b: number): void {
    const { keys, path } = this;
    if (a !== b) {
      sampleCurveWithout(keys, a, b, keys.frames.subarray(a, b + 1), path);
      return;
    }
    oneTime[0] = keys.frames[a];
    sampleCurveWithout(keys, a, a, oneTime, path);
  }

  /**
   * The same on the path as the keys beside mean it, where the curve without a key does not show that: handles may have been
   * drawn for the shorter segments that the key makes, and straight lines from frame to frame stand for a curve.
   */
  private onMeantPath(index: number, isAlone: boolean, look: () => number): void {
    const key = index - this.start;
    if (this.keys.frames.length <= 1) return;
    // Of keys that follow each other on every frame each would be on a curve through the others.
    if (!(isAlone && this.cubicThrough(key, key, this.path))) {
      if (!this.stretchHandles(key, key)) return;
      this.withoutKeys(key, key);
      for (let k = 0; k < 2; k++) {
        this.handles[4 * key - 2 + k] = drawn[k];
        this.handles[4 * key + 4 + k] = drawn[2 + k];
      }
    }
    this.lookOnPath(key, key, look);
  }

  /** Puts keys a to b (in the stretch) to the values of the path, while `look` is called. */
  private lookOnPath(a: number, b: number, look: () => number): number {
    const { values, width } = this.keys;
    const { kept, path } = this;
    const [from, count] = [width * a, width * (b + 1 - a)];
    for (let k = 0; k < count; k++) {
      kept[k] = values[from + k];
      values[from + k] = path[k];
    }
    const effect = look();
    for (let k = 0; k < count; k++) values[from + k] = kept[k];
    return effect;
  }

  /** Values of keys a to b on the cubic through the two keys on either side, where straight lines lead from frame to frame. */
  private cubicThrough(a: number, b: number, path: Float64Array): boolean {
    const { frames, values, width } = this.keys;
    if (width !== 1 || a < 2 || b + 2 >= frames.length) return false;
    for (let k = a - 2; k < b + 2; k++) {
      if (this.modes[k] !== linearMode || frames[k + 1] - frames[k] > 1.001 * this.step) return false;
    }
    around[0] = a - 2;
    around[1] = a - 1;
    around[2] = b + 1;
    around[3] = b + 2;
    for (let k = a; k <= b; k++) {
      let sum = 0;
      for (let m = 0; m < 4; m++) {
        const one = around[m];
        let term = values[one];
        for (let n = 0; n < 4; n++) {
          const other = around[n];
          if (n !== m) term *= (frames[k] - frames[other]) / (frames[one] - frames[other]);
        }
        sum += term;
      }
      path[k - a] = sum;
    }
    return true;
  }

  /**
   * Makes the handles beside keys a to b, which were drawn for shorter segments, as long as the way across them asks for.
   * @returns whether any was changed; they were as {@link drawn} has them
   */
  private stretchHandles(a: number, b: number): boolean {
    const { keys, modes, handles } = this;
    const { frames, width } = keys;
    if (width !== 1 || a === 0 || b + 1 >= frames.length) return false;
    if (modes[a - 1] !== bezierMode && modes[b] !== bezierMode) return false;
    const across = frames[b + 1] - frames[a - 1];
    const out = 4 * (a - 1) + 2;
    const into = 4 * (b + 1);
    for (let k = 0; k < 2; k++) {
      drawn[k] = handles[out + k];
      drawn[2 + k] = handles[into + k];
      if (modes[a - 1] === bezierMode) handles[out + k] *= across / (frames[a] - frames[a - 1]);
      if (modes[b] === bezierMode) handles[into + k] *= across / (frames[b + 1] - frames[b]);
    }
    return true;
  }

  /**
   * Puts a key (index in the curve) right in each of the ways in turn, and calls `look` while it is. A way that cannot do
   * more is left out: two frames where one did not help, other slopes where nothing else did anything.
   * @param own first and last key in the frames of the fault: the path that keys beside mean is tried for these alone
   * @param look tells the share of the fault that goes; below 0 where it grows
   */
  each(index: number, own: readonly [number, number], look: () => number): void {
    const onPath = this.onPath(index, index, look);
    if (own[0] <= index && index <= own[1]) this.onMeantPath(index, own[0] === own[1], look);
    const key = index - this.start;
    const inTime = this.inTime(key, look);
    if (this.keys.width === 1 && Math.max(Math.abs(onPath), inTime) >= leastEffect) this.bySlope(key, look);
  }

  /** Largest effect, of either sign, of a key that is a frame earlier or later. */
  private inTime(key: number, look: () => number): number {
    const { frames } = this.keys;
    const frame = frames[key];
    // A pose that step keys hold is shown until the next one: moved in time it is another drawing's, not another path.
    if (this.modes[Math.max(0, key - 1)] === stepMode) return 0;
    let most = 0;
    for (let way = -1; way <= 1; way += 2) {
      for (let far = 1; far <= 2; far++) {
        const moved = frame + way * far * this.step;
        if (key > 0 && !(moved > frames[key - 1])) break;
        if (key < frames.length - 1 && !(moved < frames[key + 1])) break;
        frames[key] = moved;
        const effect = look();
        most = Math.max(most, Math.abs(effect));
        if (!(effect > 0)) break;
      }
    }
    frames[key] = frame;
    return most;
  }

  private bySlope(key: number, look: () => number): void {
    const { frames, values } = this.keys;
    const before = Math.max(0, key - 1);
    const after = Math.min(frames.length - 1, key + 1);
    // Between keys on every judged frame nothing of a slope is seen.
    if (!(frames[after] - frames[before] > (after - before) * this.step * 1.001)) return;
    const along = (values[after] - values[before]) / (frames[after] - frames[before]);
    const { handles, modes, ownHandles } = this;
    for (let k = 0; k < 4; k++) ownHandles[k] = handles[4 * key + k];
    const modeBefore = modes[before];
    const mode = modes[key];
    for (let way = along === 0 ? 1 : 0; way < 2; way++) {
      const slope = way === 0 ? along : 0;
      if (before < key) this.slopeOn(before, key, 0, frames[before], slope);
      if (after > key) this.slopeOn(key, key, 2, frames[after], slope);
      look();
    }
    for (let k = 0; k < 4; k++) handles[4 * key + k] = ownHandles[k];
    modes[before] = modeBefore;
    modes[key] = mode;
  }

  /** Gives a key's side of a segment a slope; the segment takes a handle, or becomes a cubic one. */
  private slopeOn(segment: number, key: number, side: 0 | 2, far: number, slope: number): void {
    const { handles, modes } = this;
    if (modes[segment] === stepMode) return;
    const third = (far - this.keys.frames[key]) / 3;
    const isBezier = modes[segment] === bezierMode;
    handles[4 * key + side] = isBezier ? third : Number.NaN;
    handles[4 * key + side + 1] = isBezier ? slope * third : slope;
    if (!isBezier) modes[segment] = cubicMode;
  }

  /** Keeps the stretch as it is now in mind. */
  remember(): void {
    const { keys, handles, modes, best, count } = this;
    const { frames, values, width } = keys;
    for (let k = 0; k < count; k++) {
      best.frames[k] = frames[k];
      best.modes[k] = modes[k];
    }
    for (let k = 0; k < width * count; k++) best.values[k] = values[k];
    for (let k = 0; k < strideOf(width) * count; k++) best.handles[k] = handles[k];
  }

  /** A copy of the stretch as it was when it was last kept in mind. */
  remembered(): CurveKeys {
    const { keys, best, count } = this;
    const { width } = keys;
    return {
      ...keys,
      frames: best.frames.slice(0, count),
      values: best.values.slice(0, width * count),
      handles: best.handles.slice(0, strideOf(width) * count),
      modes: best.modes.slice(0, count),
    };
  }

  /** Values of the stretch as it is now, at some of ascending times: of a channel of width 1 at those from..to alone. */
  sample(times: Float64Array, out: Float64Array, from: number, to: number): void {
    if (this.keys.width === 1) sampleBetween(this.keys, times, out, from, to);
    else sampleCurve(this.keys, times, out);
  }
}

type Writable<T> = { -readonly [K in keyof T]: T[K] };

/** Numbers of a key's handles. */
function strideOf(width: 1 | 4): number {
  return width === 1 ? 4 : 8;
}
