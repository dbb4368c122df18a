/** A stretch of judged frames: its first and last sample, both included. */
export interface Span {
  readonly from: number;
  readonly to: number;
}

/** How many frames a stretch is long: its first and its last one are both counted, so that 98 to 110 are 13 frames. */
export function framesFrom(from: number, to: number): number {
  return Math.round(to) - Math.round(from) + 1;
}
