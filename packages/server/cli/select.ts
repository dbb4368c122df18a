import { extname, resolve } from "node:path";
import type { FoundConfig } from "../base/config-file.ts";
import { counted } from "../base/counted.ts";
import { reasonOf, WrongUse } from "../base/errors.ts";
import { bounds } from "../base/files/bounds.ts";
import { escapedPath, isPattern } from "../base/files/path-pattern.ts";
import type { Io } from "../base/io.ts";
import { ChangedError, changedSince } from "../judge/archive/changed.ts";
import { discover, noShots } from "../judge/archive/discover.ts";
import { IgnoreFiles } from "../judge/archive/ignore-files.ts";
import { type Input, inputsOf } from "../judge/archive/inputs.ts";
import { inputsIn, type Shard, type ShardKey } from "../judge/archive/shard.ts";
import { extensionOf } from "../judge/shots/readers.ts";

/** Which of the shots under the given paths are meant. */
export interface Selection {
  /** A file that lists paths, or "-" for stdin. */
  readonly filesFrom: string | undefined;
  /** A Git revision since which a shot has changed. */
  readonly changedSince: string | undefined;
  readonly shard: Shard | null;
  readonly shardBy: ShardKey;
}

/** The inputs that are meant, in the order in which they are reported. */
export async function select(
  paths: readonly string[],
  selection: Selection,
  configFor: (folder: string) => Promise<FoundConfig>,
  io: Io,
): Promise<Input[]> {
  const { filesFrom, changedSince: since, shard, shardBy } = selection;
  if (paths.length === 0 && filesFrom === undefined) {
    throw new WrongUse("missing required argument 'path': name files, folders or patterns, or --files-from.");
  }
  const listed = filesFrom === undefined ? [] : pathsIn(await listText(filesFrom, io));
  const { shots, others } = await shotsAmong(listed, io);
  if (others.length > 0) io.stderr(`keyside: ${passedOver(others)}\n`);
  const asked = [...paths, ...shots];
  const ignoreFiles = new IgnoreFiles(io.files);
  const found = await discover(asked, {
    ...io,
    ignoreFor: async (folder) => ignored(await configFor(folder)),
    isIgnored: (path) => ignoreFiles.isIgnored(path),
  });
  for (const folder of found.empty) io.stderr(`keyside: ${folder}: ${noShots()}\n`);
  const files = since === undefined ? found.files : await changedFiles(since, found.files, io);
  const inputs = inputsOf({ files, errors: found.errors });
  return shard === null ? inputs : inputsIn(shard, shardBy, inputs, io.cwd);
}

async function changedFiles(since: string, files: readonly string[], io: Io): Promise<string[]> {
  try {
    return await changedSince(since, files, io.cwd);
  } catch (error) {
    if (error instanceof ChangedError) throw new WrongUse(error.message);
    throw error;
  }
}

async function listText(from: string, io: Io): Promise<string> {
  try {
    if (from === "-") return new TextDecoder().decode(await io.stdin(bounds.list));
    return new TextDecoder().decode(await io.files.read(resolve(io.cwd, from), bounds.list));
  } catch (error) {
    throw new WrongUse(`${from === "-" ? "stdin" : from}: ${reasonOf(error)}`);
  }
}

/**
 * The listed paths that may lead to shots, and the others: a list often comes from a program that knows nothing of
 * shots, such as Git. What has no ending is left to be looked for, so that a misspelt folder is told.
 */
async function shotsAmong(
  listed: readonly string[],
  io: Io,
): Promise<{ readonly shots: readonly string[]; readonly others: readonly string[] }> {
  const shots: string[] = [];
  const others: string[] = [];
  for (const path of listed) ((await isNoShot(path, io)) ? others : shots).push(path);
  return { shots, others };
}

async function isNoShot(path: string, io: Io): Promise<boolean> {
  if (extensionOf(path) !== null) return false;
  try {
    const kind = await io.files.kind(resolve(io.cwd, path));
    return kind === "file" || (kind === null && !isPattern(path) && extname(path) !== "");
  } catch {
    // Looking for it will tell what is wrong.
    return false;
  }
}

/** So many names are told; whoever has a longer list knows what is in it. */
const namesTold = 3;

function passedOver(others: readonly string[]): string {
  const more = others.length - namesTold;
  const names = others.slice(0, namesTold).join(", ");
  const [what, are] = others.length === 1 ? ["no shot", "is"] : ["no shots", "are"];
  return `${counted(others.length, "listed file")} ${are} ${what} and passed over: ${names}${more > 0 ? ` and ${more} more` : ""}.`;
}

/** Paths one a line, or with a NUL character between, as `find -print0` writes them. */
export function pathsIn(list: string): string[] {
  const paths = list.includes("\u0000") ? list.split("\u0000") : list.split(/\r?\n/);
  return paths.filter((path) => path.trim() !== "");
}

/** Patterns of a configuration count from the folder in which it stands. */
function ignored({ config, folder }: FoundConfig): string[] {
  const patterns = config.ignore ?? [];
  return folder === null ? [...patterns] : patterns.map((pattern) => `${escapedPath(folder)}/${pattern}`);
}
