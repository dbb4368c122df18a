import type { Study } from "../../../base/study.ts";
import type { KeyEdit } from "../../../document/edit.ts";
import { type Warp, warpedCourse } from "./courses.ts";
import type { FrameSpan } from "./keying.ts";
import { rekeyed } from "./rekey.ts";
import type { Track } from "./track.ts";

/**
 * Edits that play a track's course at other times over a span: sparse keys move to the whole frames nearest to where
 * they then belong, keys on every frame take the values that are shown then.
 * @param warp the old frame that is shown at a new one: ascending, its ends where the span's are
 */
export function retimed(study: Study, track: Track, span: FrameSpan, warp: Warp): KeyEdit[] {
  return rekeyed(study, track, span, warpedCourse(track, warp), {
    placing: (frame) => newFrameOf(frame, warp, span),
  });
}

/** The same course, for sparse keys that stay where they are and take other values and handles. */
export function retimedInPlace(study: Study, track: Track, span: FrameSpan, warp: Warp): KeyEdit[] {
  return rekeyed(study, track, span, warpedCourse(track, warp));
}

/** The whole frame at which an old frame is shown. */
export function newFrameOf(frame: number, warp: Warp, { from, to }: FrameSpan): number {
  if (warp(from) >= frame) return Math.round(from);
  if (warp(to) <= frame) return Math.round(to);
  let [low, high] = [from, to];
  for (let round = 0; round < 40; round++) {
    const middle = 0.5 * (low + high);
    if (warp(middle) < frame) low = middle;
    else high = middle;
  }
  return Math.round(0.5 * (low + high));
}
