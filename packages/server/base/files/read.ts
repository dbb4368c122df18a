import { readFile, stat } from "node:fs/promises";

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

/** An input that cannot be used. The message says what is wrong and how to fix it, without the file's name. */
export class UnreadableError extends Error {
  override readonly name = "UnreadableError";
  readonly file: string;

  constructor(file: string, message: string) {
    super(message);
    this.file = file;
  }
}

/** Turns a file system's error into one that a person can act on. */
export function unreadable(file: string, error: unknown): UnreadableError {
  if (error instanceof UnreadableError) return error;
  return new UnreadableError(file, reasonOf(error));
}

/** What went wrong with a file, in words. */
export function reasonOf(error: unknown): string {
  switch (codeOf(error)) {
    case "ENOENT":
    case "ENOTDIR":
      return "There is no such file or folder.";
    case "EACCES":
    case "EPERM":
      return "No permission: ask for the right to use it, or run as someone who has it.";
    case "EISDIR":
      return "This is a folder, not a file.";
    case "EMFILE":
    case "ENFILE":
      return "Too many files are open; close other programs and run again.";
    case "ENOSPC":
      return "The disk is full.";
    case "EROFS":
      return "The disk is read-only.";
    case "ERR_FS_FILE_TOO_LARGE":
    case "ERR_STRING_TOO_LONG":
      return "The file is too large to be read whole; split the shot.";
    default:
      return `It cannot be read (${codeOf(error) ?? (error instanceof Error ? error.message : String(error))}).`;
  }
}

function codeOf(error: unknown): string | undefined {
  const code = (error as { code?: unknown } | null)?.code;
  return typeof code === "string" ? code : undefined;
}

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
