import type { Command } from "commander";
import type { Io } from "../base/io.ts";
import type { ConvertOptions } from "./convert.ts";
import { addLimitOptions, usualTime } from "./limits.ts";
import { animationOption, choice, formatOption, rateOption } from "./options.ts";

const help = `
The endings tell the formats; keyside formats lists them, and what each cannot carry.

Examples:
  keyside convert capture.bvh capture.curves.json
  keyside convert jetty.curves.json jetty.glb
  keyside convert jetty.curves.json jetty.bvh
  keyside convert crowd.glb walk.csv --animation Walk --layout wide
  keyside convert crowd.glb crowd.curves.json --animation all
  keyside convert jetty.curves.json jetty.csv --decimal-comma

A table of keys (*.csv) has a table of nodes beside it (*.nodes.csv), which is written and read with it.
What the output could not carry is said on stderr.

Exit codes: 0 written; 1 written, and something in the input is broken; 2 wrong use; 3 not read or not written.
`;

/** Adds \`keyside convert\` and \`keyside formats\`. */
export function addConvertCommands(program: Command, io: Io, done: (code: number) => void): void {
  const convert = program
    .command("convert")
    .summary("write a shot in another format")
    .description("Reads a shot and writes it in another format: curve document, glTF, BVH or table.")
    .argument("<in>", "the shot")
    .argument("<out>", "what is written; its ending tells the format")
    .addHelpText("after", help)
    .addOption(rateOption("frames per second at which captured motion is taken over, such as 24"))
    .addOption(animationOption("all writes each to a file of its own, with its name before the ending"))
    .option("--bake", "write a value on every frame instead of keys")
    .addOption(
      choice("--layout <NAME>", "layout of a table: a number a row, or a frame a row", ["long", "wide"]),
    )
    .option("--decimal-comma", "in a table, write decimal commas, and semicolons between cells", false)
    .option(
      "--safe-cells",
      "in a table, put an apostrophe before names that a spreadsheet would take for formulas",
      false,
    )
    .option("--force", "overwrite the output", false);
  addLimitOptions(convert, usualTime.judging).action(
    async (input: string, output: string, options: ConvertOptions) => {
      const { convert } = await import("./convert.ts");
      done(await convert(input, output, options, io));
    },
  );

  program
    .command("formats")
    .summary("list the formats that are read and written")
    .description("Lists the formats, what is done with each, and what it cannot carry.")
    .addOption(formatOption())
    .action(async ({ format }: { format: "text" | "json" }) => {
      const { formats } = await import("./formats.ts");
      done(formats(format, io));
    });
}
