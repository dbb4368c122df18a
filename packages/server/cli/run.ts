import { exitCodes, UnreadableError, unexpectedly, WrongUse } from "../base/errors.ts";
import { pluginsOfRun } from "../base/plugins/find.ts";
import { addedReaders } from "../judge/shots/readers.ts";
import { formatNames } from "../present/report/formats.ts";
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
    const { files, cwd } = io;
    const plugins = await pluginsOfRun({ files, cwd, config: configIn(argv) }, formatNames);
    addedReaders.use(plugins.readers);
    await programFor({ ...io, plugins }, (ended) => {
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

/** The configuration that a command line names: what its options and their values may be hangs on its plug-ins. */
function configIn(argv: readonly string[]): string | undefined {
  const end = argv.indexOf("--");
  const options = end < 0 ? argv : argv.slice(0, end);
  const at = options.findLastIndex((word) => word === "--config" || word.startsWith("--config="));
  if (at < 0) return undefined;
  const [, value = options[at + 1]] = /^--config=(.*)$/s.exec(options[at] ?? "") ?? [];
  return value;
}
