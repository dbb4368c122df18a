import type { Overrides, Tier, WorkStage } from "@keyside/core";
import { type Command, InvalidArgumentError, Option } from "commander";
import type { Budget } from "../base/budget.ts";
import { type Io, pluginsOf } from "../base/io.ts";
import { type Shard, ShardError, type ShardKey, shardKeys, shardOf } from "../judge/archive/shard.ts";
import { type Trust, trusts } from "../judge/archive/trust.ts";
import type { Audience } from "../present/text/review.ts";
import type { CheckOptions } from "./check.ts";
import type { CommandIo } from "./command-io.ts";
import { budgetOption, memoryLimitOption, memoryOption, timeLimitOption, usualTime } from "./limits.ts";
import {
  animationOption,
  audienceOption,
  choice,
  docsAtOption,
  numberOption,
  onlyOption,
  rateOption,
  reportFormatOption,
  skipOption,
  stageOption,
  styleOption,
  tierOption,
} from "./options.ts";
import { choicesOf, setOption, type WrittenSetting } from "./set-option.ts";

/** Adds \`keyside check\`. */
export function addCheckCommand(program: Command, io: CommandIo, done: (code: number) => void): void {
  const command = program
    .command("check")
    .summary("check shots and report where their motion breaks")
    .description(
      "Checks shots: files, folders with all that is under them, or quoted glob patterns; all that is here if none is named.",
    )
    .argument("[path...]", "files, folders or patterns; - is one shot from stdin");
  addSettingsOptions(command, io);
  command
    .addOption(tierOption("--tier <NAME>", "lightest tier that is shown").default("polish"))
    .addOption(
      tierOption("--fail-on <NAME>", "lightest tier that ends with exit code 1; major if nothing is chosen"),
    )
    .option("--figure <ID>", "only this figure's notes and remarks")
    .addOption(animationOption());
  addReportOptions(command, io);
  command.addOption(audienceOption());
  command.option("--no-pictures", "leave out the pictures of the worst shots on the page of --format html");
  command.option(
    "--fixes",
    "look for the verified fix of each note, which sarif, json and jsonl tell; takes several times as long",
  );
  command.option(
    "--strengths",
    "tell what holds, too: at most five things that convince, in text, json and jsonl",
  );
  command.option(
    "--baseline <FILE>",
    "leave out the notes that a baseline knows, so that what is new is told",
  );
  addRunOptions(command, io);
  command.option(
    "--stdin-filename <FILE>",
    "where the shot from stdin (path -) would stand: its ending tells its format, its folder the configuration",
  );
  command.option(
    "--why-silent <CHECK:NODE:FRAME>",
    "tell why there is no note at a place, instead of checking: the rule or the setting that keeps the check silent",
  );
  command.action(async (paths: string[], raw: RawCheckOptions) => {
    if (raw.whySilent !== undefined) {
      const { questionFrom, tellWhySilent } = await import("./why-silent.ts");
      const { config } = raw;
      const options = { overrides: await overridesOf(raw, io), config, limits: raw };
      return done(await tellWhySilent(paths, questionFrom(raw.whySilent), options, io));
    }
    const { check } = await import("./check.ts");
    done(await check(paths, await checkOptionsOf(raw, io), io));
  });
}

/** Options of which shots are judged, and how the run goes. */
export function addRunOptions(command: Command, io: Io): void {
  command
    .option("--files-from <FILE>", "check the paths that a file lists, one a line; - reads them from stdin")
    .option("--changed-since <REV>", "only shots that differ from a Git revision, or are new to Git")
    .addOption(numberOption("--jobs <N>", "worker threads; as many as there are cores if left out", "whole"))
    .addOption(timeLimitOption(usualTime.judging))
    .addOption(memoryOption())
    .addOption(memoryLimitOption())
    .addOption(budgetOption())
    .addOption(
      choice<Trust>(
        "--trust <HOW>",
        "by what an unchanged shot is told: content reads and hashes it, stat looks at size and times alone",
        trusts,
      ).default("content"),
    )
    .option("--cache <DIR>", "folder in which results are kept; the user's cache folder if left out")
    .option("--no-cache", "neither use results of earlier runs nor keep any")
    .addOption(shardOption(io))
    .addOption(
      choice<ShardKey>("--shard-by <KEY>", "what decides a shot's shard", shardKeys).default("content"),
    )
    .option("--no-progress", "show no progress");
}

/** What `check` is told, from what stands on the command line. */
export async function checkOptionsOf(raw: RawCheckOptions, io: Io): Promise<CheckOptions> {
  const { cache, config, failOn, figure, filesFrom, changedSince, jobs, timeLimit, memoryLimit, ...rest } =
    raw;
  return {
    ...rest,
    ...{ config, failOn, figure, filesFrom, changedSince, jobs, timeLimit, memoryLimit },
    overrides: await overridesOf(raw, io),
    out: raw.out,
    audience: raw.for,
    shard: raw.shard ?? null,
    cache: cache === false ? null : cache === true ? undefined : cache,
  };
}

/** Options that change settings; they go before the configuration. */
export function addSettingsOptions(command: Command, io: Io, withChecks = true): void {
  const plugins = pluginsOf(io);
  command
    .addOption(rateOption('frames per second at which the shot is judged, such as 24 or "24000/1001"'))
    .option("--config <FILE>", "configuration; otherwise the nearest keyside.config.json above each shot")
    .addOption(styleOption())
    .addOption(stageOption());
  if (withChecks)
    command.addOption(onlyOption(plugins)).addOption(skipOption(plugins)).addOption(setOption(plugins));
}

/** Options of where a report goes and how it looks. */
export function addReportOptions(command: Command, io: Io): void {
  command
    .addOption(reportFormatOption(pluginsOf(io)))
    .option("--long", "say all of each note in the text report: what it is, why, the fix, the keys")
    .option("--out <FILE>", "write the report to a file")
    .option("--force", "overwrite the file of --out", false)
    .option(
      "--history <FILE>",
      "add what came of this run to a file, and show the trend on the page of --format html",
    )
    .option("--sheets <DIR>", "folder of review sheets to which the page of --format html leads")
    .option("--category <NAME>", "in sarif, what tells this run apart from others over the same shots")
    .addOption(docsAtOption());
}

export interface RawSettings {
  readonly rate?: number;
  readonly style?: string;
  readonly stage?: WorkStage;
  readonly only?: string[];
  readonly skip?: string[];
  readonly set?: WrittenSetting[];
  readonly config?: string;
}

/** @throws WrongUse where a value of --set cannot be used */
export async function overridesOf(raw: RawSettings, io: Io): Promise<Overrides> {
  const { rate, style, stage, only, skip, set } = raw;
  return {
    ...(rate === undefined ? {} : { rate }),
    ...(style === undefined ? {} : { style }),
    ...(stage === undefined ? {} : { stage }),
    ...(only === undefined ? {} : { only }),
    ...(skip === undefined ? {} : { skip }),
    ...(set === undefined ? {} : { checks: await choicesOf(set, pluginsOf(io)) }),
  };
}

export interface RawCheckOptions extends RawSettings {
  readonly tier: Tier;
  readonly failOn?: Tier;
  readonly format: string;
  readonly long?: boolean;
  readonly figure?: string;
  readonly animation?: string;
  readonly out?: string;
  readonly force: boolean;
  readonly history?: string;
  readonly sheets?: string;
  /** false for --no-pictures, true where nothing is said. */
  readonly pictures?: boolean;
  readonly category?: string;
  readonly docsAt?: string;
  readonly fixes?: boolean;
  readonly for?: Audience;
  readonly strengths?: boolean;
  readonly baseline?: string;
  readonly whySilent?: string;
  readonly filesFrom?: string;
  readonly stdinFilename?: string;
  readonly changedSince?: string;
  readonly jobs?: number;
  readonly timeLimit?: number;
  readonly memoryLimit?: number;
  readonly memory?: number;
  readonly trust?: Trust;
  readonly budget?: Partial<Budget>;
  /** false for --no-cache, true where nothing is said. */
  readonly cache: string | boolean;
  readonly shard?: Shard;
  readonly shardBy: ShardKey;
  readonly progress: boolean;
}

function shardOption(io: Io): Option {
  return new Option(
    "--shard <I/N>",
    "only one share of the shots, such as 3/8; auto or auto/N in an array job of a scheduler",
  ).argParser((text: string) => {
    try {
      return shardOf(text, io.env);
    } catch (error) {
      if (error instanceof ShardError) throw new InvalidArgumentError(error.message);
      throw error;
    }
  });
}
