import { z } from "zod";
import { tiers } from "../settings/tier.ts";
import { matchedBy } from "./compare-match.ts";
import { followedSchema } from "./followed-schema.ts";
import { reportSchema } from "./report-schema.ts";

/** What `keyside compare` writes for other systems. */

const { notes, waived } = reportSchema.shape.shots.element.shape;
const noteSchema = notes.element;
/** A note that is waived in one version at least: what stands in the other may not be. */
const perhapsWaived = waived.unwrap().element.partial({ waiver: true });

const versionSchema = z.object({
  file: z.string(),
  name: z.string(),
  revision: z.number().int().nullable().describe("null where the document names none."),
  frameRate: z.union([z.number(), z.string()]).describe('A number, or a fraction such as "24000/1001".'),
  range: z.tuple([z.number(), z.number()]).describe("First and last frame that was judged."),
  notes: z.number().int().min(0).describe("How many notes it has that are not waived."),
});

const pair = {
  before: noteSchema.describe("As it is in the older version, with its frames there."),
  after: noteSchema.describe("As it is in the newer version."),
  knownBy: z
    .enum(matchedBy)
    .describe("By what it was known again: fingerprint, causing key, part and time, or its numbers."),
};

export const comparisonSchema = z
  .object({
    tool: z.object({ name: z.literal("keyside"), version: z.string() }),
    before: versionSchema.describe("The older version."),
    after: versionSchema.describe("The newer version."),
    times: z
      .array(z.tuple([z.number(), z.number()]))
      .describe(
        "Frames of the older version and what they are in the newer one, worked out from the keys; straight lines " +
          "run between them, and one frame for one outside. Empty where no key is in both.",
      ),
    fixed: z.array(noteSchema).describe("Gone; as they were in the older version."),
    changed: z
      .array(
        z.object({
          ...pair,
          verdict: z.enum(["better", "worse"]),
          fixedShare: z
            .number()
            .nullable()
            .describe(
              "What part of the excess over the limit went: 1 is all, negative is more than before; null where only " +
                "the weight changed.",
            ),
        }),
      )
      .describe("Still there, and lighter or heavier than before."),
    still: z.array(z.object(pair)).describe("Still there as they were."),
    new: z.array(noteSchema).describe("Were not there before."),
    waived: z
      .array(z.object({ before: perhapsWaived.nullable(), after: perhapsWaived.nullable() }))
      .describe("Waived in the newer version, or waived in the older one and gone."),
    people: z
      .array(followedSchema)
      .optional()
      .describe(
        "Remarks and target paths of the review files, in both versions; absent where there are none.",
      ),
    elsewhere: z
      .object({
        node: z.string(),
        part: z.string().describe("Its name for people."),
        frame: z.number().describe("Frame of the newer version."),
        metres: z.number(),
      })
      .nullable()
      .describe(
        "The part that moved farthest outside the frames of fixed and changed notes, widened by a quarter of a " +
          "second; null where none moved by 0.5 % of the stature.",
      ),
    failOn: z.enum(tiers),
    failing: z
      .boolean()
      .describe("Whether something at or above the tier of failOn is there that was not, or was lighter."),
  })
  .describe("What became of the notes of a shot from one version to the next.");

export type ReportedComparison = z.infer<typeof comparisonSchema>;

/** JSON Schema (draft 2020-12) of a comparison. */
export function comparisonJsonSchema(): Record<string, unknown> {
  return { title: "Keyside comparison", ...z.toJSONSchema(comparisonSchema) };
}
