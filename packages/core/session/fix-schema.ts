import { z } from "zod";
import { channels, interpolations } from "../document/model.ts";
import { tiers } from "../settings/tier.ts";
import { moveKinds } from "./moves.ts";

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

export const moveSchema = z.object({
  kind: z.enum(moveKinds),
  nodes: z.array(z.string()).describe("The nodes of which keys change."),
  channel: z.enum(channels).nullable().describe("null where channels of a whole limb take part."),
  frames: z.tuple([z.number(), z.number()]).describe("First and last key that it touches."),
  keys: z.number().describe("Keys that it changes, adds or takes out."),
  text: z.string().describe("As it is read: `upper_arm_l rotation.x: key 1032 → 1034`."),
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
          kind: z
            .enum(["fix", "sketch"])
            .describe("A sketch keys a span anew, or changes other motion; only made where it is asked for."),
          title: z.string().describe("What it does."),
          moves: z.array(moveSchema),
          keys: z.array(keyChangeSchema),
          gone: z.array(noteSchema).describe("The note, and others that go with it."),
          added: z.array(noteSchema).describe("Lighter notes that it introduces."),
        }),
      )
      .describe(
        "Fixes that are verified, one after another: each belongs to the shot that the one before leaves.",
      ),
    unfixed: z
      .array(
        noteSchema.extend({
          why: z
            .string()
            .nullable()
            .describe("What is said against the first change that clears it; null where nothing does."),
          sketch: z
            .object({ title: z.string(), moves: z.array(moveSchema) })
            .nullable()
            .describe("What `--sketch` with the check's name would make of it."),
        }),
      )
      .describe("Notes that were asked for, and for which no fix could be verified."),
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
