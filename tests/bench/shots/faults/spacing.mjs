// @ts-check
/**
 * Faults of spacing and timing.
 * @import { FaultKind } from "../types.d.ts"
 */
import { bodies } from "./spacing-body.mjs";
import { ends } from "./spacing-ends.mjs";
import { holds } from "./spacing-holds.mjs";
import { noise } from "./spacing-noise.mjs";
import { frozenPart } from "./spacing-parts.mjs";
import { pops } from "./spacing-pops.mjs";
import { inUnison } from "./spacing-unison.mjs";
import { within } from "./spacing-within.mjs";

/** @type {FaultKind[]} */
export const spacingFaults = [
  ...pops,
  ...ends,
  ...within,
  ...noise,
  ...holds,
  frozenPart,
  ...inUnison,
  ...bodies,
];
