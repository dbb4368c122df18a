import type { Command } from "commander";
import type { Io } from "../base/io.ts";
import { addSettingsOptions, overridesOf, type RawSettings } from "./check-command.ts";
import type { HistoryFormat } from "./history.ts";
import { addLimitOptions, type RawLimits, usualTime } from "./limits.ts";
import { choice } from "./options.ts";

interface RawHistoryOptions extends RawSettings, RawLimits {
  readonly format: HistoryFormat;
  readonly out?: string;
  readonly force: boolean;
}

/** Adds `keyside history`. */
export function addHistoryCommand(program: Command, io: Io, done: (code: number) => void): void {
  const command = program
    .command("history")
    .summary("follow notes and remarks over the versions of a shot")
    .description(
      "Follows each note, each remark of the review files and each target path from the version in which it was first " +
        "to the one in which it was closed. Name the versions from the oldest on.",
    )
    .argument("<shot...>", "the versions, the oldest first");
  addSettingsOptions(command, io);
  addLimitOptions(command, usualTime.judging);
  command
    .addOption(
      choice("--format <NAME>", "format of the history", [
        "text",
        "markdown",
        "json",
        "svg",
        "html",
      ] as const).default("text"),
    )
    .option("--out <FILE>", "write the history to a file")
    .option("--force", "overwrite the file of --out", false)
    .action(async (shots: string[], raw: RawHistoryOptions) => {
      const { history } = await import("./history.ts");
      const { config, format, out, force } = raw;
      done(
        await history(
          shots,
          { overrides: await overridesOf(raw, io), config, format, out, force, limits: raw },
          io,
        ),
      );
    });
}
