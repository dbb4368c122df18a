/** How a segment runs from its first key to the next one. */
export const interpolations = ["step", "linear", "smooth", "bezier", "cubic"] as const;
export type Interpolation = (typeof interpolations)[number];

/** The channels that a curve may drive. `rotate` alone holds quaternion keys `[x, y, z, w]`. */
export const channels = [
  "translate.x",
  "translate.y",
  "translate.z",
  "rotate.x",
  "rotate.y",
  "rotate.z",
  "scale.x",
  "scale.y",
  "scale.z",
  "rotate",
] as const;
export type Channel = (typeof channels)[number];
