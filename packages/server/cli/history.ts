import { dirname, resolve } from "node:path";
import { type Overrides, resolveSettings } from "@keyside/core";
import { exitCodes, WrongUse } from "../base/errors.ts";
import { type Io, pluginsOf } from "../base/io.ts";
import { type JudgedVersion, judgeVersion } from "../judge/shots/judged-version.ts";
import { loadShot } from "../judge/shots/load.ts";
import { shotHistoryOf } from "../present/report/shot-history.ts";
import { shotHistoryPage, shotHistoryPicture } from "../present/report/shot-history-picture.ts";
import { shotHistoryMarkdown, shotHistoryText } from "../present/report/shot-history-text.ts";
import { configsFor } from "./configs-for.ts";
import { layoutFor } from "./layout-for.ts";
import { limitsFor, type RawLimits, usualTime } from "./limits.ts";
import { tellFailures } from "./tell-failures.ts";
import { keepInputs, writeOut } from "./write-out.ts";

export type HistoryFormat = "text" | "markdown" | "json" | "svg" | "html";

export interface HistoryOptions {
  readonly overrides: Overrides;
  readonly config: string | undefined;
  readonly format: HistoryFormat;
  readonly out: string | undefined;
  readonly force: boolean;
  readonly limits?: RawLimits | undefined;
}

/**
 * `keyside history`: what became of notes, remarks and target paths over the versions of a shot. All are judged by the
 * settings of the last one. Gives the exit code.
 */
export async function history(files: readonly string[], options: HistoryOptions, io: Io): Promise<number> {
  const { out, format, limits = {} } = options;
  keepInputs(out, [...files, options.config], io.cwd);
  if (new Set(files.map((file) => resolve(io.cwd, file))).size < files.length) {
    throw new WrongUse("A version is named twice; name each once, the oldest first.");
  }
  const last = files.at(-1) ?? "";
  const configFor = await configsFor(options.config, io);
  const { config } = await configFor(dirname(resolve(io.cwd, last)));
  const settings = resolveSettings(pluginsOf(io).registry, config, options.overrides);
  const versions: JudgedVersion[] = [];
  for (const file of files) {
    const { guard, budget } = limitsFor(file, limits, usualTime.judging);
    const loaded = await loadShot(file, { ...io, rate: settings.rate ?? undefined, guard, budget });
    versions.push(guard(() => judgeVersion(loaded, settings)));
  }
  const { guard } = limitsFor(last, limits, usualTime.judging);
  const text = guard(() => {
    const found = shotHistoryOf(versions);
    if (format === "json") return `${JSON.stringify(found, null, 2)}\n`;
    if (format === "markdown") return shotHistoryMarkdown(found);
    if (format === "svg") return shotHistoryPicture(found);
    if (format === "html") return shotHistoryPage(found);
    return shotHistoryText(found, out === undefined ? layoutFor(io) : { colour: false, width: 100 });
  });
  await writeOut(text, options, io);
  return versions.reduce(
    (code, version, index) => tellFailures(files[index] ?? "", version.report.failures, io, code),
    exitCodes.clean as number,
  );
}
