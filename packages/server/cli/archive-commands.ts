import type { Tier } from "@keyside/core";
import { type Command, InvalidArgumentError, Option } from "commander";
import type { Io } from "../base/io.ts";
import { bytesFrom } from "../base/size.ts";
import { addReportOptions, addSettingsOptions, overridesOf, type RawSettings } from "./check-command.ts";
import { formatOption, tierOption } from "./options.ts";

/** Adds the commands around a large run: \`merge\`, \`cache\` and \`config\`. */
export function addArchiveCommands(program: Command, io: Io, done: (code: number) => void): void {
  const merge = program
    .command("merge")
    .summary("make one report of the reports of shards")
    .description(
      "Makes one report of the reports (--format json) that the shards of an archive have written.",
    )
    .argument("<part...>", "reports as JSON")
    .addOption(tierOption("--tier <NAME>", "lightest tier that is shown").default("polish"));
  addReportOptions(merge, io);
  merge.action(async (parts: string[], raw: RawMergeOptions) => {
    const { merge } = await import("./merge.ts");
    done(await merge(parts, { ...raw, out: raw.out }, io));
  });

  program
    .command("cache")
    .summary("show or tidy the results that are kept")
    .description("Says where results of earlier runs are kept and how much they take, or takes them away.")
    .option("--cache <DIR>", "folder of the cache; the user's cache folder if left out")
    .option("--clear", "take all results away", false)
    .addOption(
      new Option(
        "--prune <SIZE>",
        'take the longest unused away until the rest is no larger, as "2 GB"',
      ).argParser(sizeArgument),
    )
    .action(async (raw: { cache?: string; clear: boolean; prune?: number }) => {
      const { cache } = await import("./cache.ts");
      done(await cache({ cache: raw.cache, clear: raw.clear, prune: raw.prune }, io));
    });

  const config = program
    .command("config")
    .summary("show the configuration that is in force for a shot")
    .description("Shows what is in force for a shot or a folder, and where each value comes from.")
    .argument("<file>", "a shot or a folder");
  addSettingsOptions(config, io);
  config
    .addOption(formatOption())
    .action(async (file: string, raw: RawSettings & { readonly format: "text" | "json" }) => {
      const { config } = await import("./config-command.ts");
      done(
        await config(
          file,
          { config: raw.config, overrides: await overridesOf(raw, io), format: raw.format },
          io,
        ),
      );
    });
}

interface RawMergeOptions {
  readonly tier: Tier;
  readonly format: string;
  readonly long?: boolean;
  readonly out?: string;
  readonly force: boolean;
  readonly history?: string;
  readonly sheets?: string;
  readonly category?: string;
  readonly docsAt?: string;
}

function sizeArgument(text: string): number {
  const bytes = bytesFrom(text);
  if (bytes === null) throw new InvalidArgumentError('It is a size such as "500 MB" or "2 GB".');
  return bytes;
}
