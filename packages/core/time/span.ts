import { integers } from "../base/room.ts";

/** A stretch of judged frames: its first and last sample, both included. */
export interface Span {
  readonly from: number;
  readonly to: number;
}

/** How many frames a stretch is long: its first and its last one are both counted, so that 98 to 110 are 13 frames. */
export function framesFrom(from: number, to: number): number {
  return Math.round(to) - Math.round(from) + 1;
}

/** Which of many stretches hold at a sample: those whose indices `which` has from `starts[sample]` to `starts[sample + 1]`. */
export interface SpansAt {
  readonly starts: Int32Array;
  /** Indices of stretches, in their order at each sample. */
  readonly which: Int32Array;
}

/** The stretches at each of so many samples, for whoever would else look through all of them at each sample. */
export function spansAt(spans: readonly Span[], count: number): SpansAt {
  const starts = integers(count + 2);
  const lastOf = ({ to }: Span) => Math.min(count - 1, to);
  for (const span of spans) for (let i = span.from; i <= lastOf(span); i++) starts[i + 2]++;
  for (let i = 2; i < starts.length; i++) starts[i] += starts[i - 1];
  const which = integers(starts[count + 1]);
  // Filling moves each start on to the next one's place.
  spans.forEach((span, index) => {
    for (let i = span.from; i <= lastOf(span); i++) which[starts[i + 1]++] = index;
  });
  return { starts, which };
}

/** The stretches, among so many samples, over which something holds. */
export function runsWhere(count: number, holds: (sample: number) => boolean): Span[] {
  const runs: Span[] = [];
  let from = -1;
  for (let i = 0; i <= count; i++) {
    const is = i < count && holds(i);
    if (is && from < 0) from = i;
    if (is || from < 0) continue;
    runs.push({ from, to: i - 1 });
    from = -1;
  }
  return runs;
}
