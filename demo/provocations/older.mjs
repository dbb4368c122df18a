// @ts-check
/** Slips that are not told by examples yet. */
import { paths } from "./paths.mjs";

/**
 * @typedef {import("@keyside/core/examples").Provocation & { check: string }} Provocation
 */

/** @type {readonly Provocation[]} */
export const provocations = [...paths];
