/** The names of all checks, by family, in the order in which they are listed. */
export const checkNames = [
  // spacing and timing
  "pop",
  "hitch",
  "hard-stop",
  "hard-start",
  "spacing-jump",
  "even-spacing",
  "over-speed",
  "jitter",
  "frozen-hold",
  "same-frame",
  "frozen-end",
  "late-reach",
  // paths
  "retraced-path",
  "straight-path",
  "kinked-path",
  "quick-top",
  // weight and support
  "early-stop",
  "lift-before-push",
  "beat-mismatch",
  "hang-time",
  "contact-slide",
  "off-ground",
  "through-ground",
  "flat-foot",
  "one-axis-roll",
  "leg-snap",
  "off-balance",
  "body-tied-to-steps",
  "gait-speed",
  "no-settle",
  "no-anticipation",
  "mirrored-steps",
  // parts against each other
  "twinning",
  "block-move",
  "lone-joint",
  "no-drag",
  "still-wrist",
  "still-fingers",
  "competing-moves",
  "raised-shoulders",
  "straight-set",
  "merged-silhouette",
  "limb-at-lens",
  "frame-edge",
  "eye-line",
  // props
  "grip-slip",
  // curves and data
  "rotation-flip",
  "gimbal-lock",
  "overshoot",
  "key-off-frame",
  "key-crowding",
  "idle-curve",
] as const;

/** The name of a check: one that is not there does not compile. */
export type CheckName = (typeof checkNames)[number];
