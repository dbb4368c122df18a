import { z } from "zod";
import { reportSchema } from "./report-schema.ts";

/* What `keyside history` writes for other systems, and `keyside compare` of what people say. */

/** What can be said of a note, a remark or a target path in one version. */
export const followedStates = [
  ...(["new", "still", "better", "worse", "gone", "dropped", "back"] as const),
  ...(["made", "open", "still-open", "done", "praise"] as const),
  ...(["off", "met", "not measured"] as const),
] as const;
/** One of {@link followedStates}. */
export type FollowedState = (typeof followedStates)[number];

const { measured } = reportSchema.shape.shots.element.shape.notes.element.shape;
const span = z.tuple([z.number(), z.number()]);

const cellSchema = z.object({
  state: z.enum(followedStates),
  frames: span.nullable().describe("Of the note in this version."),
  measured: measured.describe("Of the note in this version."),
  mean: z.number().nullable().describe("Mean distance of a path from its target, metres."),
  largest: z.number().nullable().describe("Largest distance, metres."),
  late: span.nullable().describe("Frames by which the part is late at either end of its target path."),
});

export const followedSchema = z.object({
  kind: z.enum(["note", "remark", "target"]),
  id: z.string().describe("Fingerprint of the note, or id of the remark."),
  title: z.string().describe("Name of the check; remark, praise or target path."),
  part: z.string(),
  weight: z.string().describe("Tier of a note; must, should, could or keep of a remark."),
  frames: span.nullable(),
  by: z.string().nullable(),
  text: z.string(),
  opened: z.number().int().min(0).describe("Index of the version in which it was first."),
  closed: z
    .number()
    .int()
    .min(0)
    .nullable()
    .describe("Index of the version from which it is closed; null while it is open."),
  cells: z.array(cellSchema.nullable()).describe("One for each version; null where there is nothing to say."),
});

export const shotHistorySchema = z
  .object({
    tool: z.object({ name: z.literal("keyside"), version: z.string() }),
    shot: z.string(),
    versions: z.array(
      z.object({
        file: z.string(),
        revision: z.number().int().nullable(),
        frameRate: z.union([z.number(), z.string()]),
        range: span,
      }),
    ),
    rows: z.array(followedSchema),
    problems: z.array(z.string()).describe("What of the review files cannot be used."),
  })
  .describe("What became of notes, remarks and target paths over versions of a shot.");

/** What became of them, as other systems read it. */
export type ShotHistory = z.infer<typeof shotHistorySchema>;

/** JSON Schema (draft 2020-12) of the history of a shot. */
export function shotHistoryJsonSchema(): Record<string, unknown> {
  return { title: "Keyside history of a shot", ...z.toJSONSchema(shotHistorySchema) };
}
