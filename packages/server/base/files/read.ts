import { readFile, stat } from "node:fs/promises";
import { codeOf, UnreadableError, unreadable } from "../errors.ts";

const emptyFile = "The file is empty. Save or export it again.";

/** How files are reached; handed in, so that faults of a disk can be tested. */
export interface Files {
  read(path: string): Promise<Uint8Array>;
  /** What stands at a path; null where nothing does. */
  kind(path: string): Promise<"file" | "folder" | null>;
}

export const diskFiles: Files = {
  read: (path) => readFile(path),
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

/**
 * The text of a file.
 * @throws UnreadableError for files that are missing, forbidden, empty or not text
 */
export async function readText(files: Files, path: string, shown: string): Promise<string> {
  let bytes: Uint8Array;
  try {
    bytes = await files.read(path);
  } catch (error) {
    throw unreadable(shown, error);
  }
  if (bytes.length === 0) throw new UnreadableError(shown, emptyFile);
  if (bytes.subarray(0, 8192).includes(0)) {
    throw new UnreadableError(
      shown,
      "This is a binary file, or text that is not UTF-8; a shot is text in UTF-8.",
    );
  }
  let text: string;
  try {
    text = new TextDecoder("utf-8", { fatal: true }).decode(bytes);
  } catch (error) {
    if (codeOf(error) === "ERR_ENCODING_INVALID_ENCODED_DATA") {
      throw new UnreadableError(shown, "The file is not valid UTF-8; save it as UTF-8.");
    }
    throw unreadable(shown, error);
  }
  if (text.trim() === "") throw new UnreadableError(shown, emptyFile);
  return text;
}
