import type { Dirent, Stats } from "node:fs";
import { readdir, rm, stat } from "node:fs/promises";
import { join } from "node:path";
import { isPart } from "../../base/files/parts.ts";
import { rowsIn } from "./index-file.ts";
import { indexName, indicesFolder, versionFolder } from "./result-index.ts";

/** What a cache folder holds. */
export interface CacheContents {
  readonly entries: number;
  readonly bytes: number;
}

/** Only these are ever taken away, so that a wrong folder loses nothing. */
const ownFolder = /^results-\d+$/;
const shelf = /^[0-9a-f]{2}$/;
const entry = /^[0-9a-f]{62}\.gz$/;
/** As earlier editions named them. */
const unfinished = /^[0-9a-f]{62}\.gz\.\d+-[0-9a-f]{8}\.part$/;

/** A file that was being written for so long is left over from a run that broke off. */
const leftOver = 60 * 60 * 1000;

/** How much a cache folder holds; nothing where there is none. */
export async function cacheContents(folder: string): Promise<CacheContents> {
  let entries = 0;
  let bytes = 0;
  for await (const { stats, holds } of filesIn(folder)) {
    entries += holds;
    bytes += stats.size;
  }
  return { entries, bytes };
}

/** Takes everything away that runs have kept, and gives how much it was. */
export async function clearCache(folder: string): Promise<CacheContents> {
  return pruneCache(folder, 0);
}

/**
 * Takes away what has been unused longest until the rest is no larger than a number of bytes, and what broken runs
 * have left over. A run that uses an entry meanwhile judges its shot anew.
 */
export async function pruneCache(folder: string, limit: number): Promise<CacheContents> {
  const kept: { path: string; size: number; used: number; holds: number }[] = [];
  let total = 0;
  let entries = 0;
  let bytes = 0;
  const take = async (path: string, size: number, holds: number) => {
    await rm(path, { force: true });
    entries += holds;
    bytes += size;
  };
  for await (const { path, stats, isWhole, holds } of filesIn(folder)) {
    if (!isWhole) {
      if (limit === 0 || Date.now() - stats.mtimeMs > leftOver) await take(path, stats.size, holds);
      continue;
    }
    kept.push({ path, size: stats.size, used: stats.mtimeMs, holds });
    total += stats.size;
  }
  kept.sort((a, b) => a.used - b.used);
  for (const { path, size, holds } of kept) {
    if (total <= limit) break;
    await take(path, size, holds);
    total -= size;
  }
  return { entries, bytes };
}

interface KeptFile {
  readonly path: string;
  readonly stats: Stats;
  readonly isWhole: boolean;
  /** How many results are in it; 1 for what is no whole file, which counts as one. */
  readonly holds: number;
}

async function* filesIn(folder: string): AsyncGenerator<KeptFile> {
  for (const own of await namesIn(folder, ownFolder)) {
    for (const name of await namesIn(join(folder, own), shelf)) {
      const isWhole = (file: string) => entry.test(file);
      yield* filesOn(join(folder, own, name), isWhole, () => 1);
    }
  }
  for (const version of await namesIn(join(folder, indicesFolder), versionFolder)) {
    const isWhole = (file: string) => indexName.test(file);
    yield* filesOn(join(folder, indicesFolder, version), isWhole, resultsIn);
  }
}

async function* filesOn(
  place: string,
  isWholeFile: (name: string) => boolean,
  holding: (path: string) => number,
): AsyncGenerator<KeptFile> {
  for (const file of await namesIn(place, /./)) {
    const isWhole = isWholeFile(file);
    if (!isWhole && !(isPart(file) || unfinished.test(file))) continue;
    const path = join(place, file);
    const stats = await stat(path).catch(() => null);
    if (stats !== null) yield { path, stats, isWhole, holds: isWhole ? holding(path) : 1 };
  }
}

/** How many results an index holds; of a damaged one none is known. */
function resultsIn(path: string): number {
  try {
    return rowsIn(path);
  } catch {
    return 0;
  }
}

async function namesIn(folder: string, kind: RegExp): Promise<string[]> {
  let items: Dirent[];
  try {
    items = await readdir(folder, { withFileTypes: true });
  } catch (error) {
    if ((error as { code?: unknown }).code === "ENOENT") return [];
    throw error;
  }
  return items.map(({ name }) => name).filter((name) => kind.test(name));
}
