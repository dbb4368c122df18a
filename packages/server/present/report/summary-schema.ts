import { reportSchema } from "@keyside/core/internal";
import { z } from "zod";

const { tool, shard, stopped } = reportSchema.shape;
const count = z.number().int().min(0);

/** What came of a run, in numbers alone. */
export const summarySchema = z
  .object({
    tool,
    shard,
    shots: count.describe("Shots that were judged."),
    failing: count.describe("Shots with a note at or above the tier that fails."),
    notes: z
      .object({ broken: count, major: count, minor: count, polish: count })
      .describe("Notes by tier; those below --tier are not counted."),
    checks: z.record(z.string(), count).describe("The same notes by check, in the order of their names."),
    waived: count.describe("Notes that are intended."),
    remarks: z
      .object({ open: count, done: count, praise: count })
      .optional()
      .describe("Only where a shot has a review file: what people say, by what became of it."),
    known: count.optional().describe("Only with a baseline: notes that it knows, which are left out."),
    errors: count.describe("Inputs that could not be judged."),
    failures: z.array(z.string()).describe("Checks that ended in an error somewhere."),
    stopped,
  })
  .describe("What keyside check --format summary found.");

export type Summary = z.infer<typeof summarySchema>;

/** JSON Schema (draft 2020-12) of the summary. */
export function summaryJsonSchema(): Record<string, unknown> {
  return { title: "Keyside summary", ...z.toJSONSchema(summarySchema) };
}
