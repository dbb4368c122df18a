import type { KeyChange } from "./changes.ts";

/** Frames from one key to the next, on the average, from which on keys are poses that somebody set (our choice). */
const betweenPoses = 2;

/** Whether keys only turn a joint otherwise where they stand, and stand apart: each is a pose that is taken anew. */
export function arePoses(changes: readonly KeyChange[]): boolean {
  const isPosed = ({ channel, before, after }: KeyChange) =>
    channel.startsWith("rotation") && before !== null && after !== null && before.frame === after.frame;
  const frames = new Set(changes.map(({ before }) => before?.frame ?? 0));
  const [first, last] = [Math.min(...frames), Math.max(...frames)];
  // One axis that goes to both sides is a course drawn anew; of a turn each axis may.
  const axes = new Set(changes.map(({ channel }) => channel)).size;
  return axes > 1 && changes.every(isPosed) && last - first >= betweenPoses * (frames.size - 1);
}

/** Frames by which all of some keys are slid and nothing else is done to them; null where something is. */
export function slidBy(changes: readonly KeyChange[]): number | null {
  const [first, ...others] = changes.map(({ before, after }) =>
    before === null || after === null || String(before.value) !== String(after.value)
      ? 0
      : after.frame - before.frame,
  );
  return first !== 0 && others.every((by) => Math.abs(by - first) < 1e-6) ? first : null;
}
