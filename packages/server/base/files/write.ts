import { constants } from "node:fs";
import { access, type FileHandle, open, rename, rm, stat } from "node:fs/promises";
import { basename, dirname, join } from "node:path";
import { ExistsError } from "../errors.ts";

/**
 * A file that appears under its name only once it is whole: it is written beside it under a temporary name and
 * renamed. What stood there stays as it was until then.
 */
export interface AtomicFile {
  write(text: string): Promise<void>;
  /** Puts the file in place. */
  finish(): Promise<void>;
  /** Takes the temporary file away. */
  abandon(): Promise<void>;
}

/** So many characters are written to the disk at once: a report comes in many small pieces. */
const bufferLength = 1 << 18;

/**
 * Starts a file.
 * @throws ExistsError where a file stands there and `force` is false; an error with the code EISDIR for a folder
 */
export async function startFile(path: string, force: boolean): Promise<AtomicFile> {
  if (await isFolder(path)) throw Object.assign(new Error(`${path} is a folder`), { code: "EISDIR" });
  if (!force && (await exists(path))) throw new ExistsError(path);
  const temporary = join(dirname(path), `.${basename(path)}.${process.pid}.part`);
  const handle: FileHandle = await open(temporary, "w");
  let waiting: string[] = [];
  let length = 0;
  const flush = async () => {
    const text = waiting.join("");
    waiting = [];
    length = 0;
    if (text !== "") await handle.appendFile(text, "utf8");
  };
  return {
    async write(text) {
      waiting.push(text);
      length += text.length;
      if (length >= bufferLength) await flush();
    },
    async finish() {
      await flush();
      await handle.sync();
      await handle.close();
      try {
        if (!force && (await exists(path))) throw new ExistsError(path);
        await rename(temporary, path);
      } catch (error) {
        await rm(temporary, { force: true });
        throw error;
      }
    },
    async abandon() {
      await handle.close();
      await rm(temporary, { force: true });
    },
  };
}

/** Writes a whole file; see {@link startFile}. */
export async function writeFileWhole(path: string, text: string, force: boolean): Promise<void> {
  const file = await startFile(path, force);
  try {
    await file.write(text);
  } catch (error) {
    await file.abandon();
    throw error;
  }
  await file.finish();
}

async function isFolder(path: string): Promise<boolean> {
  try {
    return (await stat(path)).isDirectory();
  } catch {
    // Whether nothing is there, or nothing can be known of it, shows when the file is opened.
    return false;
  }
}

async function exists(path: string): Promise<boolean> {
  try {
    await access(path, constants.F_OK);
    return true;
  } catch {
    return false;
  }
}
