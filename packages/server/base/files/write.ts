import { randomBytes } from "node:crypto";
import { constants } from "node:fs";
import { access, type FileHandle, link, open, rename } from "node:fs/promises";
import { dirname } from "node:path";
import { codeOf, ExistsError, reasonOf } from "../errors.ts";
import { FileRefusal } from "./bounds.ts";
import { forgetPart, newPart, sweepParts } from "./parts.ts";
import { copyInto, likeTarget, type Target, targetOf } from "./target.ts";

/**
 * A file that appears under its name only once it is whole: it is written beside it as a part, and takes its place.
 * What stood there stays as it was until then; its mode, its owner and the links that lead to it stay for good.
 */
export interface AtomicFile {
  write(content: string | Uint8Array): Promise<void>;
  /** Puts the file in place; where that fails, takes the part away. */
  finish(): Promise<void>;
  /** Takes the part away. */
  abandon(): Promise<void>;
}

export interface WriteOptions {
  /** Whether what stands there may be replaced. */
  readonly force: boolean;
  /** Mode of a file that is new; what the process gives new files if left out. */
  readonly mode?: number;
}

/** So many characters are written to the disk at once: a report comes in many small pieces. */
const bufferLength = 1 << 18;

/** A part has to be new, and no link is followed. */
const flags = constants.O_RDWR | constants.O_CREAT | constants.O_EXCL | (constants.O_NOFOLLOW ?? 0);

/**
 * Starts a file.
 * @throws ExistsError where a file stands there and `force` is false; FileRefusal for what is no plain file; else the
 *   system's error, with the code EISDIR for a folder
 */
export async function startFile(path: string, { force, mode }: WriteOptions): Promise<AtomicFile> {
  const target = await targetOf(path);
  if (!force && target.stats !== null) throw new ExistsError(path);
  const folder = dirname(target.path);
  sweepParts(folder);
  const name = newPart(folder);
  let part: FileHandle;
  try {
    part = await open(name, flags, target.stats === null ? (mode ?? 0o666) : 0o600);
  } catch (error) {
    forgetPart(name);
    throw error;
  }
  let waiting: string[] = [];
  let length = 0;
  const flush = async () => {
    const text = waiting.join("");
    waiting = [];
    length = 0;
    if (text !== "") await part.appendFile(text, "utf8");
  };
  const abandon = async () => {
    await part.close().catch(() => {});
    forgetPart(name);
  };
  return {
    abandon,
    async write(content) {
      if (typeof content !== "string") {
        await flush();
        await part.appendFile(content);
        return;
      }
      waiting.push(content);
      length += content.length;
      if (length >= bufferLength) await flush();
    },
    async finish() {
      try {
        await flush();
        await part.sync();
        if (await likeTarget(part, target)) {
          await part.close();
          await putInPlace(name, target, force);
          await syncFolder(folder);
        } else await copyOver(part, name, target);
      } catch (error) {
        throw codeOf(error) === "EEXIST" ? new ExistsError(path) : error;
      } finally {
        await abandon();
      }
    },
  };
}

/** Writes into the file that stands there. Where that breaks off, what was to be written is kept, and said where. */
async function copyOver(part: FileHandle, name: string, target: Target): Promise<void> {
  try {
    await copyInto(part, target);
  } catch (error) {
    const kept = `${target.path}.unsaved-${randomBytes(4).toString("hex")}`;
    await rename(name, kept);
    throw new FileRefusal(`${reasonOf(error)} What was to be written to it lies whole in ${kept}.`);
  }
}

async function putInPlace(part: string, { path }: Target, force: boolean): Promise<void> {
  if (force) return rename(part, path);
  try {
    // A second name is only given where none stands: what has appeared meanwhile stays.
    await link(part, path);
  } catch (error) {
    if (codeOf(error) === "EEXIST") throw error;
    // Some disks know no second names.
    const stands = await access(path).then(
      () => true,
      () => false,
    );
    if (stands) throw Object.assign(new Error(path), { code: "EEXIST" });
    await rename(part, path);
  }
}

/** The new name is to outlast a loss of power as the content does; where a disk cannot promise it, nothing is amiss. */
async function syncFolder(folder: string): Promise<void> {
  const opened = await open(folder, constants.O_RDONLY).catch(() => null);
  await opened?.sync().catch(() => {});
  await opened?.close().catch(() => {});
}

/** Writes a whole file; see {@link startFile}. */
export async function writeFileWhole(path: string, text: string, options: WriteOptions): Promise<void> {
  const file = await startFile(path, options);
  try {
    await file.write(text);
  } catch (error) {
    await file.abandon();
    throw error;
  }
  await file.finish();
}
