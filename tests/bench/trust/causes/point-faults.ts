import type { CheckName } from "@keyside/core";

/** Faults that stand at one frame or a few, and that one key can make. */
export const pointFaults: readonly CheckName[] = [
  "pop",
  "hitch",
  "hard-stop",
  "hard-start",
  "spacing-jump",
  "over-speed",
  "kinked-path",
  "contact-slide",
  "off-ground",
  "through-ground",
  "leg-snap",
  "lone-joint",
  "rotation-flip",
  "overshoot",
];
