import { dirname, resolve } from "node:path";
import { gridOf, type Overrides, resolveSettings, type Tier } from "@keyside/core";
import { exitCodes, WrongUse } from "../base/errors.ts";
import { type Io, pluginsOf } from "../base/io.ts";
import { judgeVersion } from "../judge/shots/judged-version.ts";
import { loadShot } from "../judge/shots/load.ts";
import { makeSheet } from "../present/sheet/make.ts";
import { sheetMarkdown } from "../present/sheet/markdown.ts";
import { sheetPage } from "../present/sheet/page.ts";
import type { Audience } from "../present/text/review.ts";
import { configsFor } from "./configs-for.ts";
import { footageOf } from "./footage.ts";
import { limitsFor, type RawLimits, usualTime } from "./limits.ts";
import { tellFailures } from "./tell-failures.ts";
import { keepInputs, writeOut } from "./write-out.ts";

export interface SheetCommandOptions {
  readonly overrides: Overrides;
  readonly config: string | undefined;
  /** The version before. */
  readonly previous: string | undefined;
  readonly format: "html" | "markdown";
  readonly lightest: Tier;
  readonly fixes: boolean;
  /** For whom it is written; for everybody if left out. */
  readonly audience?: Audience | undefined;
  readonly out: string | undefined;
  readonly force: boolean;
  readonly limits?: RawLimits | undefined;
  /** The shot's rendered frames, as {@link footageOf} takes them, and its sound. */
  readonly images?: string | undefined;
  readonly sound?: string | undefined;
  /** Which animation of files that hold several, in both versions. */
  readonly animation?: string | undefined;
}

/** `keyside sheet`: writes the review sheet of a shot. Gives the exit code. */
export async function sheet(file: string, options: SheetCommandOptions, io: Io): Promise<number> {
  const { out, format, previous, fixes, lightest } = options;
  const { images, sound } = options;
  keepInputs(out, [file, previous, options.config, sound], io.cwd);
  if (format === "markdown" && (images !== undefined || sound !== undefined)) {
    throw new WrongUse("--images and --sound are for a page: --format html.");
  }
  const configFor = await configsFor(options.config, io);
  const { config } = await configFor(dirname(resolve(io.cwd, file)));
  const settings = resolveSettings(pluginsOf(io).registry, config, options.overrides);
  const judged = async (path: string) => {
    const { guard, budget } = limitsFor(path, options.limits ?? {}, usualTime.fixing);
    const { animation } = options;
    const loaded = await loadShot(path, {
      ...io,
      rate: settings.rate ?? undefined,
      animation,
      guard,
      budget,
    });
    return guard(() => judgeVersion(loaded, settings));
  };
  const version = await judged(file);
  const footage = await footageOf({ images, sound, out }, gridOf(version.study).frames[0], io);
  const before = previous === undefined ? null : await judged(previous);
  const { guard } = limitsFor(file, options.limits ?? {}, usualTime.fixing);
  const text = guard(() => {
    const made = makeSheet(version, { previous: before, fixes, lightest, audience: options.audience });
    return format === "html" ? sheetPage(made, footage) : sheetMarkdown(made);
  });
  await writeOut(text, { out, force: options.force }, io);
  return tellFailures(file, version.report.failures, io, exitCodes.clean);
}
