import { closeSync, constants, fstatSync, openSync, readSync } from "node:fs";
import { type FileHandle, open } from "node:fs/promises";
import { type Bounds, headLength, refuseHead, refuseKind, refuseSize } from "./bounds.ts";

/**
 * How files are opened. A pipe that nobody writes to, or a device, would hold an ordinary opening up for ever, and some
 * devices act on being opened for a terminal's sake.
 */
const flags = constants.O_RDONLY | (constants.O_NONBLOCK ?? 0) | (constants.O_NOCTTY ?? 0);

/** For what is not read whole. */
export const unbounded = { most: Number.POSITIVE_INFINITY, wayOut: "" };

/**
 * Opens a plain file. The caller closes it.
 * @throws FileRefusal for what is no plain file or too large; else the system's error
 */
export async function openPlain(path: string, bounds: Pick<Bounds, "most" | "wayOut">): Promise<FileHandle> {
  const file = await open(path, flags);
  try {
    refuseKind(await file.stat(), bounds);
    return file;
  } catch (error) {
    await file.close();
    throw error;
  }
}

/** The text of a plain file of any size, piece by piece. Throws as {@link openPlain} does, for what is no plain file. */
export async function streamPlain(path: string): Promise<AsyncIterable<string>> {
  const file = await openPlain(path, unbounded);
  return file.createReadStream({ encoding: "utf8", highWaterMark: 1 << 16 });
}

/** The bytes of a plain file; refused ones are not read. Throws as {@link openPlain} does. */
export async function readPlain(path: string, bounds: Bounds): Promise<Uint8Array> {
  const file = await openPlain(path, bounds);
  try {
    const { size } = await file.stat();
    let bytes = Buffer.allocUnsafe(Math.min(size, headLength) + 1);
    let length = 0;
    for (let isHead = true; ; ) {
      const { bytesRead } = await file.read(bytes, length, bytes.length - length);
      length += bytesRead;
      if (bytesRead === 0) return bytes.subarray(0, length);
      if (length < bytes.length) continue;
      if (isHead) refuseHead(bytes.subarray(0, length), bounds);
      isHead = false;
      bytes = grown(bytes, size, bounds);
    }
  } finally {
    await file.close();
  }
}

/** The same, for a thread that has nothing else to do while it waits for the disk; asking so is faster. */
export function readPlainSync(path: string, bounds: Bounds): Uint8Array {
  const file = openSync(path, flags);
  try {
    const stats = fstatSync(file);
    refuseKind(stats, bounds);
    let bytes = Buffer.allocUnsafe(Math.min(stats.size, headLength) + 1);
    let length = 0;
    for (let isHead = true; ; ) {
      const bytesRead = readSync(file, bytes, length, bytes.length - length, null);
      length += bytesRead;
      if (bytesRead === 0) return bytes.subarray(0, length);
      if (length < bytes.length) continue;
      if (isHead) refuseHead(bytes.subarray(0, length), bounds);
      isHead = false;
      bytes = grown(bytes, stats.size, bounds);
    }
  } finally {
    closeSync(file);
  }
}

/** More room for a file of a known size; it may have grown meanwhile, as far as its bounds allow. */
function grown(bytes: Buffer, size: number, bounds: Bounds): Buffer<ArrayBuffer> {
  refuseSize(bytes.length, bounds);
  const wanted = bytes.length <= size ? size + 1 : Math.min(2 * bytes.length, bounds.most + 1);
  const larger = Buffer.allocUnsafe(wanted);
  bytes.copy(larger);
  return larger;
}
