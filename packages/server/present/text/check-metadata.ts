import type { Check } from "@keyside/core";
import { cautionsFor } from "./cautions.ts";

/** All that a check says of itself, without its functions. */
export function metadataOf(check: Check): Record<string, unknown> {
  const { find: _find, word: _word, ...metadata } = check;
  return { ...metadata, cautions: cautionsFor([check]) };
}
