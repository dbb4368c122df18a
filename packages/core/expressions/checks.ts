import type { Check } from "../faults/check.ts";
import type { ConfigurableCheck, ResolvedSettings } from "../settings/settings.ts";
import { ownChecksOf } from "./own-check.ts";

/**
 * All checks of a run: those that its settings were put together from (the program's, and those of plug-ins), then the
 * ones that the configuration writes as expressions, where they are on.
 */
export function checksIn(settings: ResolvedSettings): readonly Check[] {
  return [...settings.registry.filter(canFind), ...ownChecksOf(settings)];
}

/** The check of a run that has a name; undefined for what no check finds. */
export function checkIn(settings: ResolvedSettings, name: string): Check | undefined {
  return checksIn(settings).find((check) => check.name === name);
}

/** Settings know of a check only what configures it. */
function canFind(check: ConfigurableCheck): check is ConfigurableCheck & Check {
  return "find" in check;
}
