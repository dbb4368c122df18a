import { suggestion } from "@keyside/core/internal";
import { Argument, Command, CommanderError, InvalidArgumentError } from "commander";
import { exitCodes } from "../base/errors.ts";
import { version } from "../base/version.ts";
import { addArchiveCommands } from "./archive-commands.ts";
import { addBaselineCommand } from "./baseline-command.ts";
import { addCalibrateCommand } from "./calibrate-command.ts";
import { addCheckCommand } from "./check-command.ts";
import type { CommandIo } from "./command-io.ts";
import { addCompareCommand } from "./compare-command.ts";
import { addConvertCommands } from "./convert-command.ts";
import { addDeskCommand } from "./desk-command.ts";
import { addFeedCommand } from "./feed-command.ts";
import { addFixCommand } from "./fix-command.ts";
import { addHabitsCommand } from "./habits-command.ts";
import { addHistoryCommand } from "./history-command.ts";
import { formatOption } from "./options.ts";
import { addReviewCommand } from "./review-command.ts";
import { type SchemaName, schemaNames } from "./schema-names.ts";
import { addSheetCommand } from "./sheet-command.ts";

const examples = `
Examples:
  keyside check shots/jetty_0040.curves.json
  keyside check shots/ --tier major --fail-on minor
  keyside check "shots/**/*.bvh" --rate 24 --format json --out report.json
  keyside check archive/ --jobs 8 --format json --out report.json
  keyside check archive/ --shard 3/8 --format json --out part-3.json
  keyside baseline archive/ --out known.json
  keyside check archive/ --baseline known.json --format sarif --out new.sarif
  keyside calibrate approved/ --out keyside.config.json
  keyside merge part-*.json --format json --out report.json
  keyside config shots/jetty_0040.curves.json
  keyside fix shots/jetty_0040.curves.json --only pop,hitch --write
  keyside compare jetty_0040_v1.curves.json jetty_0040_v2.curves.json
  keyside history jetty_0040_v1.curves.json jetty_0040_v2.curves.json
  keyside review add jetty_0040_v1.curves.json --frames 40-62 --node head --text "Slow the head." --by Ada
  keyside habits shots/ --by-field animators
  keyside sheet jetty_0040_v2.curves.json --previous jetty_0040_v1.curves.json --out sheet.html
  keyside desk shots/jetty_0040.curves.json
  keyside explain hard-stop
  keyside convert capture.bvh capture.curves.json
  keyside formats

Exit codes: 0 nothing at or above the failing tier; 1 notes at or above it, or a broken document;
2 wrong use; 3 an input could not be judged, an output not written, or a check failed;
130 the run was stopped.
`;

/** The command line; whatever a command ends with is handed to \`done\`. */
export function programFor(io: CommandIo, done: (code: number) => void): Command {
  const program = new Command("keyside");
  program
    .description(
      "Finds where the motion of a character shot does not hold, and says so beside the keys that cause it.",
    )
    .version(version, "--version", "print the version")
    .helpOption("-h, --help", "show help")
    .addHelpText("after", examples)
    .exitOverride()
    .configureOutput({
      writeOut: io.stdout,
      writeErr: io.stderr,
      getOutHelpWidth: () => Math.min(io.columns, 100),
      getErrHelpWidth: () => Math.min(io.columns, 100),
      outputError: () => {},
    });

  addCheckCommand(program, io, done);
  addFixCommand(program, io, done);
  addCompareCommand(program, io, done);
  addHistoryCommand(program, io, done);
  addReviewCommand(program, io, done);
  addHabitsCommand(program, io, done);
  addBaselineCommand(program, io, done);
  addCalibrateCommand(program, io, done);
  addSheetCommand(program, io, done);
  addDeskCommand(program, io, done);
  addArchiveCommands(program, io, done);

  program
    .command("explain")
    .summary("list the checks, or explain one")
    .description(
      "Lists the checks, or tells all about one: what it computes, its settings, what is not a fault.",
    )
    .argument("[check]", "name of a check")
    .addOption(formatOption())
    .action(async (name: string | undefined, { format }: { format: "text" | "json" }) => {
      const { explain } = await import("./explain.ts");
      done(explain(name, format, io));
    });

  program
    .command("schema")
    .summary("list the JSON Schemas, or print one")
    .description("Lists the JSON Schemas of what is read and written, or prints one.")
    .addArgument(schemaArgument())
    .action(async (name: SchemaName | undefined) => {
      const { schema } = await import("./schema.ts");
      done(schema(name, io));
    });

  addConvertCommands(program, io, done);
  addFeedCommand(program, io, done);
  return program;
}

function schemaArgument(): Argument {
  const words = Object.keys(schemaNames);
  return new Argument("[name]", `which one (${words.join(", ")})`).argParser((text) => {
    if (words.includes(text)) return text;
    throw new InvalidArgumentError(`It is one of ${words.join(", ")}.${suggestion(text, words)}`);
  });
}

/** The exit code of commander's own endings, and the one line that a wrong use is answered with. */
export function endingOf(error: CommanderError): { readonly code: number; readonly reason: string | null } {
  if (error.exitCode === 0) return { code: exitCodes.clean, reason: null };
  if (error.code === "commander.help") return { code: exitCodes.wrongUse, reason: null };
  const reason = error.message.replace(/^error: /, "").replace(/\s*\n\s*/g, " ");
  return { code: exitCodes.wrongUse, reason };
}

export { CommanderError };
