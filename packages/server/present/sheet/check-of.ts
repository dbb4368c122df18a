import { type Check, checkNamed, type ResolvedSettings } from "@keyside/core";
import { ownChecksOf } from "@keyside/core/internal";

/** The check that a note names: one of ours, or one of the studio's own; undefined for what no check finds. */
export function checkOf(settings: ResolvedSettings, name: string): Check | undefined {
  return checkNamed(name) ?? ownChecksOf(settings).find((check) => check.name === name);
}
