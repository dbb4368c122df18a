import type { Dirent, Stats } from "node:fs";
import { readdir, rm, stat } from "node:fs/promises";
import { join } from "node:path";
import { isPart } from "../../base/files/parts.ts";

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
  for await (const { stats } of filesIn(folder)) {
    entries++;
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
  const kept: { readonly path: string; readonly size: number; readonly used: number }[] = [];
  let total = 0;
  let entries = 0;
  let bytes = 0;
  const take = async (path: string, size: number) => {
    await rm(path, { force: true });
    entries++;
    bytes += size;
  };
  for await (const { path, stats, isWhole } of filesIn(folder)) {
    if (!isWhole) {
      if (limit === 0 || Date.now() - stats.mtimeMs > leftOver) await take(path, stats.size);
      continue;
    }
    kept.push({ path, size: stats.size, used: stats.mtimeMs });
    total += stats.size;
  }
  kept.sort((a, b) => a.used - b.used);
  for (const { path, size } of kept) {
    if (total <= limit) break;
    await take(path, size);
    total -= size;
  }
  return { entries, bytes };
}

async function* filesIn(
  folder: string,
): AsyncGenerator<{ readonly path: string; readonly stats: Stats; readonly isWhole: boolean }> {
  for (const own of await namesIn(folder, ownFolder)) {
    for (const name of await namesIn(join(folder, own), shelf)) {
      const shelfPath = join(folder, own, name);
      for (const file of await namesIn(shelfPath, /./)) {
        const isWhole = entry.test(file);
        if (!isWhole && !(isPart(file) || unfinished.test(file))) continue;
        const path = join(shelfPath, file);
        const stats = await stat(path).catch(() => null);
        if (stats !== null) yield { path, stats, isWhole };
      }
    }
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
