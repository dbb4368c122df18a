import { diskFiles, type Files } from "../files/read.ts";

/** What a command has to do with the world outside; handed in, so that commands can be run inside a test. */
export interface Io {
  stdout(text: string): void;
  stderr(text: string): void;
  readonly cwd: string;
  readonly env: Readonly<Record<string, string | undefined>>;
  /** Whether stdout is a terminal, and how many columns it has. */
  readonly isTTY: boolean;
  readonly columns: number;
  readonly files: Files;
}

export function processIo(): Io {
  return {
    stdout: (text) => void process.stdout.write(text),
    stderr: (text) => void process.stderr.write(text),
    cwd: process.cwd(),
    env: process.env,
    isTTY: process.stdout.isTTY === true,
    columns: process.stdout.columns ?? 100,
    files: diskFiles,
  };
}

/** What the command's end says to whoever started it. */
export const exitCodes = {
  /** Nothing found at or above the tier that fails. */
  clean: 0,
  /** Notes at or above the tier that fails, or a broken document. */
  notes: 1,
  /** The command was used in a wrong way; nothing was done. */
  wrongUse: 2,
  /** An input could not be read, or an output not written; whatever could be judged was. */
  unreadable: 3,
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
