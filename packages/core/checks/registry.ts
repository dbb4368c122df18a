import type { Check } from "./check.ts";
import { pop } from "./pop.ts";

/** All checks. Adding one is its file and its line here; help, docs, settings and the test scaffold follow. */
export const registry: readonly Check[] = [pop] as readonly Check[];

/** A check by its name. */
export function checkNamed(name: string): Check | undefined {
  return registry.find((check) => check.name === name);
}
