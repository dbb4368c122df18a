import { dirname, resolve } from "node:path";
import { bringsNew, type Overrides, resolveSettings, type Tier } from "@keyside/core";
import { exitCodes } from "../base/errors.ts";
import { type Io, pluginsOf } from "../base/io.ts";
import { judgeVersion } from "../judge/shots/judged-version.ts";
import { loadShot } from "../judge/shots/load.ts";
import { compareVersions, reportComparison } from "../present/report/comparison.ts";
import { comparisonText } from "../present/report/comparison-text.ts";
import { configsFor } from "./configs-for.ts";
import { layoutFor } from "./layout-for.ts";
import { limitsFor, type RawLimits, usualTime } from "./limits.ts";
import { tellFailures } from "./tell-failures.ts";
import { keepInputs, writeOut } from "./write-out.ts";

export interface CompareOptions {
  readonly overrides: Overrides;
  readonly config: string | undefined;
  readonly failOn: Tier | undefined;
  readonly format: "text" | "json";
  readonly out: string | undefined;
  readonly force: boolean;
  readonly limits?: RawLimits | undefined;
  /** Which animation of files that hold several, in both versions. */
  readonly animation?: string | undefined;
}

/**
 * `keyside compare`: what became of the notes from one version of a shot to the next. Both are judged by the settings
 * of the newer one, so that only the shot differs. Gives the exit code.
 */
export async function compare(
  older: string,
  newer: string,
  options: CompareOptions,
  io: Io,
): Promise<number> {
  keepInputs(options.out, [older, newer, options.config], io.cwd);
  const configFor = await configsFor(options.config, io);
  const { config } = await configFor(dirname(resolve(io.cwd, newer)));
  const settings = resolveSettings(pluginsOf(io).registry, config, options.overrides);
  const judged = async (file: string) => {
    const { guard, budget } = limitsFor(file, options.limits ?? {}, usualTime.judging);
    const { animation } = options;
    const loaded = await loadShot(file, {
      ...io,
      rate: settings.rate ?? undefined,
      animation,
      guard,
      budget,
    });
    return guard(() => judgeVersion(loaded, settings));
  };
  const before = await judged(older);
  const after = await judged(newer);
  const failOn = options.failOn ?? config.failOn ?? "major";
  const layout = options.out === undefined ? layoutFor(io) : { colour: false, width: 100 };
  const { guard } = limitsFor(newer, options.limits ?? {}, usualTime.judging);
  const { compared, text } = guard(() => {
    const compared = compareVersions(before, after);
    const text =
      options.format === "json"
        ? `${JSON.stringify(reportComparison(compared, failOn), null, 2)}\n`
        : comparisonText(compared, layout);
    return { compared, text };
  });
  await writeOut(text, options, io);
  const code = bringsNew(compared.comparison, failOn) ? exitCodes.notes : exitCodes.clean;
  return tellFailures(
    newer,
    after.report.failures,
    io,
    tellFailures(older, before.report.failures, io, code),
  );
}
