// @ts-check
/**
 * Every shot of a body that has not two legs.
 * @import { Family } from "../../types.d.ts"
 */
import { trotOfFourLegs, walkOfFourLegs } from "./four-legs/walk.mjs";

/** @type {Family[]} */
export const otherFamilies = [
  { name: "four legs", action: "walk", weight: 2, make: walkOfFourLegs },
  { name: "four legs", action: "trot", weight: 1, make: trotOfFourLegs },
];
