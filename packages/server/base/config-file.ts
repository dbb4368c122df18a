import { dirname, join, resolve } from "node:path";
import { type Config, ConfigError, readConfig, resolveSettings } from "@keyside/core";
import { jsonFault } from "@keyside/core/internal";
import { configName } from "./config-name.ts";
import { FaultySettings, UnreadableError } from "./errors.ts";
import { bounds } from "./files/bounds.ts";
import { type Files, readText } from "./files/read.ts";
import { refuseForeignModules } from "./plugins/find.ts";
import type { Plugins } from "./plugins/plugins.ts";

/** A configuration with the folder from which its patterns count; `folder` is null where there is no file. */
export interface FoundConfig {
  readonly config: Config;
  readonly folder: string | null;
}

/**
 * Reads a configuration file.
 * @param plugins those of the run, whose checks it may configure
 * @throws FaultySettings naming the place and what is wrong; several faults are put on lines of their own
 */
export async function readConfigFile(
  files: Files,
  path: string,
  shown: string,
  plugins: Plugins,
): Promise<Config> {
  const text = await configText(files, path, shown);
  let data: unknown;
  try {
    data = JSON.parse(text);
  } catch {
    throw new FaultySettings(shown, `This is not JSON. ${jsonFault(text).message}`);
  }
  refuseForeignModules(plugins, data, path, shown);
  try {
    const config = await readConfig(plugins.registry, data);
    // Faults that only show once everything is put together.
    resolveSettings(plugins.registry, config);
    return config;
  } catch (error) {
    if (error instanceof ConfigError) throw new FaultySettings(shown, error.message.replaceAll("\n", "; "));
    throw error;
  }
}

async function configText(files: Files, path: string, shown: string): Promise<string> {
  try {
    return await readText(files, path, shown, bounds.settings);
  } catch (error) {
    throw error instanceof UnreadableError ? new FaultySettings(error.file, error.message) : error;
  }
}

/** Finds the configuration that holds for a folder: the nearest, upward. Each is read once. */
export class ConfigFinder {
  private readonly byFolder = new Map<string, Promise<FoundConfig>>();
  private readonly files: Files;
  private readonly plugins: Plugins;

  constructor(files: Files, plugins: Plugins) {
    this.files = files;
    this.plugins = plugins;
  }

  forFolder(folder: string): Promise<FoundConfig> {
    let found = this.byFolder.get(folder);
    if (found === undefined) {
      found = this.find(folder);
      this.byFolder.set(folder, found);
    }
    return found;
  }

  private async find(folder: string): Promise<FoundConfig> {
    const path = join(folder, configName);
    if ((await this.files.kind(path)) === "file") {
      return { config: await readConfigFile(this.files, path, path, this.plugins), folder };
    }
    const above = dirname(folder);
    return above === folder ? { config: {}, folder: null } : this.forFolder(above);
  }
}

/** One configuration for everything, from a file that was named. */
export async function namedConfig(
  files: Files,
  cwd: string,
  shown: string,
  plugins: Plugins,
): Promise<FoundConfig> {
  const path = resolve(cwd, shown);
  return { config: await readConfigFile(files, path, shown, plugins), folder: dirname(path) };
}
