import { FileRefusal } from "./files/bounds.ts";

/** What the command's end says to whoever started it. */
export const exitCodes = {
  /** Nothing found at or above the tier that fails. */
  clean: 0,
  /** Notes at or above the tier that fails, or a broken document. */
  notes: 1,
  /** The command was used in a wrong way; nothing was done. */
  wrongUse: 2,
  /** An input could not be read, an output not written, or a check failed; whatever could be judged was. */
  unreadable: 3,
  /** The run was stopped before its end; the report holds what had been judged. */
  stopped: 130,
} as const;

/** The command was used in a wrong way; the message is one line. */
export class WrongUse extends Error {
  override readonly name = "WrongUse";
}

/** One line on an error that nobody foresaw. */
export function unexpectedly(error: unknown): string {
  const what = (error instanceof Error ? error.message : String(error)).split("\n")[0];
  return (
    `Keyside itself failed here (${what}). Please report this to its maintainers, with the file, the command and ` +
    "the version that keyside --version names."
  );
}

/** An input that cannot be used. The message says what is wrong and how to fix it, without the file's name. */
export class UnreadableError extends Error {
  override readonly name = "UnreadableError";
  readonly file: string;

  constructor(file: string, message: string) {
    super(message);
    this.file = file;
  }
}

/** A file that says how shots are judged, or which, and cannot be used: whoever wrote it used the command in a wrong way. */
export class FaultySettings extends UnreadableError {}

/** The exit code of an error of one input. */
export function exitCodeOf(error: UnreadableError): 2 | 3 {
  return error instanceof FaultySettings ? exitCodes.wrongUse : exitCodes.unreadable;
}

/** Turns a file system's error into one that a person can act on. */
export function unreadable(file: string, error: unknown): UnreadableError {
  if (error instanceof UnreadableError) return error;
  return new UnreadableError(file, reasonOf(error));
}

/** What went wrong with a file, in words. */
export function reasonOf(error: unknown): string {
  if (error instanceof FileRefusal) return error.message;
  switch (codeOf(error)) {
    case "ENOENT":
    case "ENOTDIR":
      return "There is no such file or folder.";
    case "EACCES":
    case "EPERM":
      return "No permission: ask for the right to use it, or run as someone who has it.";
    case "EISDIR":
      return "This is a folder, not a file.";
    case "ENXIO":
    case "ENODEV":
      return "This is a socket or a device that is not there, not a file.";
    case "ELOOP":
      return "Its links lead round in a circle.";
    case "ENAMETOOLONG":
      return "Its name is longer than the disk takes.";
    case "EMFILE":
    case "ENFILE":
      return "Too many files are open; close other programs and run again.";
    case "ENOSPC":
    case "EDQUOT":
      return "The disk is full.";
    case "EPIPE":
      return "Whoever read it has gone.";
    case "EROFS":
      return "The disk is read-only.";
    case "ERR_FS_FILE_TOO_LARGE":
    case "ERR_STRING_TOO_LONG":
      return "The file is too large to be read whole; split the shot.";
    default:
      return `It cannot be read (${codeOf(error) ?? (error instanceof Error ? error.message : String(error))}).`;
  }
}

/** The code of a system's error, as ENOENT. */
export function codeOf(error: unknown): string | undefined {
  const code = (error as { code?: unknown } | null)?.code;
  return typeof code === "string" ? code : undefined;
}

/** A file that is to be written already stands there. */
export class ExistsError extends Error {
  override readonly name = "ExistsError";
}

/** Why a file could not be written, in words. */
export function unwrittenReason(error: unknown): string {
  const code = (error as { code?: unknown } | null)?.code;
  return code === "ENOENT" || code === "ENOTDIR"
    ? "The folder in which it is to be written does not exist; make it first."
    : reasonOf(error);
}
