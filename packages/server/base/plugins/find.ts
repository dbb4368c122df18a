import { dirname, join, resolve } from "node:path";
import { configName } from "../config-name.ts";
import { UnreadableError } from "../errors.ts";
import { bounds } from "../files/bounds.ts";
import type { Files } from "../files/read.ts";
import { noPlugins, type Plugins } from "./plugins.ts";

/** Where a run looks for its plug-ins. */
export interface PluginPlace {
  readonly files: Files;
  /** Folder in which the program runs. */
  readonly cwd: string;
  /** The configuration that was named on the command line. */
  readonly config?: string | undefined;
}

/**
 * The plug-ins of a run. Code is run only for a configuration that whoever started the run has chosen: the one that is
 * named, else the nearest one at or above the folder in which the program runs. One that merely stands beside a shot is
 * never asked.
 *
 * A configuration that cannot be read is told by whoever judges by it; here it names no modules.
 * @param formats names of reports that are taken
 * @returns where modules cannot be loaded, no plug-ins, with the reason as `problem`
 */
export async function pluginsOfRun(place: PluginPlace, formats: readonly string[]): Promise<Plugins> {
  const found = place.config === undefined ? await nearest(place) : resolve(place.cwd, place.config);
  if (found === null) return noPlugins;
  const written = await namedIn(place.files, found);
  if (written.length === 0) return noPlugins;
  const shown = place.config ?? found;
  const modules = written.map((path) => resolve(dirname(found), path));
  try {
    const { loadPlugins } = await import("./load.ts");
    return await loadPlugins({ modules, written, configuration: found, shown }, formats);
  } catch (problem) {
    if (!(problem instanceof UnreadableError)) throw problem;
    // What could not be loaded may be mended: the feed watches it.
    return { ...noPlugins, configuration: found, files: modules, problem };
  }
}

async function nearest({ files, cwd }: PluginPlace): Promise<string | null> {
  for (let folder = cwd; ; folder = dirname(folder)) {
    const path = join(folder, configName);
    try {
      if ((await files.kind(path)) === "file") return path;
    } catch {
      // A folder that cannot be looked into holds nothing for us.
    }
    if (dirname(folder) === folder) return null;
  }
}

async function namedIn(files: Files, path: string): Promise<readonly string[]> {
  try {
    const data: unknown = JSON.parse(new TextDecoder().decode(await files.read(path, bounds.settings)));
    return modulesIn(data);
  } catch {
    return [];
  }
}

/** The modules that a configuration names, as they are written. */
function modulesIn(data: unknown): readonly string[] {
  const { plugins } = (data ?? {}) as { plugins?: unknown };
  return Array.isArray(plugins) ? plugins.filter((path) => typeof path === "string") : [];
}

/**
 * Refuses a configuration whose modules are not those of the run.
 * @param path the configuration, as an absolute path
 * @param shown the configuration, as it is shown
 * @throws UnreadableError naming the place and the way out
 */
export function refuseForeignModules(plugins: Plugins, data: unknown, path: string, shown: string): void {
  const written = modulesIn(data);
  if (written.length === 0) return;
  if (plugins.configuration === path && plugins.problem !== null) throw plugins.problem;
  const index = written.findIndex((module) => !plugins.modules.includes(resolve(dirname(path), module)));
  if (index < 0) return;
  throw new UnreadableError(
    shown,
    `plugins.${index}: ${written[index]} is code, and is not run for a configuration that was only found beside a shot. ` +
      `If you trust it, name the file with --config, or run Keyside in ${dirname(path)}.`,
  );
}
