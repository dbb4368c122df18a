import { constants, lstatSync, type Stats, statSync } from "node:fs";
import { type FileHandle, open, realpath } from "node:fs/promises";
import { codeOf } from "../errors.ts";
import { FileRefusal, kindOf } from "./bounds.ts";

/** Where a file is written: what stands there, and where links lead. */
export interface Target {
  /** The file itself, behind all links. */
  readonly path: string;
  /** What stands there; null where nothing does. */
  readonly stats: Stats | null;
}

/**
 * Follows links to the file that is to be written.
 * @throws FileRefusal for links that lead nowhere, pipes and devices; an error with the code EISDIR for a folder
 */
export async function targetOf(path: string): Promise<Target> {
  let real: string;
  try {
    real = await realpath(path);
  } catch (error) {
    if (codeOf(error) !== "ENOENT") throw error;
    if (lstatSync(path, { throwIfNoEntry: false }) !== undefined) {
      throw new FileRefusal("This is a link that leads to no file; name the file itself.");
    }
    return { path, stats: null };
  }
  const stats = statSync(real);
  if (stats.isDirectory()) throw Object.assign(new Error(`${path} is a folder`), { code: "EISDIR" });
  if (!stats.isFile()) throw new FileRefusal(`This is ${kindOf(stats)}, and only files are written.`);
  return { path: real, stats };
}

/** Gives a part the mode and the owner of the file that it replaces. Gives whether it could. */
export async function likeTarget(part: FileHandle, { stats }: Target): Promise<boolean> {
  if (stats === null) return true;
  // Another name of the same file would go on naming what it was.
  if (stats.nlink > 1) return false;
  try {
    const { uid, gid } = await part.stat();
    if (uid !== stats.uid || gid !== stats.gid) await part.chown(stats.uid, stats.gid);
    await part.chmod(stats.mode & 0o7777);
    return true;
  } catch (error) {
    if (codeOf(error) === "EPERM") return false;
    throw error;
  }
}

/**
 * Writes the content of a whole part into the file that stands there: where its owner, or its other names, would be
 * lost if it were replaced.
 */
export async function copyInto(part: FileHandle, { path }: Target): Promise<void> {
  const file = await open(path, constants.O_WRONLY | (constants.O_NOFOLLOW ?? 0));
  try {
    const piece = Buffer.allocUnsafe(1 << 16);
    let at = 0;
    for (;;) {
      const { bytesRead } = await part.read(piece, 0, piece.length, at);
      if (bytesRead === 0) break;
      for (let done = 0; done < bytesRead; ) {
        done += (await file.write(piece, done, bytesRead - done, at + done)).bytesWritten;
      }
      at += bytesRead;
    }
    await file.truncate(at);
    await file.sync();
  } finally {
    await file.close();
  }
}
