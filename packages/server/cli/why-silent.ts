import { dirname, resolve } from "node:path";
import { type Overrides, resolveSettings, type SilenceQuestion, whySilent } from "@keyside/core";
import { exitCodes, WrongUse } from "../base/errors.ts";
import { type Io, pluginsOf } from "../base/io.ts";
import { studyOf } from "../judge/shots/judge.ts";
import { loadShot } from "../judge/shots/load.ts";
import { plainText } from "../present/text/plain.ts";
import { configsFor } from "./configs-for.ts";
import { limitsFor, type RawLimits, usualTime } from "./limits.ts";

export interface WhySilentOptions {
  /** What goes before the configuration. */
  readonly overrides: Overrides;
  readonly config: string | undefined;
  readonly limits?: RawLimits | undefined;
}

/**
 * `CHECK:NODE:FRAME`. A node's id may have colons of its own: the check is what stands before the first, the frame what
 * stands behind the last.
 * @throws WrongUse where it is written otherwise
 */
export function questionFrom(text: string): SilenceQuestion {
  const [first, last] = [text.indexOf(":"), text.lastIndexOf(":")];
  const written = text.slice(last + 1).trim();
  const frame = Number(written);
  if (first < 1 || last <= first + 1 || written === "" || !Number.isFinite(frame)) {
    throw new WrongUse(
      `--why-silent takes CHECK:NODE:FRAME, such as hard-stop:hand_l:1042, and "${text}" is none.`,
    );
  }
  return { check: text.slice(0, first), node: text.slice(first + 1, last), frame };
}

/** `keyside check FILE --why-silent …`: tells what keeps a check silent at a place. Gives the exit code. */
export async function tellWhySilent(
  paths: readonly string[],
  question: SilenceQuestion,
  options: WhySilentOptions,
  io: Io,
): Promise<number> {
  const [file] = paths;
  if (file === undefined || paths.length > 1)
    throw new WrongUse("--why-silent asks one shot: name one file.");
  const configFor = await configsFor(options.config, io);
  const { config } = await configFor(dirname(resolve(io.cwd, file)));
  const settings = resolveSettings(pluginsOf(io).registry, config, options.overrides);
  const { guard, budget } = limitsFor(file, options.limits ?? {}, usualTime.judging);
  const loaded = await loadShot(file, { ...io, rate: settings.rate ?? undefined, guard, budget });
  for (const line of guard(() => [...whySilent(studyOf(loaded, settings), question)]))
    io.stdout(`${plainText(line)}\n`);
  return exitCodes.clean;
}
