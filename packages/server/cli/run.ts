import { exitCodeOf, exitCodes, UnreadableError, unexpectedly, WrongUse } from "../base/errors.ts";
import { readLogOf } from "../base/files/read-log.ts";
import { WasStopped } from "../base/guard.ts";
import { NeedsRoom } from "../base/limits.ts";
import { pluginsOfRun } from "../base/plugins/find.ts";
import { addedAdapters } from "../judge/shots/readers.ts";
import { formatNames } from "../present/report/formats.ts";
import { plainLine } from "../present/text/plain.ts";
import type { CommandIo } from "./command-io.ts";
import { CommanderError, endingOf, programFor } from "./program.ts";

/**
 * Runs the command.
 * @param argv arguments behind the command's name
 * @returns the exit code; errors are said in one line on stderr, never with a stack trace
 */
export async function run(argv: readonly string[], given: CommandIo): Promise<number> {
  // What is said on stderr is one line each; a name in it must not look like another, nor act on a terminal.
  const stderr = (text: string) => given.stderr(text.startsWith("keyside: ") ? plainLine(text) : text);
  const io = { ...given, stderr };
  let failure: unknown = null;
  let code: number;
  try {
    code = await ranTo(argv, io);
  } catch (error) {
    failure = error;
    code = error instanceof NeedsRoom ? await withRoom(argv, error, io) : told(error, io);
  }
  try {
    await io.stdoutTaken();
  } catch (error) {
    // What was to be told has been lost, whatever it was.
    if (error !== failure) told(error, io);
    return exitCodes.unreadable;
  }
  return code;
}

async function ranTo(argv: readonly string[], io: CommandIo): Promise<number> {
  const { files, hasRead, add } = readLogOf(io.files);
  const plugins = await pluginsOfRun({ files, cwd: io.cwd, config: configIn(argv) }, formatNames);
  for (const path of plugins.files) add(path);
  addedAdapters.use(plugins.adapters);
  let code: number = exitCodes.clean;
  await programFor({ ...io, files, hasRead, plugins }, (ended) => {
    code = ended;
  }).parseAsync([...argv], { from: "user" });
  return code;
}

async function withRoom(argv: readonly string[], { memory }: NeedsRoom, io: CommandIo): Promise<number> {
  try {
    return await io.runWithRoom(argv, memory);
  } catch (error) {
    return told(error, io);
  }
}

/** Says an error in one line. Gives the exit code. */
function told(error: unknown, io: CommandIo): number {
  if (error instanceof CommanderError) {
    const ending = endingOf(error);
    if (ending.reason !== null) io.stderr(`keyside: ${ending.reason}\n`);
    return ending.code;
  }
  if (error instanceof WrongUse) {
    io.stderr(`keyside: ${error.message}\n`);
    return exitCodes.wrongUse;
  }
  // Told by its name: loading what it comes from would slow the start of every command.
  if (error instanceof Error && error.name === "ConfigError") {
    io.stderr(`keyside: ${error.message.replaceAll("\n", "; ")}\n`);
    return exitCodes.wrongUse;
  }
  if (error instanceof WasStopped) {
    io.stderr("keyside: Stopped; nothing was written.\n");
    return exitCodes.stopped;
  }
  if (error instanceof UnreadableError) {
    io.stderr(`keyside: ${error.file}: ${error.message}\n`);
    return exitCodeOf(error);
  }
  io.stderr(`keyside: ${unexpectedly(error)}\n`);
  return exitCodes.unreadable;
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
