/** One injector per check. */
import * as arms from "./arms.mjs";
import * as beats from "./beats.mjs";
import * as data from "./data.mjs";
import * as feet from "./feet.mjs";
import * as parts from "./parts.mjs";
import * as paths from "./paths.mjs";
import * as spacing from "./spacing.mjs";
import * as things from "./things.mjs";
import * as timing from "./timing.mjs";
import * as weight from "./weight.mjs";

/**
 * Puts one kind of fault into clean motions.
 * @typedef {object} Injector
 * @property {string} check the check that has to find it
 * @property {number[]} strengths four, from just above the check's documented floor to gross
 * @property {string} unit what the strengths count
 * @property {string[]} [bases] kinds of bases it goes into, all if left out
 * @property {(base: object) => boolean} [only] bases it goes into
 * @property {(base: object, random: object) => object | null} place where a fault can go; null where none can at this try
 * @property {(base: object, place: object, strength: number) => { curves?: object[], shot?: object, truth: object } | null} inject
 */

/** @type {Injector[]} */
export const injectors = [spacing, timing, paths, weight, beats, feet, parts, arms, things, data]
  .flatMap((family) => Object.values(family))
  .filter((one) => typeof one === "object" && typeof one.inject === "function");
