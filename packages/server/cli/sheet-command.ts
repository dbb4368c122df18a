import type { Tier } from "@keyside/core";
import type { Command } from "commander";
import type { Io } from "../base/io.ts";
import type { Audience } from "../present/text/review.ts";
import { addSettingsOptions, overridesOf, type RawSettings } from "./check-command.ts";
import { addLimitOptions, type RawLimits, usualTime } from "./limits.ts";
import { animationOption, audienceOption, choice, tierOption } from "./options.ts";

interface RawSheetOptions extends RawSettings, RawLimits {
  readonly animation?: string;
  readonly previous?: string;
  readonly format: "html" | "markdown";
  readonly tier: Tier;
  readonly fixes: boolean;
  readonly for?: Audience;
  readonly images?: string;
  readonly sound?: string;
  readonly out?: string;
  readonly force: boolean;
}

/** Adds `keyside sheet`. */
export function addSheetCommand(program: Command, io: Io, done: (code: number) => void): void {
  const command = program
    .command("sheet")
    .summary("write the review sheet of a shot")
    .description(
      "Writes the review of a shot as one page that needs nothing but itself: the notes, biggest first, each with " +
        "its frames, what to change, why, and drawings; or in Markdown, for a ticket.",
    )
    .argument("<file>", "the shot")
    .option("--previous <FILE>", "the version before: says what is fixed, still there and new");
  addSettingsOptions(command, io);
  command.addOption(animationOption(null));
  addLimitOptions(command, usualTime.fixing);
  command
    .addOption(
      choice("--format <NAME>", "format of the sheet", ["html", "markdown"] as const).default("html"),
    )
    .addOption(tierOption("--tier <NAME>", "lightest tier that is shown").default("polish"))
    .addOption(audienceOption())
    .option("--no-fixes", "look for no fixes, which takes most of the time")
    .option(
      "--images <NAMES>",
      "rendered frames that the player shows, with # for each digit of a frame's number, such as renders/quay.####.png; the page refers to them",
    )
    .option("--sound <FILE>", "sound that the player plays from the first frame on; the page refers to it")
    .option("--out <FILE>", "write the sheet to a file; to stdout if left out")
    .option("--force", "overwrite the file of --out", false)
    .action(async (file: string, raw: RawSheetOptions) => {
      const { sheet } = await import("./sheet.ts");
      const { previous, config, animation, format, tier, fixes, images, sound, out, force } = raw;
      const options = {
        overrides: await overridesOf(raw, io),
        previous,
        config,
        animation,
        format,
        lightest: tier,
        fixes,
        audience: raw.for,
        images,
        sound,
        out,
        force,
        limits: raw,
      };
      done(await sheet(file, options, io));
    });
}
