import { bezierValue, type Handles, readHandles, solveTime } from "./bezier.ts";
import { bezierMode, type Keys, keyAfter, keyAtOrBefore, linearMode, smoothMode, stepMode } from "./keys.ts";
import { cubicSlope, smoothSlope } from "./slopes.ts";

/**
 * Samples keys of width 1, at least one, at ascending times.
 * @param from index of the first time that is asked for, and `count` the one behind the last
 */
export function sampleScalars(
  keys: Keys,
  times: Float64Array,
  out: Float64Array,
  from: number,
  count: number,
): void {
  const { frames, values, modes } = keys.curve;
  const { start, end } = keys;
  let i = from;
  const firstTime = frames[start];
  for (; i < count && times[i] < firstTime; i++) out[i] = values[start];
  if (i === count) return;
  let key = keyAtOrBefore(keys, times[i]);
  while (i < count) {
    let next = keyAfter(keys, key);
    const time = times[i];
    while (next <= end && frames[next] <= time) {
      key = next;
      next = keyAfter(keys, key);
    }
    if (next > end) {
      out.fill(values[key], i, count);
      return;
    }
    if (frames[key] === time) {
      out[i++] = values[key];
      // Keys on every sample are copied straight on; a key that shares its time with the next one gives way to it.
      const plainEnd = key < keys.gapFirst ? keys.gapFirst - 1 : end;
      const ahead = key + 1 - i;
      const stop = Math.min(count, plainEnd - ahead);
      for (let frame = frames[i + ahead]; i < stop && frame === times[i]; i++) {
        const following = frames[i + ahead + 1];
        if (!(following > frame)) break;
        out[i] = values[i + ahead];
        frame = following;
      }
      key = i + ahead - 1;
      if (i === count) return;
      next = keyAfter(keys, key);
      if (frames[next] <= times[i]) continue;
    }
    // The samples strictly inside the segment.
    const until = frames[next];
    let stop = i;
    while (stop < count && times[stop] < until) stop++;
    if (stop > i) {
      if (modes[key] === stepMode) out.fill(values[key], i, stop);
      else sampleSegment(keys, key, next, times, out, i, stop);
      i = stop;
    } else if (!(times[i] >= until)) {
      // A time that is no number cannot be placed: the value is held.
      out[i++] = values[Math.max(key, start)];
    }
  }
}

const handles: Handles = { x1: 0, y1: 0, x2: 0, y2: 0 };

function sampleSegment(
  keys: Keys,
  key: number,
  next: number,
  times: Float64Array,
  out: Float64Array,
  from: number,
  to: number,
): void {
  const { frames, values, modes } = keys.curve;
  const begin = frames[key];
  const span = frames[next] - begin;
  const v0 = values[key];
  const v1 = values[next];
  const mode = modes[key];
  if (mode === linearMode) {
    const rise = v1 - v0;
    for (let i = from; i < to; i++) out[i] = v0 + rise * ((times[i] - begin) / span);
  } else if (mode === bezierMode) {
    readHandles(keys, key, next, handles);
    const { x1, y1, x2, y2 } = handles;
    for (let i = from; i < to; i++) {
      out[i] = bezierValue(v0, y1, y2, v1, solveTime(x1, x2, (times[i] - begin) / span));
    }
  } else {
    const isSmooth = mode === smoothMode;
    const m0 = span * (isSmooth ? smoothSlope(keys, key) : cubicSlope(keys, key, 2));
    const m1 = span * (isSmooth ? smoothSlope(keys, next) : cubicSlope(keys, next, 0));
    const rise = v1 - v0;
    const c2 = 3 * rise - 2 * m0 - m1;
    const c3 = m0 + m1 - 2 * rise;
    for (let i = from; i < to; i++) {
      const u = (times[i] - begin) / span;
      out[i] = v0 + u * (m0 + u * (c2 + u * c3));
    }
    if (isSmooth) clampTo(v0, v1, out, from, to);
  }
}

/** Keeps rounding from leaving the band of two keys. */
function clampTo(a: number, b: number, out: Float64Array, from: number, to: number): void {
  const low = Math.min(a, b);
  const high = Math.max(a, b);
  for (let i = from; i < to; i++) {
    if (out[i] < low) out[i] = low;
    else if (out[i] > high) out[i] = high;
  }
}
