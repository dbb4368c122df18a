/** The fewest frames that are seen at once: closer, a frame would be wider than anything that is drawn in it. */
const fewest = 4;
/** Pixels left and right of what is seen, so that keys on the first and last frame are whole. */
export const margin = 14;

/** Which frames are seen, and where on the width each stands. The strip and the curves share one. */
export class FramesView {
  /** First and last frame that can be seen. */
  private low: number;
  private high: number;
  /** First and last frame that are seen; fractions while it is moved. */
  first: number;
  last: number;
  /** Pixels that there are. */
  width = 600;
  /** Counts changes, so that whoever drew knows whether to draw again. */
  changes = 0;

  /** Sees all from a first to a last frame. */
  constructor(low: number, high: number) {
    [this.low, this.high] = [low, Math.max(high, low + fewest)];
    [this.first, this.last] = [this.low, this.high];
  }

  /** The frames that can be seen may have become others; what is seen stays as near as it can. */
  bound(low: number, high: number): void {
    if (low === this.low && Math.max(high, low + fewest) === this.high) return;
    const isWhole = this.first === this.low && this.last === this.high;
    [this.low, this.high] = [low, Math.max(high, low + fewest)];
    if (isWhole) this.show(this.low, this.high);
    else this.show(this.first, this.last);
  }

  resize(width: number): void {
    if (width === this.width) return;
    this.width = width;
    this.changes++;
  }

  /** Pixels for a frame. */
  get scale(): number {
    return Math.max(1, this.width - 2 * margin) / (this.last - this.first);
  }
  xOf(frame: number): number {
    return margin + (frame - this.first) * this.scale;
  }
  frameAt(x: number): number {
    return this.first + (x - margin) / this.scale;
  }

  /** Shows frames from one to another, as far as there are any. */
  show(from: number, to: number): void {
    const span = Math.min(this.high - this.low, Math.max(fewest, to - from));
    const middle = (from + to) / 2;
    const first = Math.min(this.high - span, Math.max(this.low, middle - span / 2));
    if (first === this.first && first + span === this.last) return;
    [this.first, this.last] = [first, first + span];
    this.changes++;
  }

  /** Shows everything. */
  showAll(): void {
    this.show(this.low, this.high);
  }

  /** Makes a frame so many times as wide; one frame stays where it is. */
  zoom(times: number, about: number): void {
    const span = Math.min(this.high - this.low, Math.max(fewest, (this.last - this.first) / times));
    const share = (about - this.first) / (this.last - this.first);
    const first = about - span * share;
    this.show(first, first + span);
  }

  /** Goes on by so many frames. */
  pan(frames: number): void {
    this.show(this.first + frames, this.last + frames);
  }

  /** Brings a frame into what is seen; goes no farther than needed. */
  reveal(frame: number): void {
    const margin = Math.min(2, (this.last - this.first) / 8);
    if (frame < this.first + margin) this.pan(frame - margin - this.first);
    else if (frame > this.last - margin) this.pan(frame + margin - this.last);
  }
}
