import { hash, timingSafeEqual } from "node:crypto";
import { closeSync, fstatSync, openSync, readSync, renameSync, writeSync } from "node:fs";
import { forgetPart, newPart } from "../../base/files/parts.ts";
import { type IndexRow, keyBytes, RowFinder, readRow, rowSize, writeRow } from "./index-rows.ts";
import { largestResult } from "./packed-result.ts";

/*
 * An index file: results one behind the other, the table of its rows in the order of their keys, and an end that tells
 * where the table begins. It is written once and never changed.
 */

const mark = "keyside index 1\n";
/** Bytes of the end: where the table begins, how many rows it has, when it was made, its digest, the mark. */
const endSize = 8 + 8 + 8 + 32 + mark.length;
/** No table is believed that says to have more rows. */
export const mostRows = 20_000_000;

/** An index file that is not what it should be. */
export class DamagedIndex extends Error {
  override readonly name = "DamagedIndex";
}

interface End {
  readonly tableAt: number;
  readonly rows: number;
  readonly made: number;
  readonly digest: Uint8Array;
}

function readAt(file: number, at: number, length: number): Buffer {
  const bytes = Buffer.allocUnsafe(length);
  let read = 0;
  while (read < length) {
    const more = readSync(file, bytes, read, length - read, at + read);
    if (more === 0) throw new DamagedIndex();
    read += more;
  }
  return bytes;
}

function endOf(file: number): End {
  const { size } = fstatSync(file);
  if (size < mark.length + endSize) throw new DamagedIndex();
  const end = readAt(file, size - endSize, endSize);
  const tableAt = end.readDoubleLE(0);
  const rows = end.readDoubleLE(8);
  const fits = Number.isSafeInteger(rows) && rows >= 0 && rows <= mostRows;
  if (!fits || tableAt !== size - endSize - rows * rowSize || end.toString("latin1", 56) !== mark) {
    throw new DamagedIndex();
  }
  return { tableAt, rows, made: end.readDoubleLE(16), digest: end.subarray(24, 56) };
}

/** How many results an index file says to hold. Throws the system's error, or DamagedIndex. */
export function rowsIn(path: string): number {
  const file = openSync(path, "r");
  try {
    return endOf(file).rows;
  } finally {
    closeSync(file);
  }
}

/** The packed result of a key in an index file, whose table is not read for it; null for none. Throws as {@link rowsIn}. */
export function packedIn(path: string, key: Uint8Array): Uint8Array | null {
  const file = openSync(path, "r");
  try {
    const { tableAt, rows } = endOf(file);
    let [low, high] = [0, rows];
    while (low < high) {
      const middle = (low + high) >> 1;
      const row = readRow(readAt(file, tableAt + middle * rowSize, rowSize), 0);
      const order = Buffer.compare(row.key, key);
      if (order === 0) return resultAt(file, row, tableAt);
      if (order < 0) low = middle + 1;
      else high = middle;
    }
    return null;
  } finally {
    closeSync(file);
  }
}

function resultAt(file: number, { offset, length }: IndexRow, tableAt: number): Uint8Array | null {
  if (length > largestResult || !(offset >= mark.length && offset + length <= tableAt)) return null;
  return readAt(file, offset, length);
}

/** An index file that is open, with its table in memory. */
export class IndexFile {
  readonly path: string;
  readonly rows: number;
  /** When it was made, in milliseconds since 1970. */
  readonly made: number;
  private readonly file: number;
  private readonly tableAt: number;
  private readonly table: Buffer;
  private readonly byPlace: RowFinder;
  private readonly byKey: RowFinder;

  /** @throws DamagedIndex; else the system's error */
  constructor(path: string) {
    this.path = path;
    this.file = openSync(path, "r");
    try {
      const end = endOf(this.file);
      this.table = readAt(this.file, end.tableAt, end.rows * rowSize);
      if (!timingSafeEqual(hash("sha256", this.table, "buffer"), end.digest)) throw new DamagedIndex();
      ({ tableAt: this.tableAt, rows: this.rows, made: this.made } = end);
      this.byPlace = new RowFinder(this.table, 0);
      this.byKey = new RowFinder(this.table, keyBytes.at);
    } catch (error) {
      closeSync(this.file);
      throw error;
    }
  }

  /** Every row, in the order of the keys. */
  *all(): Generator<IndexRow> {
    for (let row = 0; row < this.rows; row++) yield readRow(this.table, row * rowSize);
  }

  at(place: Uint8Array): IndexRow | null {
    const row = this.byPlace.find(place);
    return row < 0 ? null : readRow(this.table, row * rowSize);
  }

  of(key: Uint8Array): IndexRow | null {
    const row = this.byKey.find(key);
    return row < 0 ? null : readRow(this.table, row * rowSize);
  }

  /** The packed result of a row; null where it cannot be read. */
  result(row: IndexRow): Uint8Array | null {
    try {
      return resultAt(this.file, row, this.tableAt);
    } catch {
      return null;
    }
  }

  close(): void {
    closeSync(this.file);
  }
}

/** Bytes that are gathered before they are written. */
const gathered = 1 << 20;

/** Writes an index file under another name, and gives it its own once it is whole. */
export class IndexWriter {
  private readonly part: string;
  private readonly path: string;
  private readonly file: number;
  private readonly rows: IndexRow[] = [];
  private waiting: Uint8Array[] = [];
  private waitingSize = 0;
  private at = 0;

  /** @throws the system's error */
  constructor(folder: string, path: string) {
    this.part = newPart(folder);
    this.path = path;
    this.file = openSync(this.part, "wx");
    this.put(Buffer.from(mark, "latin1"));
  }

  get count(): number {
    return this.rows.length;
  }

  /** @throws the system's error */
  add(row: Omit<IndexRow, "offset" | "length">, packed: Uint8Array): void {
    this.rows.push({
      // Copies: what is handed in may be a view of a table that goes.
      ...{ place: row.place.slice(), state: row.state.slice(), key: row.key.slice(), fileSize: row.fileSize },
      ...{ offset: this.at, length: packed.length },
    });
    this.put(packed);
  }

  /**
   * Gives the path of the file.
   * @throws the system's error
   */
  finish(): string {
    this.rows.sort((a, b) => Buffer.compare(a.key, b.key) || a.offset - b.offset);
    const table = Buffer.alloc(this.rows.length * rowSize);
    for (const [i, row] of this.rows.entries()) writeRow(row, table, i * rowSize);
    const end = Buffer.alloc(endSize);
    end.writeDoubleLE(this.at, 0);
    end.writeDoubleLE(this.rows.length, 8);
    end.writeDoubleLE(Date.now(), 16);
    end.set(hash("sha256", table, "buffer"), 24);
    end.write(mark, 56, "latin1");
    this.put(table);
    this.put(end);
    this.flush();
    closeSync(this.file);
    renameSync(this.part, this.path);
    forgetPart(this.part);
    return this.path;
  }

  /** Leaves nothing behind. */
  abandon(): void {
    try {
      closeSync(this.file);
    } catch {
      // It may be closed already.
    }
    forgetPart(this.part);
  }

  private put(bytes: Uint8Array): void {
    this.waiting.push(bytes);
    this.waitingSize += bytes.length;
    this.at += bytes.length;
    if (this.waitingSize >= gathered) this.flush();
  }

  private flush(): void {
    const bytes = Buffer.concat(this.waiting);
    this.waiting = [];
    this.waitingSize = 0;
    for (let written = 0; written < bytes.length; ) {
      written += writeSync(this.file, bytes, written, bytes.length - written);
    }
  }
}
