import { ConfigFinder, type FoundConfig, namedConfig } from "../base/config-file.ts";
import { UnreadableError, WrongUse } from "../base/errors.ts";
import { type Io, pluginsOf } from "../base/io.ts";

/** The configuration that holds for the shots of a folder. */
export type ConfigFor = (folder: string) => Promise<FoundConfig>;

/** Finds each shot's configuration: the one that was named, else the nearest above it. */
export async function configsFor(config: string | undefined, io: Io): Promise<ConfigFor> {
  if (config === undefined) {
    const finder = new ConfigFinder(io.files, pluginsOf(io));
    return (folder) => finder.forFolder(folder);
  }
  try {
    const named = await namedConfig(io.files, io.cwd, config, pluginsOf(io));
    return async () => named;
  } catch (error) {
    if (error instanceof UnreadableError) throw new WrongUse(`${error.file}: ${error.message}`);
    throw error;
  }
}
