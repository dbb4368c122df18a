import type { Adapter } from "@keyside/adapters";
import type * as keyside from "@keyside/core";
import type { PluginReport } from "./report/plugin-report.ts";

/** The library as a plug-in is handed it: the public list of `@keyside/core`, the same instance that the program uses. */
export type Keyside = typeof keyside;

/** What a plug-in adds. */
export interface PluginParts {
  readonly checks?: readonly unknown[];
  /** Formats that it reads or writes. */
  readonly adapters?: readonly Adapter[];
  /** By the name that `--format` takes. */
  readonly reports?: Readonly<Record<string, PluginReport>>;
}

/** The default export of a module that a configuration names under `plugins`. */
export type Plugin = (keyside: Keyside) => PluginParts | Promise<PluginParts>;
