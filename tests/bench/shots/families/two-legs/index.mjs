// @ts-check
/** Families of shots of figures on two legs. */
import { jumpingAndSitting } from "./jumps.mjs";
import { standing, walking } from "./stands.mjs";

/** @import { Family } from "../../types.d.ts" */

/** @type {Family[]} */
export const twoLegFamilies = [...standing, ...walking, ...jumpingAndSitting];
