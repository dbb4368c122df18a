import { type Curve, sampleCurve } from "@keyside/core/curves";
import { type FramesView, margin } from "./frames-view.ts";

/** Pixels between two places at which a curve is worked out where a frame is wider than a pixel. */
const pitch = 2;

/** What a line is drawn with: a canvas's pen, or a path. */
export interface Line {
  moveTo(x: number, y: number): void;
  lineTo(x: number, y: number): void;
  rect(x: number, y: number, width: number, height: number): void;
}

/**
 * A curve as it is drawn: a line through places, or, where several frames share a pixel, the lowest and highest value of
 * each pixel, so that a single frame that sticks out is seen however far away one stands.
 */
export class Trace {
  /** Frames at which the curve was worked out, and its values there; `count` of them. */
  frames = new Float64Array(0);
  values = new Float64Array(0);
  count = 0;
  /** Lowest and highest value of what is seen; infinities where there are no keys. */
  low = Number.POSITIVE_INFINITY;
  high = Number.NEGATIVE_INFINITY;
  private curve: Curve | null = null;
  private seen = -1;

  /** Works the curve out for what is seen, if it or that has changed. */
  update(curve: Curve, view: FramesView): void {
    if (curve === this.curve && view.changes === this.seen) return;
    [this.curve, this.seen] = [curve, view.changes];
    const [first, last] = [view.frameAt(0), view.frameAt(view.width)];
    const isDense = view.scale < 1;
    const step = isDense ? 1 : pitch / view.scale;
    const from = isDense ? Math.floor(first) : first;
    this.count = curve.frames.length === 0 ? 0 : Math.max(2, Math.ceil((last - from) / step) + 1);
    this.reserve(this.count);
    const [frames, values] = [this.frames.subarray(0, this.count), this.values.subarray(0, this.count)];
    for (let i = 0; i < this.count; i++) frames[i] = from + i * step;
    if (this.count > 0) sampleCurve(curve, frames, values);
    this.low = Number.POSITIVE_INFINITY;
    this.high = Number.NEGATIVE_INFINITY;
    for (let i = 0; i < this.count; i++) {
      if (values[i] < this.low) this.low = values[i];
      if (values[i] > this.high) this.high = values[i];
    }
  }

  /**
   * Adds the curve to the path of a pen: a line to be drawn, or, where several frames share a pixel, upright boxes to be
   * filled, which cost a fraction of as many strokes.
   * @returns whether it is to be filled
   * @param top the lane's upper edge in pixels
   * @param unit pixels for a unit of value
   * @param high the value at the upper edge
   */
  stroke(pen: Line, view: FramesView, top: number, unit: number, high: number): boolean {
    const { frames, values, count } = this;
    if (count === 0) return false;
    const { first, scale } = view;
    if (scale >= 1) {
      pen.moveTo(margin + (frames[0] - first) * scale, top + (high - values[0]) * unit);
      for (let i = 1; i < count; i++)
        pen.lineTo(margin + (frames[i] - first) * scale, top + (high - values[i]) * unit);
      return false;
    }
    // Several frames to a pixel: an upright box from the lowest to the highest, joined to the pixel before.
    let i = 0;
    let last = Number.NaN;
    while (i < count) {
      const x = Math.floor(margin + (frames[i] - first) * scale);
      let low = values[i];
      let most = low;
      if (last < low) low = last;
      if (last > most) most = last;
      for (; i < count && Math.floor(margin + (frames[i] - first) * scale) === x; i++) {
        last = values[i];
        if (last < low) low = last;
        if (last > most) most = last;
      }
      pen.rect(x, top + (high - most) * unit - 0.8, 1, (most - low) * unit + 1.6);
    }
    return true;
  }

  private reserve(count: number): void {
    if (this.frames.length >= count) return;
    this.frames = new Float64Array(2 * count);
    this.values = new Float64Array(2 * count);
  }
}
