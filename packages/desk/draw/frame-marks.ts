import { type FramesView, margin } from "../curves/frames-view.ts";
import { axisText, stepOf } from "../curves/scale.ts";

/** Pixels that two frame numbers need. */
const apart = 56;

/** Frame numbers for what is seen: worked out when that changes, so that drawing makes nothing. */
export class FrameMarks {
  readonly frames: number[] = [];
  readonly texts: string[] = [];
  private seen = -1;

  update(view: FramesView): void {
    if (this.seen === view.changes) return;
    this.seen = view.changes;
    this.frames.length = 0;
    this.texts.length = 0;
    const step = stepOf(1 / view.scale, apart, 1);
    const first = view.frameAt(margin / 2);
    const last = view.frameAt(view.width - margin / 2);
    for (let frame = Math.ceil(first / step) * step; frame <= last; frame += step) {
      this.frames.push(frame);
      this.texts.push(axisText(frame, 1));
    }
  }
}
