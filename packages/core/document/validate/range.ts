import type { Curve } from "../model.ts";
import type { DocumentHeader } from "../schema.ts";
import type { Report } from "./header.ts";

/** No shot is longer; posing more frames than this would fill the memory because of one slip of the pen. */
export const longestRange = 1_000_000;

/** The judged range that a header gives, fixed; null where it gives none that can be used. */
export function givenRange(header: DocumentHeader, report: Report): readonly [number, number] | null {
  const { range } = header.shot;
  if (range === undefined) return null;
  const [from, to] = range;
  const length = Math.abs(to - from);
  if (length > longestRange || Math.abs(from) > 1e12) {
    const message = `The range of ${length} frames is longer than any shot; write the first and the last frame. The range is inferred from the keys.`;
    report("range", message, "shot/range");
    return null;
  }
  if (to >= from) return [from, to];
  report(
    "range",
    `The range runs from ${from} back to ${to}; write the first frame first. It is turned round.`,
    "shot/range",
  );
  return [to, from];
}

/** The range from the first to the last key; null where there are no keys. */
export function rangeOfKeys(curves: readonly Curve[]): readonly [number, number] | null {
  let from = Number.POSITIVE_INFINITY;
  let to = Number.NEGATIVE_INFINITY;
  for (const { frames } of curves) {
    from = Math.min(from, frames[0]);
    to = Math.max(to, frames[frames.length - 1]);
  }
  return from <= to ? [from, to] : null;
}
