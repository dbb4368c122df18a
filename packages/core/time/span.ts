/** A stretch of judged frames: its first and last sample, both included. */
export interface Span {
  readonly from: number;
  readonly to: number;
}
