import type { FrameRate } from "../model.ts";

/** Rate that is used where a document gives none that makes sense. */
export const fallbackRate = 24;

/** No camera or capture of bodies runs faster: a rate above it is a slip of the pen. */
const highestRate = 100_000;
/** A pose in a quarter of an hour is no motion; what is slower still overflows where times are squared. */
const lowestRate = 0.001;

/** Whether a number of frames per second can be one. */
export function isFrameRate(rate: number): boolean {
  return rate >= lowestRate && rate <= highestRate;
}

/**
 * Reads a frame rate: a number, or a fraction such as "24000/1001".
 * @returns null where it is none
 */
export function frameRateOf(written: unknown): FrameRate | null {
  let numerator = Number.NaN;
  let denominator = 1;
  if (typeof written === "number") numerator = written;
  else if (typeof written === "string") {
    const parts = /^(\d+(?:\.\d+)?)(?:\/(\d+))?$/.exec(written);
    if (parts === null) return null;
    numerator = Number(parts[1]);
    if (parts[2] !== undefined) denominator = Number(parts[2]);
  }
  const rate = numerator / denominator;
  return isFrameRate(rate) ? { numerator, denominator } : null;
}
