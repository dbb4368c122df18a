import { realpathSync } from "node:fs";
import { basename, resolve } from "node:path";
import { configName } from "../base/config-name.ts";
import { ExistsError, UnreadableError, unwrittenReason, WrongUse } from "../base/errors.ts";
import { identityOf } from "../base/files/read-log.ts";
import { type AtomicFile, startFile } from "../base/files/write.ts";
import type { Io } from "../base/io.ts";
import { ignoreName } from "../judge/archive/ignore-files.ts";
import { isBeside, readerFor } from "../judge/shots/readers.ts";
import { reviewExtension } from "../judge/shots/reviews.ts";
import { waiversExtension } from "../judge/shots/waivers.ts";

/**
 * Refuses to write over what is read, and over whatever is named like a shot, its waivers, an ignore file or a
 * configuration, whatever is forced: a shot need not be among those of this run to be lost. Links are followed.
 * @param inputs other files that are read
 * @throws WrongUse
 */
export function keepInputs(
  out: string | undefined,
  inputs: readonly (string | undefined)[],
  cwd: string,
): void {
  if (out === undefined) return;
  const path = resolve(cwd, out);
  const own = identityOf(path);
  for (const name of own === null ? [out] : [out, realpathSync(path)]) {
    if (readerFor(name) !== null || isBeside(name) || name.toLowerCase().endsWith(waiversExtension)) {
      throw new WrongUse(`${out}: a file of this name holds a shot or its waivers; name another file.`);
    }
    if (name.toLowerCase().endsWith(reviewExtension)) {
      throw new WrongUse(`${out}: a file of this name holds the review of a shot; name another file.`);
    }
    if (basename(name) === ignoreName || (basename(name) === configName && own !== null)) {
      throw new WrongUse(`${out}: a file of this name says how shots are judged; name another file.`);
    }
  }
  const isInput = (input: string) => {
    const other = resolve(cwd, input);
    return other === path || (own !== null && identityOf(other) === own);
  };
  if (inputs.some((input) => input !== undefined && isInput(input))) throw isRead(out);
}

function isRead(out: string): WrongUse {
  return new WrongUse(`${out} is read by this run; name another file.`);
}

export interface OutOptions {
  readonly force: boolean;
  /** Whether it is the very file that was read, and is to be changed. */
  readonly isInput?: boolean;
}

/**
 * Starts a file that a command writes; it appears once it is whole.
 * @throws WrongUse where it stands there already or is read by this run; UnreadableError where it cannot be written.
 *   So do the functions of what it gives.
 */
export async function startOut(out: string, options: OutOptions, io: Io): Promise<AtomicFile> {
  const path = resolve(io.cwd, out);
  const keep = () => {
    if (options.isInput !== true && io.hasRead?.(path) === true) throw isRead(out);
  };
  keep();
  const file = await told(out, () => startFile(path, options));
  return {
    write: (content) => told(out, () => file.write(content)),
    abandon: () => file.abandon(),
    async finish() {
      try {
        // What is read while a report is written is not known when it begins.
        keep();
      } catch (error) {
        await file.abandon();
        throw error;
      }
      await told(out, () => file.finish());
    },
  };
}

async function told<T>(out: string, action: () => Promise<T>): Promise<T> {
  try {
    return await action();
  } catch (error) {
    if (error instanceof ExistsError) throw new WrongUse(`${out} is there already; --force overwrites it.`);
    throw new UnreadableError(out, unwrittenReason(error));
  }
}

/** Writes a whole text to a file; throws as {@link startOut} does. */
export async function writeWhole(out: string, text: string, options: OutOptions, io: Io): Promise<void> {
  const file = await startOut(out, options, io);
  try {
    await file.write(text);
  } catch (error) {
    await file.abandon();
    throw error;
  }
  await file.finish();
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
  await writeWhole(out, text, { force }, io);
  io.stdout(`Wrote ${out}.\n`);
}
