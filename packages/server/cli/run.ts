import { exitCodes, UnreadableError, unexpectedly, WrongUse } from "../base/errors.ts";
import type { CommandIo } from "./command-io.ts";
import { CommanderError, endingOf, programFor } from "./program.ts";

/**
 * Runs the command.
 * @param argv arguments behind the command's name
 * @returns the exit code; errors are said in one line on stderr, never with a stack trace
 */
export async function run(argv: readonly string[], io: CommandIo): Promise<number> {
  let code: number = exitCodes.clean;
  try {
    await programFor(io, (ended) => {
      code = ended;
    }).parseAsync([...argv], { from: "user" });
    return code;
  } catch (error) {
    if (error instanceof CommanderError) {
      const ending = endingOf(error);
      if (ending.reason !== null) io.stderr(`keyside: ${ending.reason}\n`);
      return ending.code;
    }
    if (error instanceof WrongUse) {
      io.stderr(`keyside: ${error.message}\n`);
      return exitCodes.wrongUse;
    }
    const reason = error instanceof UnreadableError ? `${error.file}: ${error.message}` : unexpectedly(error);
    io.stderr(`keyside: ${reason}\n`);
    return exitCodes.unreadable;
  }
}
