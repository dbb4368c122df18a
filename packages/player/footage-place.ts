import type { Motion, MotionImages } from "./motion.ts";

/** Address of a frame's picture; null where there is none, as between two frames. */
export function addressOf(
  { before, digits, after, first, last }: MotionImages,
  frame: number,
): string | null {
  if (!Number.isInteger(frame) || frame < first || frame > last || frame < 0) return null;
  return `${before}${String(frame).padStart(digits, "0")}${after}`;
}

/** Seconds into a shot's sound at a frame; negative before it begins. */
export function secondsAt(
  { rate, frameStep }: Pick<Motion, "rate" | "frameStep">,
  from: number,
  frame: number,
) {
  return (frame - from) / (rate * frameStep);
}
