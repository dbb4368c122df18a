import { type Curve, interpolations, sampleCurve } from "@keyside/core";

/**
 * A key put right in plain ways, each a curve of its own: its value on the path of its neighbours; a frame or two earlier
 * or later, between its neighbours; its handles along the line of its neighbours, and flat. It shares nothing with what
 * names causes.
 * @param step document frames from one judged frame to the next
 */
export function putRight(curve: Curve, key: number, step: number): readonly Curve[] {
  if (curve.frames.length < 2) return [];
  return [...runPutRight(curve, key, key), ...inTime(curve, key, step), ...withHandles(curve, key, step)];
}

/**
 * The keys of a run have the values that the curve would have there without them; between poses that step keys hold, those
 * of the line from the one before to the one after.
 */
export function runPutRight(curve: Curve, first: number, last: number): readonly Curve[] {
  const { width } = curve;
  const kept = Array.from(curve.frames.keys()).filter((key) => key < first || key > last);
  if (kept.length === 0) return [];
  const part = (numbers: Float64Array, stride: number) =>
    Float64Array.from(kept.flatMap((other) => [...numbers.subarray(other * stride, (other + 1) * stride)]));
  const without: Curve = {
    ...curve,
    frames: part(curve.frames, 1),
    values: part(curve.values, width),
    modes: Uint8Array.from(kept.map((other) => curve.modes[other])),
    handles: curve.handles === null ? null : part(curve.handles, 4 * (width === 1 ? 1 : 2)),
    ownModes: null,
    place: null,
  };
  const values = curve.values.slice();
  const [before, after] = [first - 1, last + 1];
  if (width === 1 && interpolations[curve.modes[before]] === "step" && after < curve.frames.length) {
    for (let key = first; key <= last; key++) {
      const share = (curve.frames[key] - curve.frames[before]) / (curve.frames[after] - curve.frames[before]);
      values[key] = (1 - share) * curve.values[before] + share * curve.values[after];
    }
    return [{ ...curve, values }];
  }
  sampleCurve(
    without,
    curve.frames.subarray(first, last + 1),
    values.subarray(first * width, (last + 1) * width),
  );
  return [{ ...curve, values }];
}

/** The key one or two judged frames earlier or later, where its neighbours leave room. */
function inTime(curve: Curve, key: number, step: number): Curve[] {
  // A pose that step keys hold is one drawing: moved in time it is shown longer or shorter, on no other path.
  if (interpolations[curve.modes[Math.max(0, key - 1)]] === "step") return [];
  const before = curve.frames[key - 1] ?? Number.NEGATIVE_INFINITY;
  const after = curve.frames[key + 1] ?? Number.POSITIVE_INFINITY;
  return [-2, -1, 1, 2].flatMap((shift) => {
    const frames = curve.frames.slice();
    frames[key] += shift * step;
    return frames[key] > before && frames[key] < after ? [{ ...curve, frames }] : [];
  });
}

/** The key with another slope, in the segments beside it that have one. */
function withHandles(curve: Curve, key: number, step: number): Curve[] {
  const { frames, values, width } = curve;
  const first = Math.max(0, key - 1);
  const last = Math.min(frames.length - 1, key + 1);
  const between = last > first && frames[last] - frames[first] > (last - first) * step;
  if (width !== 1 || !between) return [];
  const along = (values[last] - values[first]) / (frames[last] - frames[first]);
  return [along, 0].map((slope) => {
    const handles = curve.handles?.slice() ?? new Float64Array(4 * frames.length).fill(Number.NaN);
    const modes = curve.modes.slice();
    // The segment before the key takes the handle to the left of it, the one behind it the handle to the right.
    for (const [segment, side] of [
      [key - 1, 0],
      [key, 2],
    ]) {
      const other = side === 0 ? key - 1 : key + 1;
      const mode = interpolations[modes[segment]];
      if (other < 0 || other >= frames.length || mode === "step") continue;
      if (mode === "bezier") {
        const third = (frames[other] - frames[key]) / 3;
        handles.set([third, slope * third], 4 * key + side);
      } else {
        modes[segment] = interpolations.indexOf("cubic");
        handles.set([Number.NaN, slope], 4 * key + side);
      }
    }
    return { ...curve, handles, modes };
  });
}
