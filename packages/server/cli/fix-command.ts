import type { Tier } from "@keyside/core";
import { type Command, InvalidArgumentError, Option } from "commander";
import { WrongUse } from "../base/errors.ts";
import { type Io, pluginsOf } from "../base/io.ts";
import { overridesOf, type RawSettings } from "./check-command.ts";
import type { FrameSpan } from "./fix.ts";
import { addLimitOptions, type RawLimits, usualTime } from "./limits.ts";
import {
  checksOption,
  formatOption,
  rateOption,
  skipOption,
  stageOption,
  styleOption,
  tierOption,
} from "./options.ts";
import { setOption } from "./set-option.ts";

interface RawFixOptions extends RawSettings, RawLimits {
  readonly only?: string[];
  readonly node?: string[];
  readonly frames?: FrameSpan;
  readonly failOn?: Tier;
  readonly format: "text" | "json";
  readonly out?: string;
  readonly write: boolean;
  readonly force: boolean;
  readonly sketch?: string[];
  readonly undo: boolean;
}

/** Adds `keyside fix`. */
export function addFixCommand(program: Command, io: Io, done: (code: number) => void): void {
  const command = program
    .command("fix")
    .summary("show, or make, changes of keys that clear notes")
    .description(
      "Finds changes of keys that clear a shot's notes, each tried in memory: its note is gone and nothing as heavy has " +
        "come. Shows them; writes them only where --write or --out says so.",
    )
    .argument("<file>", "the shot")
    .addOption(
      checksOption(
        "--only <CHECK>",
        "only notes of these checks; can be repeated, or take a list with commas",
        pluginsOf(io),
      ),
    )
    .addOption(
      new Option("--node <ID>", "only notes on this node; can be repeated").argParser(
        (text: string, before: readonly string[] | undefined) => [...(before ?? []), text],
      ),
    )
    .addOption(framesOption())
    .addOption(rateOption('frames per second at which the shot is judged, such as 24 or "24000/1001"'))
    .option("--config <FILE>", "configuration; otherwise the nearest keyside.config.json above the shot")
    .addOption(styleOption())
    .addOption(stageOption())
    .addOption(skipOption(pluginsOf(io)))
    .addOption(setOption(pluginsOf(io)))
    .addOption(
      tierOption(
        "--fail-on <NAME>",
        "lightest tier of a note that is left that ends with exit code 1; major if nothing is chosen",
      ),
    )
    .addOption(formatOption());
  addLimitOptions(command, usualTime.fixing)
    .addOption(
      checksOption(
        "--sketch <CHECK>",
        "where no fix is verified for notes of these checks, make a sketch; can be repeated, or take a list with commas",
        pluginsOf(io),
      ),
    )
    .option("--undo", "put the file back as it was before the last fixes that --write made", false)
    .option("--write", "change the keys in the file itself; every other line stays as it is", false)
    .option("--out <FILE>", "write the fixed shot to another file (*.curves.json)")
    .option("--force", "overwrite the file of --out; with --undo, a file that was changed since", false)
    .action(async (file: string, raw: RawFixOptions) => {
      if (raw.undo) {
        if (raw.write || raw.out !== undefined)
          throw new WrongUse("--undo stands alone; it looks for no fixes.");
        const { undoFixes } = await import("./fix-undo.ts");
        done(await undoFixes(file, raw.force, io));
        return;
      }
      const { fix } = await import("./fix.ts");
      // Which notes are fixed is no matter of which checks run: a fix has to hold before all of them.
      const { only: checks, sketch: sketches, ...settings } = raw;
      const { node: nodes, frames, config, failOn, format, out, write, force } = settings;
      const options = {
        checks,
        nodes,
        frames,
        config,
        failOn,
        format,
        out,
        write,
        force,
        sketches,
        limits: raw,
      };
      done(await fix(file, { ...options, overrides: await overridesOf(settings, io) }, io));
    });
}

function framesOption(): Option {
  return new Option("--frames <A-B>", "only notes that touch these frames, such as 40-62 or 48").argParser(
    (text: string): FrameSpan => {
      const match = /^\s*(-?\d+(?:\.\d+)?)\s*(?:-\s*(-?\d+(?:\.\d+)?)\s*)?$/.exec(text);
      const from = Number(match?.[1]);
      const to = match?.[2] === undefined ? from : Number(match[2]);
      if (match === null || to < from) {
        throw new InvalidArgumentError("Frames are one number, or two with a dash between, such as 40-62.");
      }
      return { from, to };
    },
  );
}
