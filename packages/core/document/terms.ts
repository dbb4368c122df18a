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
