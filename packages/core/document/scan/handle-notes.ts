import { type Curve, interpolations } from "../model.ts";
import type { Cursor } from "./cursor.ts";

const bezier = interpolations.indexOf("bezier");
const cubic = interpolations.indexOf("cubic");

/**
 * Reports handles that do not fit their segment, and quaternion curves with an interpolation that has no meaning
 * for them. Nothing is changed: evaluation reads a handle of the other form as what it says of the slope, and holds
 * handles that run against or beyond their segment inside it. Handles of segments that use none are left alone.
 * @param raw position of each key in the document's list
 */
export function noteHandles(cursor: Cursor, curve: Curve, raw: Int32Array, path: string): void {
  if (curve.width === 4) {
    noteQuaternionModes(cursor, curve, raw, path);
    return;
  }
  const { handles, frames, modes } = curve;
  if (handles === null) return;
  for (let key = 0; key < frames.length; key++) {
    if (key + 1 < frames.length)
      noteSide(cursor, curve, key, 1, modes[key], frames[key + 1] - frames[key], raw, path);
    if (key > 0) noteSide(cursor, curve, key, 0, modes[key - 1], frames[key] - frames[key - 1], raw, path);
  }
}

function noteSide(
  cursor: Cursor,
  curve: Curve,
  key: number,
  side: 0 | 1,
  mode: number,
  length: number,
  raw: Int32Array,
  path: string,
): void {
  if (mode !== bezier && mode !== cubic) return;
  const handles = curve.handles as Float64Array;
  const slot = key * 4 + side * 2;
  if (Number.isNaN(handles[slot + 1])) return;
  const name = side === 0 ? "in" : "out";
  const time = handles[slot];
  if (Number.isNaN(time) !== (mode === cubic)) {
    const message =
      mode === cubic
        ? `The "${name}" handle of a cubic segment is a slope in value per frame, not [frames, value]; write one number. Its slope is used.`
        : `The "${name}" handle of a bezier segment is [frames, value], not a slope; write two numbers. A handle over a third of the segment is used.`;
    report(cursor, curve, key, raw, path, "handle-form", message);
    return;
  }
  if (mode === cubic) return;
  const ahead = side === 0 ? -time : time;
  if (ahead < 0) {
    const message = `The "${name}" handle points ${side === 0 ? "forward" : "back"} in time (${time} frames), so that the curve would turn back; give it ${side === 0 ? "negative" : "positive"} frames. It is held at its key's time.`;
    report(cursor, curve, key, raw, path, "handle-order", message);
  } else if (ahead > length) {
    const message = `The "${name}" handle (${time} frames) is longer than its segment of ${length} frames; shorten it. It is held inside the segment.`;
    report(cursor, curve, key, raw, path, "handle-length", message);
  }
}

/** Quaternions turn along the shortest way (linear), in steps, smoothly or on cubic slopes, never on bezier handles. */
function noteQuaternionModes(cursor: Cursor, curve: Curve, raw: Int32Array, path: string): void {
  const key = curve.modes.indexOf(bezier);
  if (key < 0) return;
  const message =
    'Quaternion keys have no bezier handles; use "linear", "smooth", or "cubic" with slopes. "smooth" is used.';
  report(cursor, curve, key, raw, path, "quaternion-bezier", message);
}

function report(
  cursor: Cursor,
  curve: Curve,
  key: number,
  raw: Int32Array,
  path: string,
  code: string,
  message: string,
): void {
  const place = curve.place;
  if (place === null) return;
  const start = place.start + place.keyStart[key];
  cursor.report(code, message, start, place.start + place.keyEnd[key], `${path}/keys/${raw[key]}`);
}
