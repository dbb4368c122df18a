import type { Adapter } from "@keyside/adapters";
import { type Check, registry } from "@keyside/core";
import type { UnreadableError } from "../errors.ts";

/** What plug-ins add to a run. One process runs with one set of them. */
export interface Plugins {
  /** All checks of the run: the program's, then those of plug-ins. */
  readonly registry: readonly Check[];
  /** Adapters of plug-ins: formats that they read or write. */
  readonly adapters: readonly Adapter[];
  /** Reports of plug-ins, by the name that `--format` takes. Who writes reports knows what they are. */
  readonly reports: Readonly<Record<string, unknown>>;
  /** The modules that were loaded, as absolute paths, in the order of the configuration. */
  readonly modules: readonly string[];
  /** The module that each check, adapter and report of a plug-in comes from, by its name. */
  readonly origins: ReadonlyMap<string, string>;
  /** The files that the modules are made of: they themselves, and what they import by relative paths. */
  readonly files: readonly string[];
  /** Changes with the content of the files; "" where there are none. */
  readonly digest: string;
  /** The configuration that names the modules, as an absolute path; null where none does. */
  readonly configuration: string | null;
  /** Why the modules could not be loaded; null where they were. */
  readonly problem: UnreadableError | null;
}

/** A run without plug-ins. */
export const noPlugins: Plugins = {
  registry,
  adapters: [],
  reports: {},
  modules: [],
  origins: new Map(),
  files: [],
  digest: "",
  configuration: null,
  problem: null,
};

/** A check of a run by its name. */
export function checkOfRun({ registry: checks }: Pick<Plugins, "registry">, name: string): Check | undefined {
  return checks.find((check) => check.name === name);
}
