import type { Command } from "commander";
import { addRunOptions, addSettingsOptions, checkOptionsOf, type RawCheckOptions } from "./check-command.ts";
import type { CommandIo } from "./command-io.ts";
import { choice, tierOption } from "./options.ts";

interface RawHabitsOptions extends RawCheckOptions {
  readonly format: "text" | "markdown" | "json";
  readonly byField?: string;
  readonly byName?: string;
}

/** Adds `keyside habits`. */
export function addHabitsCommand(program: Command, io: CommandIo, done: (code: number) => void): void {
  const command = program
    .command("habits")
    .summary("tell which faults come again over many shots, and how long they stay")
    .description(
      "Counts over folders, a field of the shots' headers or a pattern of file names which faults come again, how many " +
        "versions they take to go, and what became better over time. It ranks nobody.",
    )
    .argument("<path...>", "files, folders or patterns");
  addSettingsOptions(command, io);
  command
    .addOption(tierOption("--tier <NAME>", "lightest tier that is shown").default("polish"))
    .option(
      "--by-field <FIELD>",
      "group by a field of the shot's header, such as animators or stage; by folder if left out",
    )
    .option(
      "--by-name <PATTERN>",
      "group by what a regular expression catches of the file's name, such as ^([a-z]+)_",
    )
    .addOption(
      choice("--format <NAME>", "format of the table", ["text", "markdown", "json"] as const).default("text"),
    )
    .option("--out <FILE>", "write the table to a file")
    .option("--force", "overwrite the file of --out", false);
  addRunOptions(command, io);
  command.action(async (paths: string[], raw: RawHabitsOptions) => {
    const { habits } = await import("./habits.ts");
    const { byField, byName, format } = raw;
    done(
      await habits(paths, { ...(await checkOptionsOf(raw, io)), byField, byName, habitsFormat: format }, io),
    );
  });
}
