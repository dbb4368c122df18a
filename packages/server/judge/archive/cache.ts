import { hash } from "node:crypto";
import { renameSync, statSync, utimesSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { reasonOf } from "../../base/errors.ts";
import type { Bounds } from "../../base/files/bounds.ts";
import { makeFolder } from "../../base/files/folder.ts";
import { forgetPart, newPart, sweepParts } from "../../base/files/parts.ts";
import { readPlainSync } from "../../base/files/plain.ts";
import type { CachePlace, ShotTask } from "./judges.ts";
import { largestResult, packedResult, unpackedResult } from "./packed-result.ts";
import { indexedResult } from "./result-index.ts";

/** Folder of the entries inside the cache folder; its number changes with the form of the entries. */
export const entriesFolder = "results-1";

/** An entry that is used is marked so once a day: tidying takes the longest unused first. */
const markAfter = 24 * 60 * 60 * 1000;

const entryBounds: Bounds = { most: largestResult, wayOut: "", isText: false };

/**
 * Results by the content of the shot, its settings and the version of the tool.
 *
 * An entry is one file: its own key and the result, compressed; the compression's checksum tells a damaged one, which
 * counts as none and is written again. Entries are written under another name and renamed, and two runs that write
 * the same entry write the same bytes, so that any number of runs may share a folder. Files are reached without
 * waiting on other work: this runs in worker threads, which have none.
 */
export class ResultCache {
  private readonly folder: string;
  private readonly stamp: string;
  private readonly indices: CachePlace | null;
  private readonly swept = new Set<string>();

  /** @param looksInIndices whether results that a run over many shots has kept are found too, one at a time */
  constructor(place: CachePlace, looksInIndices = false) {
    const { folder, stamp } = place;
    this.indices = looksInIndices ? place : null;
    this.folder = join(folder, entriesFolder);
    this.stamp = stamp;
  }

  /** The key of a shot's result: 64 hexadecimal digits. */
  keyOf({ kind, settings }: Pick<ShotTask, "kind" | "settings">, bytes: Uint8Array): string {
    const content = hash("sha256", bytes);
    return hash("sha256", JSON.stringify([this.stamp, kind, settings, content]));
  }

  /** What was kept under a key; null where nothing was, or where it is damaged. */
  get(key: string): string | null {
    return this.entry(key) ?? (this.indices === null ? null : indexedResult(this.indices, key));
  }

  private entry(key: string): string | null {
    try {
      const path = this.pathOf(key);
      const text = unpackedResult(key, readPlainSync(path, entryBounds));
      if (text !== null) this.mark(path);
      return text;
    } catch {
      return null;
    }
  }

  private mark(path: string): void {
    try {
      const now = new Date();
      if (now.getTime() - statSync(path).mtimeMs > markAfter) utimesSync(path, now, now);
    } catch {
      // A cache that may only be read serves all the same.
    }
  }

  /** Keeps a result. Gives the reason where it cannot be kept, null where it is. */
  put(key: string, text: string): string | null {
    const path = this.pathOf(key);
    const folder = dirname(path);
    const part = newPart(folder);
    try {
      makeFolder(folder);
      if (!this.swept.has(folder)) sweepParts(folder);
      this.swept.add(folder);
      writeFileSync(part, packedResult(key, text), { flag: "wx" });
      renameSync(part, path);
      return null;
    } catch (error) {
      return reasonOf(error);
    } finally {
      discard(part);
    }
  }

  private pathOf(key: string): string {
    return join(this.folder, key.slice(0, 2), `${key.slice(2)}.gz`);
  }
}

function discard(path: string): void {
  try {
    forgetPart(path);
  } catch {
    // Where it could not be written there is nothing to take away.
  }
}
