import { bytes, floats } from "../base/room.ts";
import { sampleCurve, sampleCurveWithout } from "../curve/evaluate.ts";
import { bezierMode, cubicMode, firstKeyFrom, linearMode, stepMode } from "../curve/keys.ts";
import type { Curve, CurveKeys } from "../document/model.ts";

/** Keys beside a stretch of a curve on which its shape there hangs: the next one, its slope, and one that takes its place. */
const beside = 3;
const oneTime = new Float64Array(1);
/** The two keys before and after those that are put on a cubic through them. */
const around = new Int32Array(4);

/** Share of a fault that a key has to change, either way, for its slope to be tried (our choice). */
const leastEffect = 0.02;

/**
 * A stretch of a curve in which keys are put right in the ways of an animator, one after another: its value on the path
 * of its neighbours, one or two frames earlier or later, its slope that of the line between its neighbours, or flat.
 * Nothing is allocated for a way.
 */
export class PutRight {
  /** The stretch as it is now: changed while {@link each} calls back. */
  readonly keys: CurveKeys;
  /** Index in the curve of the stretch's first key. */
  readonly start: number;
  private readonly step: number;
  private readonly handles: Float64Array;
  private readonly modes: Uint8Array;
  /** Values as they were, and on the path, while a way is looked at. */
  private readonly kept: Float64Array;
  private readonly path: Float64Array;

  /**
   * @param from first and last frame (of the document) at which the curve is looked at, or its keys are put right
   * @param step document frames from one judged frame to the next
   */
  constructor(curve: Curve, from: number, to: number, step: number) {
    const { width } = curve;
    const stride = width === 1 ? 4 : 8;
    this.step = step;
    this.start = Math.max(0, firstKeyFrom(curve.frames, from) - beside);
    const end = Math.min(curve.frames.length, firstKeyFrom(curve.frames, to) + beside);
    const { start } = this;
    const count = end - start;
    this.modes = bytes(count);
    for (let k = 0; k < count; k++) this.modes[k] = curve.modes[start + k];
    this.handles =
      curve.handles === null
        ? floats(stride * count).fill(Number.NaN)
        : run(curve.handles, stride * start, stride * count);
    this.kept = floats(width * count);
    this.path = floats(width * count);
    this.keys = {
      interpolation: curve.interpolation,
      width,
      frames: run(curve.frames, start, count),
      values: run(curve.values, width * start, width * count),
      modes: this.modes,
      handles: this.handles,
      ownModes: null,
      place: null,
    };
  }

  /**
   * Whether a key (index in the curve) has a say at any of some times: beyond the keys beside it where these are joined by
   * straight lines and steps, beyond the next but one where slopes follow keys, nothing of it is seen.
   * @param times document frames, ascending, within those that the stretch was made for
   */
  isSeenAt(index: number, times: Float64Array): boolean {
    const { frames } = this.keys;
    const key = index - this.start;
    if (key > 0 && frames[key - 1] === frames[key]) return true;
    let far = 1;
    for (let k = Math.max(0, key - 2); k <= key + 1 && k < this.modes.length; k++)
      if (this.modes[k] !== stepMode && this.modes[k] !== linearMode) far = 2;
    const from = key - far < 0 ? Number.NEGATIVE_INFINITY : frames[key - far];
    const to = key + far >= frames.length ? Number.POSITIVE_INFINITY : frames[key + far];
    return times[times.length - 1] > from && times[0] < to;
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
      const drawn = this.stretchHandles(key, key);
      if (drawn === null) return;
      this.withoutKeys(key, key);
      this.handles.set(drawn);
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
   * @returns the handles as they were; null where nothing was changed
   */
  private stretchHandles(a: number, b: number): Float64Array | null {
    const { frames, width } = this.keys;
    if (width !== 1 || a === 0 || b + 1 >= frames.length) return null;
    if (this.modes[a - 1] !== bezierMode && this.modes[b] !== bezierMode) return null;
    const drawn = this.handles.slice();
    const across = frames[b + 1] - frames[a - 1];
    const stretch = (at: number, segment: number, length: number) => {
      if (this.modes[segment] !== bezierMode) return;
      this.handles[at] *= across / length;
      this.handles[at + 1] *= across / length;
    };
    stretch(4 * (a - 1) + 2, a - 1, frames[a] - frames[a - 1]);
    stretch(4 * (b + 1), b, frames[b + 1] - frames[b]);
    return drawn;
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
    for (const way of [-1, 1]) {
      for (const shift of [way, 2 * way]) {
        const moved = frame + shift * this.step;
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
    const { handles, modes } = this;
    const handlesBefore = handles.slice(4 * key, 4 * key + 4);
    const modeBefore = modes[before];
    const mode = modes[key];
    for (const slope of along === 0 ? [0] : [along, 0]) {
      if (before < key) this.slopeOn(before, key, 0, frames[before], slope);
      if (after > key) this.slopeOn(key, key, 2, frames[after], slope);
      look();
    }
    handles.set(handlesBefore, 4 * key);
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

  /** The stretch as it is now, to be kept. */
  copy(): CurveKeys {
    const { keys, handles, modes } = this;
    return {
      ...keys,
      frames: keys.frames.slice(),
      values: keys.values.slice(),
      handles: handles.slice(),
      modes: modes.slice(),
    };
  }

  /** Values of the stretch as it is now. */
  sample(times: Float64Array, out: Float64Array): void {
    sampleCurve(this.keys, times, out);
  }
}

/** Copies numbers; runs are short mostly, for which a copy by the engine would cost more than they do. */
function run(from: Float64Array, at: number, count: number): Float64Array {
  const out = floats(count);
  for (let k = 0; k < count; k++) out[k] = from[at + k];
  return out;
}
