import { resolve } from "node:path";
import { UnreadableError } from "../files/read.ts";
import { ExistsError, unwrittenReason, writeFileWhole } from "../files/write.ts";
import { type Io, WrongUse } from "./io.ts";

/** Refuses to write over what is read, whatever is forced. */
export function keepInputs(
  out: string | undefined,
  inputs: readonly (string | undefined)[],
  cwd: string,
): void {
  if (out === undefined) return;
  const isInput = inputs.some((input) => input !== undefined && resolve(cwd, input) === resolve(cwd, out));
  if (isInput) throw new WrongUse(`${out} is the shot itself; name another file.`);
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
