import { styleNames } from "@keyside/core";
import { type Command, InvalidArgumentError, Option } from "commander";
import { type Io, pluginsOf } from "../base/io.ts";
import { addSettingsOptions, overridesOf, type RawSettings } from "./check-command.ts";
import { addLimitOptions, type RawLimits, usualTime } from "./limits.ts";
import { checksOption, formatOption } from "./options.ts";

/** Adds `keyside calibrate`. */
export function addCalibrateCommand(program: Command, io: Io, done: (code: number) => void): void {
  const command = program
    .command("calibrate")
    .summary("learn thresholds from approved shots")
    .description(
      "Learns thresholds from approved shots: where their values lie, and the limit that lets most of them pass. " +
        "Writes a configuration.",
    )
    .argument("[path...]", "files, folders or patterns of approved shots")
    .requiredOption("--out <FILE>", "the configuration that is written")
    .option("--force", "overwrite the file of --out", false)
    .addOption(
      new Option("--percentile <P>", "percentage of the shots that are to pass, from 50 to 100")
        .argParser(percentileArgument)
        .default(99),
    )
    .addOption(
      new Option("--name <NAME>", "what the style is called that is written")
        .argParser(nameArgument)
        .default("approved"),
    )
    .option("--few", "take thresholds from fewer shots than the percentile needs", false)
    .option("--beyond-bounds", "let thresholds be looser than what bodies, surfaces or eyes allow", false)
    .addOption(
      checksOption(
        "--only <CHECK>",
        "only these checks; can be repeated, or take a list with commas",
        pluginsOf(io),
      ),
    )
    .option("--files-from <FILE>", "take the paths that a file lists, one a line; - reads them from stdin")
    .option("--no-progress", "show no progress");
  addSettingsOptions(command, io, false);
  addLimitOptions(command, usualTime.fixing);
  command.addOption(formatOption()).action(async (paths: string[], raw: RawCalibrateOptions) => {
    const { calibrate } = await import("./calibrate.ts");
    const { only: checks, ...settings } = raw;
    const { config, filesFrom, ...rest } = settings;
    done(
      await calibrate(
        paths,
        { ...rest, config, checks, filesFrom, overrides: await overridesOf(settings, io), limits: raw },
        io,
      ),
    );
  });
}

interface RawCalibrateOptions extends RawSettings, RawLimits {
  readonly out: string;
  readonly force: boolean;
  readonly percentile: number;
  readonly name: string;
  readonly few: boolean;
  readonly beyondBounds: boolean;
  readonly only?: string[];
  readonly filesFrom?: string;
  readonly progress: boolean;
  readonly format: "text" | "json";
}

function nameArgument(text: string): string {
  if ((styleNames as readonly string[]).includes(text))
    throw new InvalidArgumentError("There is a style of this name already; call yours otherwise.");
  if (/^[a-z][a-z0-9]*(-[a-z0-9]+)*$/.test(text)) return text;
  throw new InvalidArgumentError('It is small letters with hyphens between words, such as "our-show".');
}

function percentileArgument(text: string): number {
  const value = Number(text);
  if (text.trim() !== "" && value >= 50 && value <= 100) return value;
  throw new InvalidArgumentError("It is a number from 50 to 100.");
}
