import { markStates, reviewWeights } from "@keyside/core";
import { type Command, InvalidArgumentError, Option } from "commander";
import type { Io } from "../base/io.ts";
import { choice } from "./options.ts";
import type { ReviewOptions } from "./review.ts";
import { reviewVerbs } from "./review-verbs.ts";

/** Adds `keyside review`. */
export function addReviewCommand(program: Command, io: Io, done: (code: number) => void): void {
  program
    .command("review")
    .summary("read and write the review file of a shot")
    .description(
      "Reads and writes NAME.review.json beside a shot: list SHOT, add SHOT, decide SHOT, mark SHOT, export SHOT, import SHOT FILE, " +
        "carry OLD NEW, which takes decisions to the next version, and merge BASE OURS THEIRS, which Git can call for review files.",
    )
    .argument("<verb>", `what to do: ${reviewVerbs.join(", ")}`, verbArgument)
    .argument(
      "<file...>",
      "the shot; for import the rows too, for carry the next version, for merge three review files",
    )
    .option("--by <NAME>", "who says so")
    .option("--date <DATE>", "when, in ISO 8601; now if left out")
    .addOption(
      new Option("--frames <A-B>", "frames of which it speaks, such as 40 or 40-62").argParser(
        framesArgument,
      ),
    )
    .option("--node <ID>", "node of which it speaks")
    .option("--text <TEXT>", "what is said")
    .addOption(choice("--weight <WEIGHT>", "how much it matters", reviewWeights))
    .option("--check <NAME>", "for decide: the check whose note is meant")
    .addOption(choice("--verdict <VERDICT>", "for decide: kept or dropped", ["kept", "dropped"] as const))
    .option("--reason <TEXT>", "for decide: why it is dropped")
    .option("--remark <ID>", "for mark: id of the remark")
    .addOption(choice("--state <STATE>", "for mark: what became of it", markStates))
    .addOption(choice("--format <NAME>", "for export and import", ["csv", "jsonl"] as const).default("csv"))
    .option("--out <FILE>", "for export: write to a file")
    .option("--force", "overwrite the file of --out; for carry: replace decisions that are there", false)
    .action(async (verb: (typeof reviewVerbs)[number], files: string[], raw: ReviewOptions) => {
      const { review } = await import("./review.ts");
      done(await review(verb, files, raw, io));
    });
}

function verbArgument(text: string): (typeof reviewVerbs)[number] {
  const verb = reviewVerbs.find((one) => one === text);
  if (verb === undefined) throw new InvalidArgumentError(`It is one of ${reviewVerbs.join(", ")}.`);
  return verb;
}

function framesArgument(text: string): [number, number] {
  const [, first, last = first] = /^(-?\d+(?:\.\d+)?)(?:-(-?\d+(?:\.\d+)?))?$/.exec(text.trim()) ?? [];
  if (first === undefined) throw new InvalidArgumentError("Write a frame, or the first and the last: 40-62.");
  return [Number(first), Number(last)];
}
