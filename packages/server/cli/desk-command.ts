import type { Command } from "commander";
import type { Io } from "../base/io.ts";
import { addSettingsOptions, overridesOf, type RawSettings } from "./check-command.ts";
import { portOption } from "./feed-command.ts";
import { addLimitOptions, type RawLimits, usualTime } from "./limits.ts";
import { animationOption } from "./options.ts";

interface RawDeskOptions extends RawSettings, RawLimits {
  readonly port: number;
  readonly open: boolean;
  readonly animation?: string;
  readonly images?: string;
  readonly sound?: string;
  readonly previous?: string;
  readonly reviewer?: string;
}

/** Adds `keyside desk`. */
export function addDeskCommand(program: Command, io: Io, done: (code: number) => void): void {
  const command = program
    .command("desk")
    .summary("see a shot move, key it and watch its notes, on a page in the browser")
    .description(
      "Lays a shot on a page that only this machine reaches: the moving figure, the curves with their keys, and the " +
        "notes, which change while a key is dragged. Saves where it is asked to. What is no curve document is opened as " +
        "a copy, and saved as one beside it. Ends with Ctrl-C; edits that are not saved then are kept beside the shot.",
    )
    .argument("<file>", "the shot");
  addSettingsOptions(command, io, false);
  command.addOption(animationOption(null));
  addLimitOptions(command, usualTime.judging);
  command
    .addOption(
      portOption(
        "--port <PORT>",
        "port of this machine on which the page is served; 0 takes any that is free",
      ).default(0),
    )
    .option(
      "--images <NAMES>",
      "rendered frames that the player shows, with # for each digit of a frame's number, such as renders/quay.####.png",
    )
    .option("--sound <FILE>", "sound that the player plays from the first frame on")
    .option(
      "--previous <FILE>",
      "the version before: what people said of it in the review beside it is shown, to be marked as done or still open",
    )
    .option("--reviewer <NAME>", "who reviews; the system's user if left out")
    .option("--no-open", "print the address, and open no browser")
    .action(async (file: string, raw: RawDeskOptions) => {
      const { desk } = await import("./desk.ts");
      const { port, open, config, animation, images, sound, previous, reviewer } = raw;
      const overrides = await overridesOf(raw, io);
      const options = {
        ...{ overrides, config, animation, images, sound, previous, reviewer },
        ...{ port, opens: open, limits: raw },
      };
      done(await desk(file, options, io));
    });
}
