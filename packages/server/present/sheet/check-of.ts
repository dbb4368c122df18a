import { type Check, checkNamed, ownChecksOf, type ResolvedSettings } from "@keyside/core";

/** The check that a note names: one of ours, or one of the studio's own; undefined for what no check finds. */
export function checkOf(settings: ResolvedSettings, name: string): Check | undefined {
  return checkNamed(name) ?? ownChecksOf(settings).find((check) => check.name === name);
}
