import { existsSync } from "node:fs";
import { stat } from "node:fs/promises";
import { fileURLToPath, pathToFileURL } from "node:url";
import { diskFiles, type Files } from "../../base/files/read.ts";
import { pluginsOfRun } from "../../base/plugins/find.ts";
import type { Plugins } from "../../base/plugins/plugins.ts";
import { addedAdapters } from "../../judge/shots/readers.ts";
import { type SettingsLoader, settingsFromFiles } from "./settings.ts";

/** What is read from disk; handed in, so that tests bring their own. */
export interface FeedFiles extends Files {
  /** Changes whenever a file's content may have changed; null where there is no file. */
  stamp(path: string): Promise<string | null>;
}

/** Something that can be called off. */
export interface Pending {
  cancel(): void;
}

/** Timers and the clock; handed in, so that scheduling can be tested. */
export interface Timers {
  /** Milliseconds; only differences count. */
  now(): number;
  /** Runs once messages that have arrived had their turn. */
  soon(run: () => void): Pending;
  after(milliseconds: number, run: () => void): Pending;
}

/** All that a feed has to do with the world outside its connection. */
export interface FeedEnvironment {
  readonly files: FeedFiles;
  readonly timers: Timers;
  readonly settings: SettingsLoader;
  /** URI of the folder that holds a page per check, with a slash at its end; null where the pages are not installed. */
  readonly checkPages: string | null;
}

/** The environment of a process of Node. */
export function nodeEnvironment(): FeedEnvironment {
  return {
    files: { ...diskFiles, stamp },
    timers: nodeTimers,
    settings: settingsFromFiles(diskFiles, pluginsOfProcess),
    checkPages: installedPages(),
  };
}

/** Plug-ins of the configuration at or above the folder in which the feed was started. */
async function pluginsOfProcess(): Promise<Plugins> {
  const plugins = await pluginsOfRun({ files: diskFiles, cwd: process.cwd() }, []);
  addedAdapters.use(plugins.adapters);
  return plugins;
}

export const nodeTimers: Timers = {
  now: () => performance.now(),
  soon(run) {
    const handle = setImmediate(run);
    return { cancel: () => clearImmediate(handle) };
  },
  after(milliseconds, run) {
    const handle = setTimeout(run, milliseconds);
    return { cancel: () => clearTimeout(handle) };
  },
};

async function stamp(path: string): Promise<string | null> {
  try {
    const { mtimeMs, size, ino } = await stat(path);
    return `${mtimeMs} ${size} ${ino}`;
  } catch {
    return null;
  }
}

/** The pages of the checks lie in `docs/checks`, in the package or, in a work tree, beside `packages`. */
function installedPages(): string | null {
  for (const above of ["../", "../../", "../../../", "../../../../", "../../../../../"]) {
    const folder = new URL(`${above}docs/checks/`, import.meta.url);
    if (existsSync(fileURLToPath(folder))) return pathToFileURL(`${fileURLToPath(folder)}`).href;
  }
  return null;
}
