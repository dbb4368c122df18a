import { resolve } from "node:path";
import { ExistsError, UnreadableError, unwrittenReason, WrongUse } from "../base/errors.ts";
import { writeFileWhole } from "../base/files/write.ts";
import type { Io } from "../base/io.ts";
import { readerFor } from "../judge/shots/readers.ts";
import { waiversExtension } from "../judge/shots/waivers.ts";

/**
 * Refuses to write over what is read, and over whatever is named like a shot or its waivers, whatever is forced: a shot
 * need not be among those of this run to be lost.
 * @param inputs other files that are read
 */
export function keepInputs(
  out: string | undefined,
  inputs: readonly (string | undefined)[],
  cwd: string,
): void {
  if (out === undefined) return;
  if (readerFor(out) !== null || out.toLowerCase().endsWith(waiversExtension)) {
    throw new WrongUse(`${out}: a file of this name holds a shot or its waivers; name another file.`);
  }
  const isInput = inputs.some((input) => input !== undefined && resolve(cwd, input) === resolve(cwd, out));
  if (isInput) throw new WrongUse(`${out} is read by this run; name another file.`);
}

/** Writes a whole text to stdout, or to a file that appears once it is whole and says so. */
export async function writeOut(
  text: string,
  { out, force }: { readonly out: string | undefined; readonly force: boolean },
  io: Io,
): Promise<void> {
  if (out === undefined) {
    io.stdout(text);
    return;
  }
  try {
    await writeFileWhole(resolve(io.cwd, out), text, force);
  } catch (error) {
    if (error instanceof ExistsError) throw new WrongUse(`${out} is there already; --force overwrites it.`);
    throw new UnreadableError(out, unwrittenReason(error));
  }
  io.stdout(`Wrote ${out}.\n`);
}
