import type { Command } from "commander";
import { addRunOptions, addSettingsOptions, checkOptionsOf, type RawCheckOptions } from "./check-command.ts";
import type { CommandIo } from "./command-io.ts";
import { tierOption } from "./options.ts";

/** Adds `keyside baseline`. */
export function addBaselineCommand(program: Command, io: CommandIo, done: (code: number) => void): void {
  const command = program
    .command("baseline")
    .summary("write down which notes are known")
    .description(
      "Writes the notes of shots to a file; keyside check --baseline FILE leaves them out and tells what is new.",
    )
    .argument("[path...]", "files, folders or patterns")
    .requiredOption("--out <FILE>", "the baseline")
    .option("--force", "overwrite the file of --out", false)
    .addOption(tierOption("--tier <NAME>", "lightest tier that is written down").default("polish"));
  addSettingsOptions(command, io);
  addRunOptions(command, io);
  command.action(async (paths: string[], raw: Omit<RawCheckOptions, "format"> & { readonly out: string }) => {
    const { baseline } = await import("./baseline.ts");
    done(
      await baseline(paths, { ...(await checkOptionsOf({ ...raw, format: "json" }, io)), out: raw.out }, io),
    );
  });
}
