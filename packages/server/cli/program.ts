import { type StyleName, suggestion, type Tier } from "@keyside/core";
import { Argument, Command, CommanderError, InvalidArgumentError } from "commander";
import type { ReportFormat } from "../report/formats.ts";
import { version } from "../version.ts";
import type { ConvertOptions } from "./convert.ts";
import { exitCodes, type Io } from "./io.ts";
import {
  formatOption,
  onlyOption,
  rateOption,
  reportFormatOption,
  styleOption,
  tierOption,
} from "./options.ts";

const examples = `
Examples:
  keyside check shots/jetty_0040.curves.json
  keyside check shots/ --tier major --fail-on minor
  keyside check "shots/**/*.bvh" --rate 24 --format json --out report.json
  keyside explain hard-stop
  keyside convert capture.bvh capture.curves.json

Exit codes: 0 nothing at or above the failing tier; 1 notes at or above it, or a broken document;
2 wrong use; 3 an input could not be read or an output not written.
`;

/** The command line; whatever a command ends with is handed to \`done\`. */
export function programFor(io: Io, done: (code: number) => void): Command {
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

  program
    .command("check")
    .summary("check shots and report where their motion breaks")
    .description("Checks shots: files, folders with all that is under them, or quoted glob patterns.")
    .argument("<path...>", "files, folders or patterns")
    .addOption(rateOption('frames per second at which the shot is judged, such as 24 or "24000/1001"'))
    .option("--config <FILE>", "configuration; otherwise the nearest keyside.config.json above each shot")
    .addOption(styleOption())
    .addOption(tierOption("--tier <NAME>", "lightest tier that is shown").default("polish"))
    .addOption(
      tierOption("--fail-on <NAME>", "lightest tier that ends with exit code 1; major if nothing is chosen"),
    )
    .addOption(reportFormatOption())
    .option("--figure <ID>", "only this figure's notes")
    .addOption(onlyOption())
    .option("--out <FILE>", "write the report to a file")
    .option("--force", "overwrite the file of --out", false)
    .action(async (paths: string[], options: RawCheckOptions) => {
      const { check } = await import("./check.ts");
      const { rate, style, only, config, tier, failOn, format, figure, out, force } = options;
      const overrides = {
        ...(rate === undefined ? {} : { rate }),
        ...(style === undefined ? {} : { style }),
        ...(only === undefined ? {} : { only }),
      };
      done(await check(paths, { overrides, config, tier, failOn, format, figure, out, force }, io));
    });

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
    .summary("print a JSON Schema")
    .description("Prints the JSON Schema of the curve document, the configuration or the report.")
    .addArgument(schemaArgument())
    .action(async (name: "document" | "config" | "report") => {
      const { schema } = await import("./schema.ts");
      done(schema(name, io));
    });

  program
    .command("convert")
    .summary("write a shot as a curve document")
    .description("Reads a shot and writes it as a curve document (*.curves.json).")
    .argument("<in>", "the shot")
    .argument("<out>", "the curve document")
    .addOption(rateOption("frames per second at which captured motion is taken over, such as 24"))
    .option("--force", "overwrite the output", false)
    .action(async (input: string, output: string, options: ConvertOptions) => {
      const { convert } = await import("./convert.ts");
      done(await convert(input, output, options, io));
    });
  program
    .command("feed")
    .summary("serve notes to an editor while keys are edited")
    .description(
      "Serves the Language Server Protocol to editors, and the host channel to tools that hold no text.",
    )
    .option("--stdio", "serve one client over stdin and stdout")
    .action(async () => {
      const { feedStdio } = await import("./feed.ts");
      done(await feedStdio(process.stdin, process.stdout));
    });
  return program;
}

interface RawCheckOptions {
  readonly rate?: number;
  readonly style?: StyleName;
  readonly only?: string[];
  readonly config?: string;
  readonly tier: Tier;
  readonly failOn?: Tier;
  readonly format: ReportFormat;
  readonly figure?: string;
  readonly out?: string;
  readonly force: boolean;
}

function schemaArgument(): Argument {
  const words = ["document", "config", "report"];
  return new Argument("[name]", `which one (${words.join(", ")})`).default("document").argParser((text) => {
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
