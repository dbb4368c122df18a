import { spawn } from "node:child_process";
import { exitCodes, UnreadableError } from "../base/errors.ts";
import { roomFor } from "../base/limits.ts";

/** Marks the program that was started anew: if it has not got what it was to have, nor will the next. */
const mark = "KEYSIDE_WITH_ROOM";

/** Runs the command anew, in a program whose objects have room for so many bytes. Gives its exit code. */
export async function runWithRoom(argv: readonly string[], memory: number): Promise<number> {
  const [, script] = process.argv;
  if (script === undefined || process.env[mark] !== undefined) {
    throw new UnreadableError("--memory-limit", "This machine's engine takes no such amount of memory.");
  }
  const child = spawn(
    process.execPath,
    [...process.execArgv, `--max-old-space-size=${roomFor(memory)}`, script, ...argv],
    { stdio: "inherit", env: { ...process.env, [mark]: "1" } },
  );
  // The terminal tells both of Ctrl-C, and whoever sends a signal to this one means the other.
  const signals = ["SIGINT", "SIGTERM", "SIGHUP"] as const;
  const pass = (signal: NodeJS.Signals) => void child.kill(signal);
  for (const signal of signals) process.on(signal, pass);
  return new Promise((resolve, reject) => {
    child.on("error", reject);
    child.on("exit", (code) => {
      for (const signal of signals) process.off(signal, pass);
      resolve(code ?? exitCodes.stopped);
    });
  });
}
