/** The kinds of what holds, in the order in which they are listed: what carries the body first. */
export const strengthNames = [
  "true-fall",
  "soft-landing",
  "held-balance",
  "rooted-foot",
  "head-first-turn",
  "eased-move",
  "clean-arc",
  "late-stops",
  "growing-lag",
  "living-hold",
] as const;

/** One of {@link strengthNames}. */
export type StrengthName = (typeof strengthNames)[number];
