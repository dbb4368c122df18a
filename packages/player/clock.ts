/** Which frame is due while a shot plays: by time passed, not by pictures drawn, so that it is never slow. */
export class Clock {
  private from = 0;
  private since = 0;
  private end = 0;
  private start = 0;

  /**
   * Begins to play.
   * @param frame where, from 0
   * @param now milliseconds
   * @param range first and last frame, both included; after the last comes the first
   */
  begin(frame: number, now: number, [start, end]: readonly [number, number]): void {
    this.from = frame < start || frame > end ? start : frame;
    this.since = now;
    this.start = start;
    this.end = end;
  }

  /** The frame that is due. @param rate frames a second, slowed down or not */
  frameAt(now: number, rate: number): number {
    const passed = Math.floor((Math.max(0, now - this.since) * rate) / 1000);
    return this.start + ((this.from - this.start + passed) % (this.end - this.start + 1));
  }
}
