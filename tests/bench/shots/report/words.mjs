// @ts-check
/**
 * Numbers as the report writes them.
 * @import { Share } from "./tally.mjs"
 */
import { wilson } from "../scores/wilson.mjs";

/** @param {Share} share */
export const portion = ({ hits, of }) => (of === 0 ? "—" : (hits / of).toFixed(2));

/** With the 95 % interval. @param {Share} share */
export function withRange({ hits, of }) {
  if (of === 0) return "—";
  const [low, high] = wilson(hits, of);
  return `${(hits / of).toFixed(2)} (${low.toFixed(2)}–${high.toFixed(2)})`;
}

/** With how many of how many. @param {Share} share */
export const counted = ({ hits, of }) => (of === 0 ? "—" : `${hits} of ${of}`);

/** @param {number | null} number @param {number} digits */
export const decimal = (number, digits = 2) => (number === null ? "—" : number.toFixed(digits));

/** A number per 1,000 or 100 frames. @param {number} number @param {number} frames @param {number} per */
export const rate = (number, frames, per) => (frames === 0 ? "—" : ((per * number) / frames).toFixed(2));
