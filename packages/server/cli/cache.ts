import { resolve } from "node:path";
import { exitCodes, reasonOf, UnreadableError, WrongUse } from "../base/errors.ts";
import type { Io } from "../base/io.ts";
import { bytesText } from "../base/size.ts";
import { defaultCacheFolder } from "../judge/archive/cache-folder.ts";
import { type CacheContents, cacheContents, clearCache, pruneCache } from "../judge/archive/tidy-cache.ts";

export interface CacheOptions {
  readonly cache: string | undefined;
  readonly clear: boolean;
  /** Bytes that may stay. */
  readonly prune: number | undefined;
}

/** `keyside cache`: says where results are kept and how much they take, or takes them away. */
export async function cache({ cache: chosen, clear, prune }: CacheOptions, io: Io): Promise<number> {
  if (clear && prune !== undefined) throw new WrongUse("--clear takes everything away; leave out --prune.");
  const folder = chosen === undefined ? defaultCacheFolder(io.env) : resolve(io.cwd, chosen);
  if (folder === null) throw new WrongUse("There is no home folder; name the cache with --cache DIR.");
  try {
    if (clear) io.stdout(`Took away ${sized(await clearCache(folder))} from ${folder}.\n`);
    else if (prune !== undefined)
      io.stdout(`Took away ${sized(await pruneCache(folder, prune))} from ${folder}.\n`);
    else io.stdout(`${folder}: ${sized(await cacheContents(folder))}.\n`);
  } catch (error) {
    throw new UnreadableError(folder, reasonOf(error));
  }
  return exitCodes.clean;
}

function sized({ entries, bytes }: CacheContents): string {
  return `${entries === 1 ? "1 result" : `${entries} results`}, ${bytesText(bytes)}`;
}
