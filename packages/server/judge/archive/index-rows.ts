/*
 * A row of an index says of one shot where it stands (a digest of its path and settings), in which state its file was
 * (a digest of size and times), which result is its own (the key that `ResultCache.keyOf` gives), how large the file
 * is, and where in the index file its result lies.
 */

/** Bytes of a row, and where its members begin. */
export const rowSize = 88;
const [stateAt, keyAt, offsetAt, lengthAt, fileSizeAt] = [16, 32, 64, 72, 80];
export const keyBytes = { at: keyAt, count: 32 } as const;

/** What a row says. */
export interface IndexRow {
  /** 16 bytes. */
  readonly place: Uint8Array;
  /** 16 bytes; zeros where the file was too new to be trusted by its times. */
  readonly state: Uint8Array;
  /** 32 bytes. */
  readonly key: Uint8Array;
  /** Bytes of the shot's file. */
  readonly fileSize: number;
  /** Where its result lies in the index file, in bytes. */
  readonly offset: number;
  readonly length: number;
}

/** Writes a row to a place in a buffer. */
export function writeRow(row: IndexRow, out: Buffer, at: number): void {
  out.set(row.place, at);
  out.set(row.state, at + stateAt);
  out.set(row.key, at + keyAt);
  out.writeDoubleLE(row.offset, at + offsetAt);
  out.writeUInt32LE(row.length, at + lengthAt);
  out.writeUInt32LE(0, at + lengthAt + 4);
  out.writeDoubleLE(row.fileSize, at + fileSizeAt);
}

/** The row at a place in a buffer; its digests are views of the buffer. */
export function readRow(from: Buffer, at: number): IndexRow {
  return {
    place: from.subarray(at, at + stateAt),
    state: from.subarray(at + stateAt, at + keyAt),
    key: from.subarray(at + keyAt, at + offsetAt),
    offset: from.readDoubleLE(at + offsetAt),
    length: from.readUInt32LE(at + lengthAt),
    fileSize: from.readDoubleLE(at + fileSizeAt),
  };
}

/** Rows of a table, found by a digest in them. An array of their numbers costs a tenth of what objects would. */
export class RowFinder {
  private readonly table: Buffer;
  private readonly at: number;
  private readonly slots: Int32Array;

  /** @param at where in each row the digest begins; its first four bytes are spread evenly as they are */
  constructor(table: Buffer, at: number) {
    const count = table.length / rowSize;
    let size = 2;
    while (size < 2 * count) size *= 2;
    this.table = table;
    this.at = at;
    this.slots = new Int32Array(size);
    for (let row = 0; row < count; row++) {
      let slot = table.readUInt32LE(row * rowSize + at) & (size - 1);
      while (this.slots[slot] !== 0) slot = (slot + 1) & (size - 1);
      this.slots[slot] = row + 1;
    }
  }

  /** The number of a row that holds a digest; -1 for none. */
  find(digest: Uint8Array): number {
    const { table, slots, at } = this;
    const last = slots.length - 1;
    const [a = 0, b = 0, c = 0, d = 0] = digest;
    let slot = (a | (b << 8) | (c << 16) | (d << 24)) & last;
    for (let taken = slots[slot] as number; taken !== 0; taken = slots[slot] as number) {
      const from = (taken - 1) * rowSize + at;
      if (table.compare(digest, 0, digest.length, from, from + digest.length) === 0) return taken - 1;
      slot = (slot + 1) & last;
    }
    return -1;
  }
}
