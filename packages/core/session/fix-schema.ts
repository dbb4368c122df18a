import { z } from "zod";
import { channels, interpolations } from "../document/model.ts";
import { tiers } from "../settings/tier.ts";

/** What `keyside fix` writes for other systems. */

const numbers = z.union([z.number(), z.array(z.number())]);

const keyStateSchema = z.object({
  frame: z.number(),
  value: numbers.describe("A number, or a quaternion [x, y, z, w]."),
  in: numbers.optional().describe("Handle [frames, value], or slope."),
  out: numbers.optional(),
  interpolation: z.enum(interpolations),
});

const keyChangeSchema = z.object({
  node: z.string(),
  channel: z.enum(channels),
  before: keyStateSchema.nullable().describe("null for a key that comes in."),
  after: keyStateSchema.nullable().describe("null for a key that goes."),
});

const noteSchema = z.object({
  check: z.string(),
  tier: z.enum(tiers),
  weight: z.number(),
  figure: z.string().nullable(),
  node: z.string().nullable(),
  frames: z.tuple([z.number(), z.number()]),
  message: z.string(),
  fingerprint: z.string(),
});

export const fixSchema = z
  .object({
    tool: z.object({ name: z.literal("keyside"), version: z.string() }),
    file: z.string(),
    name: z.string(),
    fixes: z
      .array(
        z.object({
          note: noteSchema,
          fix: z.string().describe("Name of the fix."),
          title: z.string().describe("What it does."),
          keys: z.array(keyChangeSchema),
          gone: z.array(noteSchema).describe("The note, and others that go with it."),
          added: z.array(noteSchema).describe("Lighter notes that it introduces."),
        }),
      )
      .describe(
        "Fixes that are verified, one after another: each belongs to the shot that the one before leaves.",
      ),
    unfixed: z
      .array(noteSchema)
      .describe("Notes that were asked for, and for which nothing could be verified."),
    left: z.array(noteSchema).describe("All notes that the shot has then."),
    written: z.string().nullable().describe("The file to which the fixed shot was written."),
    failOn: z.enum(tiers),
    failing: z.boolean().describe("Whether a note at or above the failing tier is left."),
  })
  .describe("Fixes of a shot.");

export type FixReport = z.infer<typeof fixSchema>;

/** JSON Schema (draft 2020-12) of what `keyside fix` writes. */
export function fixJsonSchema(): Record<string, unknown> {
  return { title: "Keyside fixes", ...z.toJSONSchema(fixSchema) };
}
