import type { KeyEdit } from "../../../document/edit.ts";
import type { Shot } from "../../../document/model.ts";
import { gridOf } from "../../../time/grid.ts";
import type { Subject } from "../../fix.ts";
import { bridgedCourse } from "../keying/courses.ts";
import { rekeyed } from "../keying/rekey.ts";
import type { Track } from "../keying/track.ts";
import { causeSets } from "./causes.ts";
import { withEndsKept } from "./kept-ends.ts";

/** Edits of some channels; and the same with feet and held hands kept in place, where that makes a difference. */
export function* keptAndPlain(subject: Subject, shot: Shot, edits: readonly KeyEdit[]): Generator<KeyEdit[]> {
  if (edits.length === 0) return;
  const kept = withEndsKept(subject.study, shot, edits);
  if (kept.length > edits.length) yield kept;
  yield [...edits];
}

/** Frames before the first and behind the last frame of a note from which a course is made anew. */
export type Reach = readonly [before: number, after: number];

/**
 * Courses that pass over a note's frames as if nothing had happened there, from nearer and farther outside, of fewer and
 * more channels.
 * @param reaches in judged frames
 * @param evens see {@link bridgedCourse}; each is tried
 */
export function* bridgesOver(
  subject: Subject,
  shot: Shot,
  reaches: readonly Reach[],
  evens: readonly number[] = [0],
): Generator<KeyEdit[]> {
  const { study, from, to } = subject;
  const { frames, step } = gridOf(study);
  const spans = reaches.map(([before, after]) => ({
    from: frames[from] - before * step,
    to: frames[to] + after * step,
  }));
  const widest = { from: Math.min(...spans.map((s) => s.from)), to: Math.max(...spans.map((s) => s.to)) };
  for (const tracks of causeSets(subject, widest.from, widest.to)) {
    for (const span of spans) {
      for (const even of evens)
        yield* keptAndPlain(subject, shot, bridged(subject, tracks, span.from, span.to, even));
    }
  }
}

function bridged(
  { study }: Subject,
  tracks: readonly Track[],
  from: number,
  to: number,
  even: number,
): KeyEdit[] {
  return tracks.flatMap((track) => rekeyed(study, track, { from, to }, bridgedCourse(track, from, to, even)));
}
