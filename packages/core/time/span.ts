/** A stretch of judged frames: its first and last sample, both included. */
export interface Span {
  readonly from: number;
  readonly to: number;
}

/** How many frames a stretch is long: its first and its last one are both counted, so that 98 to 110 are 13 frames. */
export function framesFrom(from: number, to: number): number {
  return Math.round(to) - Math.round(from) + 1;
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
