import { hash, randomBytes } from "node:crypto";
import { readdirSync, rmSync, statSync, utimesSync } from "node:fs";
import { join } from "node:path";
import { codeOf, reasonOf } from "../../base/errors.ts";
import { makeFolder } from "../../base/files/folder.ts";
import { sweepParts } from "../../base/files/parts.ts";
import { DamagedIndex, IndexFile, IndexWriter, mostRows, packedIn } from "./index-file.ts";
import type { IndexRow } from "./index-rows.ts";
import type { CachePlace } from "./judges.ts";
import { unpackedResult } from "./packed-result.ts";

/** Folder of the indices inside the cache folder; its number changes with their form. */
export const indicesFolder = "index-1";
/** Names of the folder of one version of the program in it, and of an index file there. */
export const versionFolder = /^[0-9a-f]{32}$/;
export const indexName = /^[0-9a-f]{24}\.index$/;

/** With more files than this, one is made of all. */
const mostFiles = 8;
/** A run saves what it has after a minute, and then after twice as long each time: what is killed loses the rest. */
const firstSave = 60_000;
/** An index file that is used is marked so once a day: tidying takes the longest unused first. */
const markAfter = 24 * 60 * 60 * 1000;

/** Where the indices of one version of the program lie. */
export function indexFolderOf({ folder, stamp }: CachePlace): string {
  return join(folder, indicesFolder, hash("sha256", stamp).slice(0, 32));
}

function indexPaths(folder: string): string[] {
  try {
    return readdirSync(folder)
      .filter((name) => indexName.test(name))
      .map((name) => join(folder, name));
  } catch {
    return [];
  }
}

/** The result of a key in any index, for a run that asks for one alone; null for none. */
export function indexedResult(place: CachePlace, key: string): string | null {
  for (const path of indexPaths(indexFolderOf(place))) {
    try {
      const packed = packedIn(path, Buffer.from(key, "hex"));
      const text = packed === null ? null : unpackedResult(key, packed);
      if (text !== null) return text;
    } catch {
      // A run over many shots says so, and puts it right.
    }
  }
  return null;
}

/**
 * Results of many shots in few files, with what tells without reading a shot whether it is the one that was judged.
 *
 * Every run writes a file of its own, under another name until it is whole; files are never changed, and one is made of
 * many now and then. Any number of runs may therefore share a folder: the worst that comes of it is that a result lies
 * in two files. A damaged file counts as none, is said and is taken away.
 */
export class ResultIndex {
  private readonly folder: string;
  private readonly files: IndexFile[] = [];
  private readonly sizes = new Set<number>();
  private writer: IndexWriter | null = null;
  private saveAt = 0;
  private saveAfter = firstSave;
  /** Why nothing can be kept; null where it can. */
  unkept: string | null = null;

  /** @param onDamage told of each file that is damaged */
  constructor(place: CachePlace, onDamage: (path: string) => void) {
    this.folder = indexFolderOf(place);
    for (const path of indexPaths(this.folder)) this.open(path, onDamage);
    this.files.sort((a, b) => b.made - a.made);
  }

  private open(path: string, onDamage: (path: string) => void): void {
    try {
      const file = new IndexFile(path);
      this.files.push(file);
      for (const { fileSize } of file.all()) this.sizes.add(fileSize);
      markUsed(path);
    } catch (error) {
      // Another run may have made one of many meanwhile.
      if (!(error instanceof DamagedIndex)) return;
      onDamage(path);
      remove(path);
    }
  }

  /** Whether a shot whose file has so many bytes may be known: else there is no need to read it. */
  mayKnow(fileSize: number): boolean {
    return this.sizes.has(fileSize);
  }

  /** The key and the result that a place had when its file was in a state; null for none. */
  inState(place: Uint8Array, state: Uint8Array): { readonly key: string; readonly text: string } | null {
    for (const file of this.files) {
      const row = file.at(place);
      if (row === null || Buffer.compare(row.state, state) !== 0) continue;
      const text = textOf(file, row);
      if (text !== null) return { key: hexOf(row.key), text };
    }
    return null;
  }

  /** The result of a key, as text and packed; null for none. */
  result(key: string): { readonly text: string; readonly packed: Uint8Array } | null {
    const bytes = Buffer.from(key, "hex");
    for (const file of this.files) {
      const row = file.of(bytes);
      const packed = row === null ? null : file.result(row);
      const text = packed === null ? null : unpackedResult(key, packed);
      if (packed !== null && text !== null) return { text, packed };
    }
    return null;
  }

  /** Whether a place is known in a state under a key, so that nothing is new. */
  knows(place: Uint8Array, state: Uint8Array, key: string): boolean {
    return this.files.some((file) => {
      const row = file.at(place);
      return row !== null && Buffer.compare(row.state, state) === 0 && hexOf(row.key) === key;
    });
  }

  /** Keeps a result. */
  add(
    { key, ...row }: Omit<IndexRow, "offset" | "length" | "key"> & { readonly key: string },
    packed: Uint8Array,
  ): void {
    if (this.unkept !== null) return;
    this.try(() => {
      if (this.writer === null) {
        makeFolder(this.folder);
        sweepParts(this.folder);
        this.writer = this.newWriter();
        this.saveAt = performance.now() + this.saveAfter;
      }
      this.writer.add({ ...row, key: Buffer.from(key, "hex") }, packed);
      if (performance.now() < this.saveAt) return;
      this.saveAfter *= 2;
      this.save();
    });
  }

  /** Saves what is new, and closes the files. */
  close(): void {
    this.try(() => {
      this.save();
      const rows = this.files.reduce((sum, file) => sum + file.rows, 0);
      if (this.files.length > mostFiles && rows <= mostRows) this.merge();
    });
    for (const file of this.files.splice(0)) file.close();
  }

  private try(work: () => void): void {
    try {
      work();
    } catch (error) {
      this.unkept = reasonOf(error);
      this.writer?.abandon();
      this.writer = null;
    }
  }

  private newWriter(): IndexWriter {
    return new IndexWriter(this.folder, join(this.folder, `${randomBytes(12).toString("hex")}.index`));
  }

  private save(): void {
    const { writer } = this;
    if (writer === null) return;
    const path = writer.finish();
    this.writer = null;
    this.files.unshift(new IndexFile(path));
  }

  /** Makes one file of all. Of a place, what was judged last stays. */
  private merge(): void {
    const writer = this.newWriter();
    this.writer = writer;
    const placed = new Set<string>();
    for (const file of this.files) {
      for (const row of file.all()) {
        const place = hexOf(row.place);
        if (placed.has(place)) continue;
        const packed = file.result(row);
        if (packed === null) continue;
        placed.add(place);
        writer.add(row, packed);
      }
    }
    const path = writer.finish();
    this.writer = null;
    for (const { path: old } of this.files) if (old !== path) remove(old);
  }
}

function textOf(file: IndexFile, row: IndexRow): string | null {
  const packed = file.result(row);
  return packed === null ? null : unpackedResult(hexOf(row.key), packed);
}

function hexOf(bytes: Uint8Array): string {
  return Buffer.from(bytes.buffer, bytes.byteOffset, bytes.length).toString("hex");
}

function markUsed(path: string): void {
  try {
    const now = new Date();
    if (now.getTime() - statSync(path).mtimeMs > markAfter) utimesSync(path, now, now);
  } catch {
    // A cache that may only be read serves all the same.
  }
}

function remove(path: string): void {
  try {
    rmSync(path, { force: true });
  } catch (error) {
    // A cache that may only be read stays as it is.
    if (codeOf(error) === undefined) throw error;
  }
}
