import { createHash } from "node:crypto";
import { rm } from "node:fs/promises";
import { resolve } from "node:path";
import { z } from "zod";
import { exitCodes, UnreadableError, unwrittenReason, WrongUse } from "../base/errors.ts";
import { readText } from "../base/files/read.ts";
import type { Io } from "../base/io.ts";
import { documentExtension } from "../judge/shots/readers.ts";
import { writeWhole } from "./write-out.ts";

/** What `keyside fix --write` keeps beside a document, so that it can be put back. */
const undoSchema = z.object({
  format: z.literal("keyside.undo"),
  version: z.literal(1),
  /** The latest last. */
  steps: z.array(
    z.object({
      /** SHA-256 of the text that was written. */
      written: z.string(),
      /** The text before. */
      before: z.string(),
    }),
  ),
});
type Undo = z.infer<typeof undoSchema>;

/** So many times fixes can be undone: each step holds the whole document. */
const mostSteps = 10;

/** `jetty_0040.undo.json` for `jetty_0040.curves.json`. */
export function undoName(file: string): string {
  return `${file.slice(0, -documentExtension.length)}.undo.json`;
}

/**
 * Keeps a document's text before fixes are written to it.
 * @throws WrongUse where another file has the name of the undo file; UnreadableError where it cannot be read or written
 */
export async function rememberUndo(file: string, before: string, after: string, io: Io): Promise<void> {
  const steps = [...((await undoOf(file, io))?.steps ?? []), { written: hashOf(after), before }];
  await writeUndo(file, steps.slice(-mostSteps), io);
}

/** `keyside fix --undo`: puts a document back as it was before fixes were last written to it. Gives the exit code. */
export async function undoFixes(file: string, force: boolean, io: Io): Promise<number> {
  if (!file.toLowerCase().endsWith(documentExtension)) {
    throw new WrongUse(`${file}: fixes are written to curve documents alone (*${documentExtension}).`);
  }
  const steps = (await undoOf(file, io))?.steps ?? [];
  const last = steps[steps.length - 1];
  if (last === undefined)
    throw new WrongUse(`${file}: there is nothing to undo; ${undoName(file)} holds no fixes.`);
  const now = await readText(io.files, resolve(io.cwd, file), file);
  if (hashOf(now) !== last.written && !force) {
    throw new WrongUse(
      `${file} was changed since its fixes were written, and those changes would be lost; --force puts it back all the same.`,
    );
  }
  await writeWhole(file, last.before, { force: true, isInput: true }, io);
  const left = steps.slice(0, -1);
  if (left.length > 0) await writeUndo(file, left, io);
  else await rm(resolve(io.cwd, undoName(file)), { force: true });
  const more =
    left.length === 0 ? "" : ` ${left.length} earlier ${left.length === 1 ? "step" : "steps"} can be undone.`;
  io.stdout(`Put ${file} back as it was before its last fixes.${more}\n`);
  return exitCodes.clean;
}

/** The undo file of a document; null where there is none. */
async function undoOf(file: string, io: Io): Promise<Undo | null> {
  const name = undoName(file);
  const path = resolve(io.cwd, name);
  try {
    if ((await io.files.kind(path)) === null) return null;
  } catch (error) {
    throw new UnreadableError(name, unwrittenReason(error));
  }
  let value: unknown;
  try {
    value = JSON.parse(await readText(io.files, path, name));
  } catch (error) {
    if (!(error instanceof SyntaxError)) throw error;
    value = null;
  }
  const read = undoSchema.safeParse(value);
  if (read.success) return read.data;
  throw new WrongUse(`${name} is no undo file of fixes; move it elsewhere, so that none of it is lost.`);
}

async function writeUndo(file: string, steps: Undo["steps"], io: Io): Promise<void> {
  const undo: Undo = { format: "keyside.undo", version: 1, steps };
  await writeWhole(undoName(file), `${JSON.stringify(undo)}\n`, { force: true, isInput: true }, io);
}

function hashOf(text: string): string {
  return createHash("sha256").update(text).digest("hex");
}
