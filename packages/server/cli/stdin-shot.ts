import { resolve } from "node:path";
import type { Budget } from "../base/budget.ts";
import { defaultBudget } from "../base/budget.ts";
import { WrongUse } from "../base/errors.ts";
import { bounds, FileRefusal } from "../base/files/bounds.ts";
import type { Files } from "../base/files/read.ts";
import { memoryHere, NeedsRoom } from "../base/limits.ts";
import type { Input } from "../judge/archive/inputs.ts";
import { documentExtension } from "../judge/shots/readers.ts";
import type { CommandIo } from "./command-io.ts";
import type { Selection } from "./select.ts";

/** The path that stands for stdin. */
const stdinPath = "-";

/** What a shot from stdin is called where nobody says. */
const usualName = `stdin${documentExtension}`;

export interface StdinOptions extends Selection {
  readonly stdinFilename?: string | undefined;
  readonly budget?: Partial<Budget> | undefined;
  readonly memoryLimit?: number | undefined;
}

/**
 * Whether the shot comes over stdin.
 * @throws WrongUse where other shots are named besides, or a name for it where there is none
 */
export function isFromStdin(paths: readonly string[], options: StdinOptions): boolean {
  const { filesFrom, changedSince, shard, stdinFilename } = options;
  if (!paths.includes(stdinPath)) {
    if (stdinFilename === undefined) return false;
    throw new WrongUse("--stdin-filename names the shot that comes over stdin: it goes with the path -.");
  }
  const others = paths.length > 1 || [filesFrom, changedSince].some((other) => other !== undefined);
  if (others || shard !== null) {
    throw new WrongUse(
      "The path - stands alone: one shot comes over stdin, and nothing chooses among others.",
    );
  }
  return true;
}

/**
 * Reads the shot that comes over stdin, so that it is found where its name says it would stand: the nearest
 * configuration there holds for it, and so do the waivers beside it, whether or not there is such a file.
 */
export async function withStdin(
  { stdinFilename: file = usualName, budget, memoryLimit }: StdinOptions,
  io: CommandIo,
): Promise<{ readonly inputs: readonly Input[]; readonly io: CommandIo }> {
  // The engine has to be told as it starts, and stdin can be read only once.
  if (memoryLimit !== undefined && memoryLimit > memoryHere()) throw new NeedsRoom(memoryLimit);
  const path = resolve(io.cwd, file);
  const most = budget?.file ?? defaultBudget.file;
  try {
    const bytes = await io.stdin({ ...bounds.shot, most });
    return { inputs: [{ file, problem: null }], io: { ...io, files: withFile(io.files, path, bytes) } };
  } catch (error) {
    if (!(error instanceof FileRefusal)) throw error;
    return { inputs: [{ file, problem: error.message }], io };
  }
}

/** Files among which one stands that has just been handed over. */
function withFile(files: Files, path: string, bytes: Uint8Array): Files {
  return {
    read: async (other, within) => (other === path ? bytes : files.read(other, within)),
    kind: async (other) => (other === path ? "file" : files.kind(other)),
  };
}
