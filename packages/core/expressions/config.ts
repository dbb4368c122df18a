import {
  type Config,
  configJsonSchemaWith,
  type OwnCheckLanguage,
  readConfigWith,
} from "../settings/config.ts";
import type { ConfigurableCheck } from "../settings/settings.ts";
import { maxOwnChecks, type OwnCheckSpec, ownCheckSchema } from "./spec-schema.ts";

/** A studio's own checks, written as expressions. The parser is slow to load, and is loaded once there are any. */
const ownCheckLanguage: OwnCheckLanguage<OwnCheckSpec> = {
  schema: ownCheckSchema,
  members: Object.keys(ownCheckSchema.shape),
  most: maxOwnChecks,
  read: async (specs, taken) => (await import("./read-own-checks.ts")).readOwnChecks(specs, taken),
};

/**
 * JSON Schema (draft 2020-12) of a configuration file, for editors.
 * @param registry the checks that it has entries for
 * @returns plain data; write it with `JSON.stringify`
 */
export function configJsonSchema(registry: readonly ConfigurableCheck[]): Record<string, unknown> {
  return configJsonSchemaWith(registry, ownCheckLanguage);
}

/**
 * Reads a configuration that has been parsed from JSON, own checks included. The parsers of units and expressions are
 * loaded only where something is written with them.
 * @param registry the checks that it may configure
 * @param data what `JSON.parse` gave
 * @returns values as they are written, each with its unit
 * @throws ConfigError with everything that is wrong
 */
export function readConfig(registry: readonly ConfigurableCheck[], data: unknown): Promise<Config> {
  return readConfigWith(registry, data, ownCheckLanguage);
}
