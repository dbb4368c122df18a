import type { Tier } from "@keyside/core";
import type { Command } from "commander";
import type { Io } from "../base/io.ts";
import { addSettingsOptions, overridesOf, type RawSettings } from "./check-command.ts";
import { addLimitOptions, type RawLimits, usualTime } from "./limits.ts";
import { animationOption, formatOption, tierOption } from "./options.ts";

interface RawCompareOptions extends RawSettings, RawLimits {
  readonly animation?: string;
  readonly failOn?: Tier;
  readonly format: "text" | "json";
  readonly out?: string;
  readonly force: boolean;
}

/** Adds `keyside compare`. */
export function addCompareCommand(program: Command, io: Io, done: (code: number) => void): void {
  const command = program
    .command("compare")
    .summary("tell what became of the notes from one version of a shot to the next")
    .description(
      "Compares two versions of a shot: which notes are fixed, still there, better or worse, new, or waived. " +
        "Notes are known again where keys were re-timed, frames put in, or the file renamed.",
    )
    .argument("<old>", "the older version")
    .argument("<new>", "the newer version");
  addSettingsOptions(command, io);
  command.addOption(animationOption(null));
  addLimitOptions(command, usualTime.judging);
  command
    .addOption(
      tierOption(
        "--fail-on <NAME>",
        "lightest tier at which something new ends with exit code 1; major if nothing is chosen",
      ),
    )
    .addOption(formatOption())
    .option("--out <FILE>", "write the comparison to a file")
    .option("--force", "overwrite the file of --out", false)
    .action(async (older: string, newer: string, raw: RawCompareOptions) => {
      const { compare } = await import("./compare.ts");
      const { config, failOn, animation, format, out, force } = raw;
      done(
        await compare(
          older,
          newer,
          {
            overrides: await overridesOf(raw, io),
            config,
            failOn,
            animation,
            format,
            out,
            force,
            limits: raw,
          },
          io,
        ),
      );
    });
}
