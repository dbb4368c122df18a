/** Larger numbers than this are no motion: a slip of the pen, or a broken exporter. */
export const absurd = 1e12;

/** How a segment runs from its first key to the next one. */
export const interpolations = ["step", "linear", "smooth", "bezier", "cubic"] as const;
/** One of {@link interpolations}. */
export type Interpolation = (typeof interpolations)[number];

/** The channels that a curve may drive. `rotation` alone holds quaternion keys `[x, y, z, w]`. */
export const channels = [
  "translation.x",
  "translation.y",
  "translation.z",
  "rotation.x",
  "rotation.y",
  "rotation.z",
  "scale.x",
  "scale.y",
  "scale.z",
  "rotation",
] as const;
/** One of {@link channels}. */
export type Channel = (typeof channels)[number];

/** Whether a number is one, and within {@link absurd}: the squares of larger ones overflow. */
export function isUsable(value: number): boolean {
  return Math.abs(value) <= absurd;
}

/** Why a number cannot be used, to stand behind it in a sentence. */
export function whyUnusable(value: number): string {
  return Number.isNaN(value) ? "is no number" : "is beyond all measure";
}
