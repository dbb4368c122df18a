// @ts-check
/** One slip for each check, in one of the demo's shots: what makes the check speak. The faults' own examples tell it. */
import { readFileSync } from "node:fs";
import { examples, provokedText as provoked } from "@keyside/core/examples";

/** @type {readonly (import("@keyside/core/examples").Provocation & { check: string })[]} */
export const provocations = Object.values(examples).map(({ check, provocation }) => ({
  check,
  ...provocation,
}));

/**
 * The text of a provocation's shot, with the slip in it.
 * @param {import("@keyside/core/examples").Provocation} provocation
 */
export function provokedText(provocation) {
  const file = new URL(`../shots/${provocation.shot}.curves.json`, import.meta.url);
  return provoked(readFileSync(file, "utf8"), provocation);
}
