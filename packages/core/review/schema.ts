import { z } from "zod";
import { finite, frames, id, vector3 } from "../document/schema/base.ts";
import { bodyParts } from "../document/schema/figures.ts";

/* What people say of a shot, in a file beside it: `NAME.review.json`. Lengths are metres in the world, y up. */

/** How much a remark matters, the heaviest first; `keep` is praise: what must not be lost. */
export const reviewWeights = ["must", "should", "could", "keep"] as const;
/** One of {@link reviewWeights}. */
export type ReviewWeight = (typeof reviewWeights)[number];

/** What can be said of a remark in a later version; a remark of which nothing is said is open. */
export const markStates = ["open", "done", "still-open"] as const;
/** One of {@link markStates}. */
export type MarkState = (typeof markStates)[number];

const by = z.string().min(1).describe("Who says so.");
const date = z
  .string()
  .regex(/^\d{4}-\d{2}-\d{2}(T\d{2}:\d{2}(:\d{2}(\.\d+)?)?(Z|[+-]\d{2}:?\d{2})?)?$/)
  .describe("When, in ISO 8601: 2031-04-02, or 2031-04-02T09:30:00Z.");
const rank = finite.describe("Place in the reviewer's order, the smallest first; what has none follows.");
const conflicts = id.describe(
  "Id of the entry that says otherwise: two people changed it at once, and somebody has to choose.",
);

export const reviewVersionSchema = z
  .looseObject({
    file: z.string().optional().describe("Name of the shot's file, without its folder."),
    revision: z.number().int().optional().describe("Revision in the shot's header."),
    hash: z.string().optional().describe("Fingerprint of its nodes and keys."),
  })
  .describe("The version of the shot that was looked at.");

const changed = z.object({ by, date }).describe("Who changed it last, and when.");

export const strokeSchema = z
  .looseObject({
    frame: finite.describe("Frame over which it was drawn."),
    frames: frames
      .optional()
      .describe("First and last frame of which it speaks; those of the remark if left out."),
    node: id.optional().describe("Part through which its plane runs; that of the remark if left out."),
    camera: id.optional().describe("Camera through which it was drawn; left out for a free view."),
    plane: z
      .object({ origin: vector3, normal: vector3 })
      .optional()
      .describe("Plane in which it lies: a point in metres, and its normal, which looks at whoever drew."),
    points: z
      .array(vector3)
      .min(1)
      .describe("Its points in the world, metres, y up, in the order of drawing."),
    colour: z
      .string()
      .regex(/^#[0-9a-fA-F]{6}$/)
      .optional()
      .describe("Six hexadecimal digits."),
    target: z
      .object({ node: id, frames })
      .optional()
      .describe(
        "Makes it the path that a part is to take: which part, and at which frame it is at either end of the line.",
      ),
  })
  .describe("A line that was drawn over the picture.");

export const remarkSchema = z
  .looseObject({
    kind: z.literal("remark"),
    id,
    frames: frames
      .optional()
      .describe("First and last frame of which it speaks; the whole shot if left out."),
    figure: id.optional(),
    node: id.optional(),
    part: z
      .enum(bodyParts)
      .optional()
      .describe("Which part of the body the node is, so that it is found again when the node is renamed."),
    text: z.string().min(1),
    weight: z.enum(reviewWeights).default("should"),
    by,
    date,
    version: reviewVersionSchema.optional(),
    rank: rank.optional(),
    strokes: z.array(strokeSchema).optional(),
    changed: changed.optional(),
    conflicts: conflicts.optional(),
  })
  .describe("What a person says of the shot.");

export const decisionSchema = z
  .looseObject({
    kind: z.literal("decision"),
    id,
    check: z.string().min(1),
    node: id.optional(),
    frames: frames.optional(),
    fingerprint: z.string().optional().describe("The note's own, by which it is known again first."),
    verdict: z.enum(["kept", "dropped"]).describe("A note that is dropped is waived, as by a waiver."),
    reason: z.string().min(1).optional().describe("Why it is dropped."),
    text: z.string().min(1).optional().describe("The reviewer's words for it."),
    weight: z.enum(["must", "should", "could"]).optional().describe("What it is raised or lowered to."),
    rank: rank.optional(),
    lastRevision: z
      .number()
      .int()
      .optional()
      .describe("The last revision for which it holds, where it is dropped."),
    by,
    date,
    version: reviewVersionSchema.optional(),
    carried: z
      .object({ by, date, from: z.string() })
      .optional()
      .describe("Who carried it over from an earlier version, when, and the name of that version's file."),
    changed: changed.optional(),
    conflicts: conflicts.optional(),
  })
  .describe("What a person decides about a computed note; check, node and frames say which, as in a waiver.");

export const markSchema = z
  .looseObject({
    kind: z.literal("mark"),
    id,
    of: id.describe("Id of the remark."),
    state: z.enum(markStates),
    text: z.string().min(1).optional(),
    by,
    date,
    version: reviewVersionSchema.optional(),
  })
  .describe("What became of a remark, in the version that was looked at.");

export const unreadSchema = z
  .object({ kind: z.literal("unread"), text: z.string() })
  .describe("A piece of the file that could not be read, as it stood there.");

export const entrySchema = z.discriminatedUnion("kind", [
  remarkSchema,
  decisionSchema,
  markSchema,
  unreadSchema,
]);

export const reviewFileSchema = z
  .looseObject({
    format: z.literal("keyside.review"),
    version: z.literal(1),
    shot: z.string().optional().describe("Name of the shot."),
    entries: z
      .array(z.union([entrySchema, z.null()]))
      .describe(
        "An entry a line, sorted by kind and id. The list ends with null, so that the line of each entry ends with a comma and versions of the file can be merged line by line.",
      ),
  })
  .describe("What people say of a shot, and decide about its computed notes, in a file beside it.");

/** The members that a schema knows, without those that it lets pass. */
type Known<T> = { [Name in keyof T as string extends Name ? never : Name]: T[Name] };

/** What of an entry could not be read, by member, kept so that it is written back. */
interface WithUnread {
  readonly unread?: Readonly<Record<string, unknown>> | undefined;
}

/** A line that was drawn over the picture: metres in the world, y up. */
export type Stroke = Known<z.infer<typeof strokeSchema>>;
/** The version of a shot of which somebody speaks. */
export type ReviewVersion = Known<z.infer<typeof reviewVersionSchema>>;
/** What a person says of a shot. */
export type Remark = Known<z.infer<typeof remarkSchema>> & WithUnread;
/** What a person decides about a computed note. */
export type Decision = Known<z.infer<typeof decisionSchema>> & WithUnread;
/** What became of a remark. */
export type Mark = Known<z.infer<typeof markSchema>> & WithUnread;
/** Any of them. */
export type ReviewEntry = Remark | Decision | Mark;

/** A file of what people say of a shot, as it was read or built. */
export interface ReviewFile {
  /** Name of the shot; null where nobody said. */
  readonly shot: string | null;
  /** Sorted by id. */
  readonly remarks: readonly Remark[];
  readonly decisions: readonly Decision[];
  readonly marks: readonly Mark[];
  /** Pieces of the file that could not be read, as they stood there; they are written back. */
  readonly unread: readonly unknown[];
  /** Members of the file that this version does not know. */
  readonly extra: Readonly<Record<string, unknown>>;
}

/**
 * A review in which nothing stands.
 * @param shot name of the shot, null if it is not known
 * @returns a new review
 */
export function emptyReview(shot: string | null = null): ReviewFile {
  return { shot, remarks: [], decisions: [], marks: [], unread: [], extra: {} };
}

/**
 * JSON Schema (draft 2020-12) of a review file, for editors and other programs.
 * @returns plain data; write it with `JSON.stringify`
 */
export function reviewFileJsonSchema(): Record<string, unknown> {
  return { title: "Keyside review", ...z.toJSONSchema(reviewFileSchema, { io: "input" }) };
}
