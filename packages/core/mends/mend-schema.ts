import { z } from "zod";
import { channels, interpolations } from "../document/model.ts";
import { tiers } from "../notes/note.ts";

/** What `keyside mend` writes for other systems. */

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

export const mendSchema = z
  .object({
    tool: z.object({ name: z.literal("keyside"), version: z.string() }),
    file: z.string(),
    name: z.string(),
    mends: z
      .array(
        z.object({
          note: noteSchema,
          mend: z.string().describe("Name of the mend."),
          title: z.string().describe("What it does."),
          keys: z.array(keyChangeSchema),
          gone: z.array(noteSchema).describe("The note, and others that go with it."),
          added: z.array(noteSchema).describe("Lighter notes that it leaves in exchange."),
        }),
      )
      .describe(
        "Mends that are proven, one after another: each belongs to the shot that the one before leaves.",
      ),
    unmended: z
      .array(noteSchema)
      .describe("Notes that were asked for, and for which nothing could be proven."),
    left: z.array(noteSchema).describe("All notes that the shot has then."),
    written: z.string().nullable().describe("The file to which the mended shot was written."),
    failOn: z.enum(tiers),
    failing: z.boolean().describe("Whether a note at or above the failing tier is left."),
  })
  .describe("Mends of a shot.");

export type MendReport = z.infer<typeof mendSchema>;

/** JSON Schema (draft 2020-12) of what `keyside mend` writes. */
export function mendJsonSchema(): Record<string, unknown> {
  return { title: "Keyside mends", ...z.toJSONSchema(mendSchema) };
}
