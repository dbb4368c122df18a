import { statSync } from "node:fs";
import { stat } from "node:fs/promises";
import { codeOf, UnreadableError, unreadable } from "../errors.ts";
import { type Bounds, bounds, headLength, refuseHead } from "./bounds.ts";
import { readPlain, readPlainSync } from "./plain.ts";

const emptyFile = "The file is empty. Save or export it again.";

/** How files are reached; handed in, so that faults of a disk can be tested. */
export interface Files {
  /**
   * The bytes of a plain file; nothing else is read, and nothing waits for a writer.
   * @param bounds those of a shot if left out
   */
  read(path: string, bounds?: Bounds): Promise<Uint8Array>;
  /** What stands at a path, where a link leads; null where nothing does. A pipe or a device counts as a file. */
  kind(path: string): Promise<"file" | "folder" | null>;
}

export const diskFiles: Files = {
  read: (path, within = bounds.shot) => readPlain(path, within),
  async kind(path) {
    try {
      return (await stat(path)).isDirectory() ? "folder" : "file";
    } catch (error) {
      const code = codeOf(error);
      if (code === "ENOENT" || code === "ENOTDIR") return null;
      throw error;
    }
  },
};

/** For a thread that has nothing else to do while it waits for the disk, and asking so is faster. */
export const threadFiles: Files = {
  read: async (path, within = bounds.shot) => readPlainSync(path, within),
  async kind(path) {
    const found = statSync(path, { throwIfNoEntry: false });
    return found === undefined ? null : found.isDirectory() ? "folder" : "file";
  },
};

/**
 * The text of a file.
 * @param within bounds of its size; those of a shot if left out
 * @throws UnreadableError for files that are missing, forbidden, no plain files, too large, empty or not text
 */
export async function readText(
  files: Files,
  path: string,
  shown: string,
  within: Bounds = bounds.shot,
): Promise<string> {
  const { text } = await readContent(files, path, shown, { ...within, isText: true });
  if (text === null) throw new UnreadableError(shown, notUtf8);
  return text;
}

const notUtf8 = "The file is not valid UTF-8; save it as UTF-8.";

/**
 * The bytes of a file, and its text where it is that.
 * @param within bounds of its size, and whether it has to be text
 * @returns `text` is null where the bytes are none, which only happens where it need not be
 * @throws UnreadableError as {@link readText} does
 */
export async function readContent(
  files: Files,
  path: string,
  shown: string,
  within: Bounds,
): Promise<{ readonly bytes: Uint8Array; readonly text: string | null }> {
  let bytes: Uint8Array;
  try {
    bytes = await files.read(path, within);
    refuseHead(bytes, within);
  } catch (error) {
    throw unreadable(shown, error);
  }
  if (bytes.length === 0) throw new UnreadableError(shown, emptyFile);
  if (!within.isText && bytes.subarray(0, headLength).includes(0)) return { bytes, text: null };
  let text: string;
  try {
    text = new TextDecoder("utf-8", { fatal: true }).decode(bytes);
  } catch (error) {
    if (codeOf(error) !== "ERR_ENCODING_INVALID_ENCODED_DATA") throw unreadable(shown, error);
    if (!within.isText) return { bytes, text: null };
    throw new UnreadableError(shown, notUtf8);
  }
  if (text.trim() === "") throw new UnreadableError(shown, emptyFile);
  return { bytes, text };
}
