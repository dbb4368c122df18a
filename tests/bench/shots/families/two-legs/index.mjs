// @ts-check
/** Families of shots of figures on two legs. */
import { crowds } from "./crowd.mjs";
import { dancing } from "./dance.mjs";
import { jumpingAndSitting } from "./jumps.mjs";
import { together } from "./pairs.mjs";
import { standing, walking } from "./stands.mjs";
import { handling } from "./things.mjs";

/** @import { Family } from "../../types.d.ts" */

/** @type {Family[]} */
export const twoLegFamilies = [
  ...standing,
  ...walking,
  ...jumpingAndSitting,
  ...handling,
  ...together,
  ...crowds,
  ...dancing,
];
