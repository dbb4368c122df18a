import { isAbsolute, join, relative, resolve } from "node:path";
import { glob, isDynamicPattern } from "tinyglobby";
import { reasonOf, UnreadableError } from "../../base/errors.ts";
import type { Files } from "../../base/files/read.ts";
import { shotExtensions } from "../shots/readers.ts";

/** Files in which shots stand, as they are shown: relative where they were given so. */
export interface Discovered {
  readonly files: readonly string[];
  readonly errors: readonly { readonly file: string; readonly message: string }[];
}

export interface DiscoverOptions {
  readonly cwd: string;
  readonly files: Files;
  /** Absolute glob patterns of files that a folder, or a pattern started there, leaves out. */
  ignoreFor?(folder: string): Promise<readonly string[]>;
  /** Whether a folder, or a pattern, leaves out a file, given by its absolute path. */
  isIgnored?(path: string): Promise<boolean>;
}

const neverLookedInto = ["**/node_modules/**", "**/.*/**"];

/**
 * Finds the shots that were asked for: files as they are given, folders with all that is under them, glob patterns.
 * A file that is named twice is listed once; folders and patterns list theirs in the order of their names.
 * @throws UnreadableError naming a configuration or an ignore file that cannot be used
 */
export async function discover(paths: readonly string[], options: DiscoverOptions): Promise<Discovered> {
  const found = new Map<string, string>();
  const errors: { file: string; message: string }[] = [];
  const add = (shown: string) => {
    const path = resolve(options.cwd, shown);
    if (!found.has(path)) found.set(path, shown);
  };
  for (const path of paths) {
    try {
      const kind = await options.files.kind(resolve(options.cwd, path));
      if (kind === "file") {
        add(path);
        continue;
      }
      const all = kind === "folder" ? await shotsUnder(path, options) : await shotsMatching(path, options);
      const shots = await notIgnored(all, options);
      for (const shot of shots) add(shot);
      if (shots.length > 0) continue;
      const extensions = shotExtensions().join(", ");
      if (kind === "folder")
        errors.push({ file: path, message: `The folder holds no shots (${extensions}).` });
      else if (isDynamicPattern(path)) errors.push({ file: path, message: "No file matches this pattern." });
      else errors.push({ file: path, message: "There is no such file or folder." });
    } catch (error) {
      // A configuration or an ignore file that cannot be used: which shots are meant is not known then.
      if (error instanceof UnreadableError) throw error;
      errors.push({ file: path, message: reasonOf(error) });
    }
  }
  return { files: [...found.values()], errors };
}

async function notIgnored(shots: readonly string[], { cwd, isIgnored }: DiscoverOptions): Promise<string[]> {
  const kept: string[] = [];
  for (const shot of shots) if ((await isIgnored?.(resolve(cwd, shot))) !== true) kept.push(shot);
  return kept;
}

async function shotsUnder(folder: string, { cwd, ignoreFor }: DiscoverOptions): Promise<string[]> {
  const root = resolve(cwd, folder);
  const ignore = (await ignoreFor?.(root)) ?? [];
  const names = await glob(
    shotExtensions().map((extension) => `**/*${extension}`),
    {
      cwd: root,
      ignore: [...neverLookedInto, ...ignore],
      caseSensitiveMatch: false,
      expandDirectories: false,
    },
  );
  return names.sort().map((name) => join(folder, name));
}

async function shotsMatching(pattern: string, { cwd, ignoreFor }: DiscoverOptions): Promise<string[]> {
  if (!isDynamicPattern(pattern)) return [];
  const ignore = (await ignoreFor?.(cwd)) ?? [];
  const paths = await glob(pattern, { cwd, ignore: [...ignore], absolute: true, expandDirectories: false });
  return paths.sort().map((path) => (isAbsolute(pattern) ? path : relative(cwd, path)));
}
