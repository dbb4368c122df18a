/** Frames of the document over which a course differs from what the keys make now; outside it is as it was. */
export interface FrameSpan {
  readonly from: number;
  readonly to: number;
}

/** How a stretch of a curve is keyed, and so how it is keyed again. */
export type Keying = "dense" | "step" | "smooth" | "bezier" | "cubic";

/** Where a sparse key of the curve is to stand, by the frame at which it stands; null takes it out. */
export type KeyPlacing = (frame: number) => number | null;

/** A curve that gets more keys than this is keyed anew, and no longer corrected. */
export const mostAdded = 2;
