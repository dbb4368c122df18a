import { realpathSync } from "node:fs";
import { isAbsolute, join, relative, resolve, sep } from "node:path";
import { reasonOf, UnreadableError } from "../../base/errors.ts";
import { isPattern, type PathPattern, PatternError, pathPattern } from "../../base/files/path-pattern.ts";
import type { Files } from "../../base/files/read.ts";
import { extensionOf, shotExtensions } from "../shots/readers.ts";
import { filesUnder } from "./walk.ts";

export interface InputError {
  readonly file: string;
  readonly message: string;
  /** Whether it is a configuration or an ignore file that is at fault: which shots are meant is not known then. */
  readonly isWrongUse?: true;
}

/** Files in which shots stand, as they are shown: relative where they were given so. */
export interface Discovered {
  readonly files: readonly string[];
  readonly errors: readonly InputError[];
  /** Folders that hold no shot that is meant: a new show has none yet, which is no error. */
  readonly empty: readonly string[];
}

/** What is said of a folder without shots. */
export function noShots(): string {
  return `The folder holds no shots (${shotExtensions().join(", ")}).`;
}

export interface DiscoverOptions {
  readonly cwd: string;
  readonly files: Files;
  /** Absolute glob patterns of files that a folder, or a pattern started there, leaves out. */
  ignoreFor?(folder: string): Promise<readonly string[]>;
  /** Whether a folder, or a pattern, leaves out a file, given by its absolute path. */
  isIgnored?(path: string): Promise<boolean>;
}

/** Folders that a walk through a folder does not look into. */
const neverLookedInto = /^(node_modules$|\.)/;

/**
 * Finds the shots that were asked for: files as they are given, folders with all that is under them, glob patterns.
 * A file that is named twice, also through links, is listed once, by its own name where that is among them; folders and
 * patterns list theirs in the order of their names.
 */
export async function discover(paths: readonly string[], options: DiscoverOptions): Promise<Discovered> {
  const found = new Map<string, string>();
  const errors: InputError[] = [];
  const empty: string[] = [];
  const add = (shown: string) => {
    const path = resolve(options.cwd, shown);
    const real = realOf(path);
    if (!found.has(real) || (real === path && resolve(options.cwd, found.get(real) ?? "") !== path)) {
      found.set(real, shown);
    }
  };
  for (const path of paths) {
    try {
      const kind = await options.files.kind(resolve(options.cwd, path));
      if (kind === "file") {
        add(path);
        continue;
      }
      const failed = (folder: string, error: unknown) =>
        errors.push({ file: folder === "" ? "." : folder, message: reasonOf(error) });
      const all =
        kind === "folder"
          ? await shotsUnder(path, options, failed)
          : await shotsMatching(path, options, failed);
      const shots = await notIgnored(all, options);
      for (const shot of shots) add(shot);
      if (shots.length > 0) continue;
      if (kind === "folder") empty.push(path);
      else if (isPattern(path)) errors.push({ file: path, message: "No file matches this pattern." });
      else errors.push({ file: path, message: "There is no such file or folder." });
    } catch (error) {
      if (error instanceof UnreadableError) {
        const { file, message } = error;
        // Several folders may have it above them.
        if (!errors.some((other) => other.file === file)) errors.push({ file, message, isWrongUse: true });
        continue;
      }
      errors.push({ file: path, message: error instanceof PatternError ? error.message : reasonOf(error) });
    }
  }
  return { files: [...found.values()], errors, empty };
}

async function notIgnored(shots: readonly string[], { cwd, isIgnored }: DiscoverOptions): Promise<string[]> {
  const kept: string[] = [];
  for (const shot of shots) if ((await isIgnored?.(resolve(cwd, shot))) !== true) kept.push(shot);
  return kept;
}

type Failed = (folder: string, error: unknown) => void;

async function shotsUnder(
  folder: string,
  { cwd, ignoreFor }: DiscoverOptions,
  failed: Failed,
): Promise<string[]> {
  const root = resolve(cwd, folder);
  const isLeftOut = leftOut(root, (await ignoreFor?.(root)) ?? []);
  const names = await filesUnder(root, {
    enters: (path) => !neverLookedInto.test(path.slice(path.lastIndexOf("/") + 1)) && !isLeftOut(`${path}/`),
    wants: (path) => !/(^|\/)\./.test(path) && extensionOf(path) !== null && !isLeftOut(path),
    failed: (below, error) => failed(join(folder, below), error),
  });
  return names.map((name) => join(folder, name));
}

async function shotsMatching(
  pattern: string,
  { cwd, ignoreFor }: DiscoverOptions,
  failed: Failed,
): Promise<string[]> {
  if (!isPattern(pattern)) return [];
  const { base, rest } = cutAtWildcard(pattern);
  const root = resolve(cwd, base);
  const meant = pathPattern(rest, { dots: false, ignoresCase: false });
  const isLeftOut = leftOut(root, (await ignoreFor?.(cwd)) ?? []);
  const names = await filesUnder(root, {
    enters: (path) => meant.mayBegin(`${path}/`) && !isLeftOut(`${path}/`),
    wants: (path) => meant.matches(path) && !isLeftOut(path),
    failed: (below, error) => {
      // A pattern that names no folder that there is matches nothing.
      if (below !== "") failed(join(base, below), error);
    },
  });
  const paths = names.map((name) => join(root, name));
  return paths.map((path) => (isAbsolute(pattern) ? path : relative(cwd, path)));
}

/** Whether patterns, which are absolute, leave out a path that counts from a folder; folders end with a slash. */
function leftOut(root: string, patterns: readonly string[]): (path: string) => boolean {
  const all: PathPattern[] = patterns.map((pattern) => {
    try {
      return pathPattern(pattern, { dots: true, ignoresCase: true });
    } catch (error) {
      if (error instanceof PatternError) throw new UnreadableError(pattern, error.message);
      throw error;
    }
  });
  const start = root.split(sep).join("/").replace(/\/?$/, "/");
  return (path) => all.some((pattern) => pattern.matches(`${start}${path}`));
}

/** The folder in which a pattern begins to mean more than itself, and the pattern from there. */
function cutAtWildcard(pattern: string): { readonly base: string; readonly rest: string } {
  const names = pattern.split("/");
  let plain = 0;
  while (plain < names.length - 1 && !isPattern(names[plain] as string)) plain++;
  const base = names.slice(0, plain).join("/").replace(/\\(.)/g, "$1");
  return { base: plain === 0 ? "." : base === "" ? "/" : base, rest: names.slice(plain).join("/") };
}

/** Where links lead; the path itself where they lead nowhere. */
function realOf(path: string): string {
  try {
    return realpathSync(path);
  } catch {
    return path;
  }
}
