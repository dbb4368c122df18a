import { basename } from "node:path";
import type { Budget } from "../../base/budget.ts";
import { shotName } from "../shots/readers.ts";
import type { JudgedShot } from "../shots/shot-report.ts";

/** One shot that is to be judged; plain data, so that it can be handed to another thread. */
export interface ShotTask {
  /** The file as it is shown. */
  readonly file: string;
  /** The file as it is reached. */
  readonly path: string;
  /** Where a file of waivers would stand beside it. */
  readonly waivers: string;
  /** Where a review file would stand beside it; none is read if left out. */
  readonly review?: string | undefined;
  /** Ending of its name, by which its adapter is chosen. */
  readonly kind: string;
  /** Whether files of its kind need not be text. */
  readonly isBinary?: boolean | undefined;
  /** Whether files of its kind may name others, which belong to what is judged. */
  readonly mayNeed?: boolean | undefined;
  /** Which animation is judged of a file that holds several; the first if left out. It stands in `settings` too. */
  readonly animation?: string | undefined;
  /**
   * Configuration, the run's own choices and the content of plug-ins, as JSON ({@link SettingsSource}); equal texts mean
   * equal settings.
   */
  readonly settings: string;
  /** Modules of plug-ins that are loaded by whoever judges. */
  readonly plugins?: TaskPlugins | undefined;
  /** Whether whoever hands it out keeps its result in an index: it is handed back packed, and no entry is written. */
  readonly isIndexed?: boolean | undefined;
}

/** Plug-ins as they are handed to another thread. */
export interface TaskPlugins {
  readonly modules: readonly string[];
  readonly digest: string;
  readonly configuration: string;
}

/** What is judged with: the same for every place and name of the shot. */
export type StoredShot = Omit<JudgedShot, "file" | "name"> & {
  /** The shot's own name; null where it is called after its file. */
  readonly name: string | null;
};

/** What came of one shot. */
export type Judgement =
  | {
      readonly kind: "shot";
      /** A {@link StoredShot} as JSON: it is compact on its way between threads and into the cache. */
      readonly stored: string;
      readonly isCached: boolean;
      /** Why the result could not be kept in the cache; null where it was, or where there is none. */
      readonly unkept: string | null;
      /** Where it is for an index: under which key, and packed. Left out where it is not to be kept. */
      readonly packed?: { readonly key: string; readonly bytes: Uint8Array } | undefined;
    }
  | { readonly kind: "error"; readonly message: string };

/** Whoever judges shots: this thread, or several others. */
export interface Judges {
  /** How many shots are judged at the same time. */
  readonly count: number;
  /** Judges a shot. Whatever goes wrong becomes an error of that shot; this never rejects. */
  judge(task: ShotTask): Promise<Judgement>;
  /** Stops at once, whatever is still being judged. */
  close(): Promise<void>;
}

export interface JudgesOptions {
  readonly count: number;
  /** Seconds that one shot may take. */
  readonly timeLimit: number;
  /** Bytes that the program may take; the default of {@link defaultLimits} if left out. */
  readonly memoryLimit?: number | undefined;
  /** Megabytes of the young generation of each thread; the engine's own default if left out. */
  readonly young?: number | undefined;
  /** How much work a shot may be; the default budget if left out. */
  readonly budget?: Budget | undefined;
  readonly cache: CachePlace | null;
}

/** Where results are kept, and for which version of the tool. */
export interface CachePlace {
  readonly folder: string;
  readonly stamp: string;
}

/**
 * A stored result as the result of a file.
 * @param animation where the file's name has one behind it, after a number sign
 */
export function shotFrom(file: string, stored: string, animation = ""): JudgedShot {
  const { name, ...rest } = JSON.parse(stored) as StoredShot;
  const own = animation === "" ? file : file.slice(0, file.length - animation.length - 1);
  const called = `${shotName(basename(own))}${animation === "" ? "" : ` ${animation}`}`;
  return { file, name: name ?? called, ...rest };
}
