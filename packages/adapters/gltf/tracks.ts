import { type Curve, interpolations } from "@keyside/core";

/** Keys of one property of a node, as an animation sampler has them. */
export interface Track {
  readonly mode: "STEP" | "LINEAR" | "CUBICSPLINE";
  readonly frames: Float64Array;
  /** Per key its numbers; for cubic keys in-slope, value, out-slope, slopes per frame. */
  readonly values: readonly number[];
}

type Place = (value: readonly number[]) => readonly number[];

const modes = { step: "STEP", linear: "LINEAR", cubic: "CUBICSPLINE" } as const;

/**
 * Keys of a property as they are, where the format has room for them: all of its curves with keys on the same frames,
 * all of one kind out of step, linear and cubic, cubic ones with both slopes.
 * @param curves one of quaternions, or one for each axis, null where none drives it
 * @param rest what an axis without a curve has; null for quaternions
 * @param place a linear map of values, and of slopes
 * @returns null where the keys have to be written frame by frame
 */
export function keyedTrack(
  curves: readonly (Curve | null)[],
  rest: Float64Array | null,
  place: Place,
): Track | null {
  const own = curves.filter((curve) => curve !== null);
  const [first] = own;
  if (first === undefined) return null;
  const { frames } = first;
  // The kind of the last key matters to nothing that follows, but where it is the only one.
  const kinds = new Set(own.flatMap(({ modes }) => [...modes.subarray(0, Math.max(1, modes.length - 1))]));
  const isTogether = own.every(
    (curve) => curve.frames.length === frames.length && curve.frames.every((frame, k) => frame === frames[k]),
  );
  // One key is one value, however it would run to another.
  const kind = frames.length === 1 ? "linear" : (interpolations[[...kinds][0] ?? -1] as keyof typeof modes);
  if ((kinds.size !== 1 && frames.length > 1) || !isTogether || !Object.hasOwn(modes, kind)) return null;
  const width = first.width;
  const values: number[] = [];
  for (let key = 0; key < frames.length; key++) {
    const value =
      width === 4 ? four(first.values, key) : curves.map((curve, k) => curve?.values[key] ?? rest?.[k] ?? 0);
    if (kind !== "cubic") {
      values.push(...whole(place(value), width === 4));
      continue;
    }
    const slopes = (side: 0 | 1) =>
      width === 4
        ? first.handles === null
          ? null
          : [...first.handles.subarray(8 * key + 4 * side, 8 * key + 4 * side + 4)]
        : curves.map((curve) =>
            curve === null ? 0 : (curve.handles?.[4 * key + 1 + 2 * side] ?? Number.NaN),
          );
    // Before the first key and behind the last there is nothing to slope.
    const before = slopes(0)?.map((slope) => (key === 0 && Number.isNaN(slope) ? 0 : slope)) ?? [Number.NaN];
    const after = slopes(1)?.map((slope) =>
      key === frames.length - 1 && Number.isNaN(slope) ? 0 : slope,
    ) ?? [Number.NaN];
    if ([...before, ...after].some(Number.isNaN)) return null;
    values.push(...place(before), ...place(value), ...place(after));
  }
  return { mode: modes[kind], frames, values };
}

function four(values: Float64Array, key: number): number[] {
  return [...values.subarray(4 * key, 4 * key + 4)];
}

/** Quaternions as the format wants them, of length 1. */
function whole(value: readonly number[], isTurn: boolean): readonly number[] {
  const length = isTurn ? Math.hypot(...value) || 1 : 1;
  return value.map((one) => one / length);
}

/** A key on each frame. */
export function bakedTrack(frames: Float64Array, poses: Float64Array, width: number, place: Place): Track {
  const values: number[] = [];
  for (let i = 0; i < frames.length; i++)
    values.push(...place([...poses.subarray(width * i, width * i + width)]));
  return { mode: "LINEAR", frames, values };
}

/** Seconds of a track's keys; null where single precision cannot tell two of them apart, or one lies before the first frame. */
export function trackTimes({ frames }: Track, first: number, rate: number): Float32Array<ArrayBuffer> | null {
  const times = Float32Array.from(frames, (frame) => (frame - first) / rate);
  return times.every((time, k) => time >= 0 && (k === 0 || time > times[k - 1])) ? times : null;
}
