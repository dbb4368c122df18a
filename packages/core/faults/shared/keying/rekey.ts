import type { Study } from "../../../base/study.ts";
import { cubicMode, smoothMode, stepMode } from "../../../curve/keys.ts";
import type { KeyEdit } from "../../../document/edit.ts";
import type { Curve } from "../../../document/model.ts";
import { gridOf } from "../../../time/grid.ts";
import { denseKeys } from "./dense-keys.ts";
import type { FrameSpan, Keying, KeyPlacing } from "./keying.ts";
import { newCurve } from "./new-curve.ts";
import { sparseKeys } from "./sparse-keys.ts";
import type { Course, Track } from "./track.ts";
import { turnKeys } from "./turn-keys.ts";

const inPlace: KeyPlacing = (frame) => frame;

/** Laid as loosely as this, a course is taken at the keys that are there, and none comes in. */
export const keysAlone = Number.POSITIVE_INFINITY;

/** How keys are to be laid. */
export interface Laying {
  /** Where sparse keys strictly within the enclosing keys are to stand; in place if left out. */
  readonly placing?: KeyPlacing;
  /** How many times the usual tolerance the keys may be off the course: a motion that is only sketched needs few keys; see {@link keysAlone}. */
  readonly loose?: number;
  /** More new keys than this on a sparse curve are not asked for: what comes then is not laid to its end; all if left out. */
  readonly most?: number;
}

/**
 * Edits that make a channel follow a course over a span, in the way in which it is keyed there: keys on every frame
 * get other values; sparse keys get other values and handles, and new ones come in only where the course asks for
 * them; steps keep their frames. Where nothing drives the channel a curve of smooth keys is made.
 * @param asked frames over which the course counts
 * @param course what the channel is to do; what it does now at both ends of the span and outside of it, unless a curve ends there
 */
export function rekeyed(
  study: Study,
  track: Track,
  asked: FrameSpan,
  course: Course,
  { placing = inPlace, loose = 1, most = Number.POSITIVE_INFINITY }: Laying = {},
): KeyEdit[] {
  if (!(asked.to > asked.from)) return [];
  // Keys come in on whole frames only.
  const span = { from: Math.floor(asked.from + 1e-6), to: Math.ceil(asked.to - 1e-6) };
  const { curve } = track;
  if (curve === null) return loose === keysAlone ? [] : newCurve(study, track, span, course, loose);
  const keying = keyingOf(curve, span, gridOf(study).step);
  if (track.width === 4) return turnKeys(study, track, curve, span, keying, course, loose);
  const out = new Float64Array(1);
  const value = (frame: number) => {
    course(frame, out);
    return out[0];
  };
  if (keying === "dense" || keying === "step") return denseKeys(study, track, curve, span, value);
  return sparseKeys(study, track, curve, span, { keying, placing, loose, most }, value);
}

/** How a curve is keyed over a span. */
export function keyingOf(curve: Curve, span: FrameSpan, step: number): Keying {
  if (isDense(curve, span, Math.max(1, step))) return "dense";
  const counts = new Map<number, number>();
  const { frames, modes } = curve;
  for (let key = 0; key + 1 < frames.length; key++) {
    if (frames[key + 1] <= span.from || frames[key] >= span.to) continue;
    if (modes[key] === stepMode) return "step";
    const length = Math.min(frames[key + 1], span.to) - Math.max(frames[key], span.from);
    counts.set(modes[key], (counts.get(modes[key]) ?? 0) + length);
  }
  const mostly = [...counts].sort((a, b) => b[1] - a[1])[0]?.[0];
  if (mostly === smoothMode) return "smooth";
  return mostly === cubicMode ? "cubic" : "bezier";
}

/**
 * Whether every judged frame of a span has a key.
 * @param step document frames from one judged frame to the next, 1 at least
 */
export function isDense({ frames }: Curve, { from, to }: FrameSpan, step: number): boolean {
  const longest = 1.01 * step;
  let before = from;
  for (let key = 0; key < frames.length; key++) {
    const frame = frames[key];
    if (frame <= from) {
      before = frame;
      continue;
    }
    if (frame - Math.max(before, from - step) > longest) return false;
    before = frame;
    if (frame >= to) return true;
  }
  return to - before <= longest && before > from;
}
