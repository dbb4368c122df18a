import { reportSchema } from "@keyside/core/internal";
import { z } from "zod";

const { tool, shard, shots, errors, stopped } = reportSchema.shape;
const { notes, failures, ...shot } = shots.element.shape;
const count = z.number().int().min(0);

/** One line of the report as JSON lines. */
export const reportLineSchema = z
  .discriminatedUnion("kind", [
    z.object({ kind: z.literal("run"), tool, shard }).describe("The first line."),
    z
      .object({ kind: z.literal("shot"), ...shot, notes: count.describe("How many lines of notes follow.") })
      .describe("A shot; its notes follow."),
    z
      .object({ kind: z.literal("note"), file: z.string(), shot: z.string(), ...notes.element.shape })
      .describe("A note of the shot before."),
    z
      .object({
        kind: z.literal("failure"),
        file: z.string(),
        shot: z.string(),
        ...failures.unwrap().element.shape,
      })
      .describe("A check that ended in an error in the shot before; its notes are missing where it did."),
    z
      .object({ kind: z.literal("error"), ...errors.element.shape })
      .describe("An input that could not be judged."),
    z
      .object({
        kind: z.literal("end"),
        shots: count,
        notes: count,
        errors: count,
        failures: count.optional(),
        stopped,
      })
      .describe(
        "The last line; where it is missing, the report is not whole. Notes are counted in all tiers.",
      ),
  ])
  .describe("One line of what keyside check --format jsonl found.");

export type ReportLine = z.infer<typeof reportLineSchema>;

/** JSON Schema (draft 2020-12) of a line. */
export function reportLineJsonSchema(): Record<string, unknown> {
  return { title: "Keyside report line", ...z.toJSONSchema(reportLineSchema) };
}
