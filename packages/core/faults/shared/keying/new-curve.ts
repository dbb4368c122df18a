import { angleBetween } from "../../../base/quaternion.ts";
import type { Study } from "../../../base/study.ts";
import { sampleCurve } from "../../../curve/evaluate.ts";
import { smoothMode } from "../../../curve/keys.ts";
import type { KeyEdit, KeyValue } from "../../../document/edit.ts";
import type { Curve } from "../../../document/model.ts";
import type { FrameSpan } from "./keying.ts";
import { decimalsOf, rounded, toleranceOf } from "./precision.ts";
import type { Course, Track } from "./track.ts";

/** A curve of smooth keys for a channel that nothing drives: keys at both ends of the span, and as many as it takes. */
export function newCurve(
  study: Study,
  track: Track,
  { from, to }: FrameSpan,
  course: Course,
  loose: number,
): KeyEdit[] {
  const { node, id, channel, width } = track;
  const decimals = width === 4 ? 5 : decimalsOf(study, node, channel);
  const tolerance = loose * toleranceOf(study, node, channel);
  const wanted = new Float64Array(width);
  const made = new Float64Array(width);
  const [first, last] = [Math.floor(from), Math.ceil(to)];
  const chosen = [first, last];
  for (;;) {
    const curve = smoothCurve(track, chosen, course, decimals);
    let most = tolerance;
    let worst = -1;
    for (let frame = first + 1; frame < last; frame++) {
      if (chosen.includes(frame)) continue;
      course(frame, wanted);
      sampleCurve(curve, Float64Array.of(frame), made);
      const off = width === 4 ? angleBetween(wanted, 0, made, 0) : Math.abs(wanted[0] - made[0]);
      if (off <= most) continue;
      most = off;
      worst = frame;
    }
    if (worst < 0) {
      return chosen.map((frame, key) => ({
        kind: "set",
        node: id,
        channel,
        frame,
        value: keyValue(curve, key),
        interpolation: "smooth",
      }));
    }
    chosen.push(worst);
    chosen.sort((a, b) => a - b);
  }
}

function smoothCurve(track: Track, frames: readonly number[], course: Course, decimals: number): Curve {
  const { id, channel, width } = track;
  const values = new Float64Array(width * frames.length);
  frames.forEach((frame, key) => {
    course(frame, values.subarray(width * key, width * (key + 1)));
  });
  return {
    node: id,
    channel,
    interpolation: "smooth",
    width,
    frames: Float64Array.from(frames),
    values: values.map((value) => rounded(value, decimals)),
    modes: new Uint8Array(frames.length).fill(smoothMode),
    handles: null,
    ownModes: null,
    place: null,
  };
}

function keyValue({ values, width }: Curve, key: number): KeyValue {
  if (width === 1) return values[key];
  const [x, y, z, w] = values.subarray(4 * key, 4 * key + 4);
  return [x, y, z, w];
}
