import { z } from "zod";
import { unitNames } from "../base/quantity.ts";
import { channels } from "../document/model.ts";
import { tiers } from "../settings/tier.ts";

/** The report that other systems read: one object per run, one entry per shot, one per note. */

const line = z.number().int().min(1).nullable().describe("1-based; null where the shot has no text.");
const column = z.number().int().min(1).nullable().describe("1-based; null where the shot has no text.");

/** Where a piece of text ends; both are there, or neither. */
const ending = {
  endLine: z.number().int().min(1).optional().describe("1-based; the line on which its text ends."),
  endColumn: z
    .number()
    .int()
    .min(1)
    .optional()
    .describe("1-based; the column behind the last character of its text."),
};

const keySchema = z.object({
  node: z.string(),
  channel: z.enum(channels),
  frame: z.number().describe("The key's time in the document's numbering."),
  line,
  column,
  ...ending,
});

const placeSchema = z.object({ line: z.number().int().min(1), column: z.number().int().min(1), ...ending });

const measuredSchema = z.object({ quantity: z.string(), value: z.number(), unit: z.enum(unitNames) });
const expectedSchema = z.object({
  min: z.number().optional(),
  max: z.number().optional(),
  unit: z.enum(unitNames),
  source: z.string().describe("A published source, or common practice."),
});

/** Why a note stands where it does. */
export const rankSchema = z
  .object({
    plainness: z
      .number()
      .min(0)
      .describe(
        "The greater comes first, where that of a minor note is halved, and polish comes last: size × √seconds × cube root of the share of the figure that goes along × distance, three times as much for what is of the act. 0 for what is put right elsewhere than in keys.",
      ),
    isOfAct: z
      .boolean()
      .describe(
        "Whether it says how the body gets, bears and spends its weight, or when the beats of its act come.",
      ),
    metres: z.number().min(0).describe("How far what is seen is from where it should be, in metres."),
    size: z.number().min(0).describe("The same as a share of the height of what `of` names."),
    of: z
      .enum(["body", "picture"])
      .describe(
        "The body; or the picture, where the shot has a camera. What it does not see has size 0 there.",
      ),
    seconds: z
      .number()
      .min(0)
      .describe("How long it lasts, or over how long putting it right moves what is seen."),
    excess: z.number().nullable().describe("How many times its threshold it is; null where that is 0."),
    part: z.string().nullable().describe("The part of the body on which it shows; null where it is none."),
  })
  .describe("Why a note stands where it does.");

const alsoSchema = z
  .object({
    check: z.string(),
    tier: z.enum(tiers),
    figure: z.string().nullable(),
    node: z.string().nullable(),
    part: z.string(),
    frames: z.tuple([z.number(), z.number()]),
    message: z.string(),
    fingerprint: z.string(),
    place: placeSchema
      .optional()
      .describe("Its first key, else its node, in the text; absent where the shot has none."),
  })
  .describe(
    "A finding for which a note speaks: the same change clears both, or it is the same on the other side.",
  );

const fixSchema = z
  .object({
    title: z.string().describe("What it does."),
    replacements: z
      .array(placeSchema.required().extend({ text: z.string().describe("What comes in its place.") }))
      .describe("Pieces of the shot's text, in order, none over another; made all at once."),
    gone: z.array(z.string()).describe("Fingerprints of the notes that go with it, this one among them."),
  })
  .describe(
    "A change of the shot's text that clears the note: tried, with no note as heavy in its place and no other motion changed.",
  );

const noteSchema = z.object({
  check: z.string().describe("Name of the check; for a broken document the code of the problem."),
  tier: z.enum(tiers),
  weight: z.number().min(0).max(1).describe("How much it matters, 0 to 1."),
  figure: z.string().nullable(),
  node: z.string().nullable().describe("The node whose keys are to be looked at."),
  part: z
    .string()
    .describe(
      "The body part on which it is seen, with the figure where there are several; else what it stands under.",
    ),
  frames: z
    .tuple([z.number(), z.number()])
    .nullable()
    .describe("First and last frame; null for a problem that has no frame."),
  keys: z.array(keySchema).describe("The keys that cause it, the one that causes most first."),
  message: z.string(),
  measured: measuredSchema.nullable().describe("null for a broken document."),
  expected: expectedSchema.nullable().describe("null for a broken document."),
  why: z.string(),
  suggestion: z.string(),
  fingerprint: z.string().describe("Stays the same when keys are re-timed or lines move."),
  rank: rankSchema.optional().describe("Absent for a broken document and for waivers that answer nothing."),
  also: z
    .array(alsoSchema)
    .optional()
    .describe("What it speaks for, none of it heavier; absent where that is nothing."),
  place: placeSchema
    .optional()
    .describe(
      "Where a broken document is broken, where a waiver stands that answers nothing, or the node of a note without a key in the text.",
    ),
  fix: fixSchema.optional().describe("Only where fixes were asked for, and one was found."),
});

const waivedNoteSchema = noteSchema
  .extend({
    waiver: z.object({
      reason: z.string(),
      by: z.string().optional().describe("Who says so."),
      lastRevision: z.number().int().optional().describe("The last revision for which it holds."),
      inDocument: z
        .boolean()
        .describe("Whether it stands in the shot's own document; else in a file beside it."),
    }),
  })
  .describe("A note that is intended.");

export const failureSchema = z
  .object({
    check: z.string(),
    subject: z
      .string()
      .nullable()
      .describe("Where it failed first: a node, a figure, a curve; null for the whole shot."),
    others: z.number().int().min(0).describe("On how many more parts of the shot it failed."),
    message: z.string().describe("What the first error says."),
  })
  .describe("A check that ended in an error: its notes are missing where it did, all others stand.");

const strengthSchema = z
  .object({
    kind: z.string().describe("What holds, as docs/strengths.md lists it: true-fall, rooted-foot …"),
    title: z.string(),
    figure: z.string(),
    node: z.string().describe("The node of which it speaks first."),
    part: z.string().describe("The body part that the node is, with the figure where there are several."),
    frames: z.tuple([z.number(), z.number()]).describe("First and last frame."),
    message: z.string(),
    measured: measuredSchema,
    within: expectedSchema.describe("The bounds within which it lies."),
    rank: rankSchema
      .omit({ excess: true, of: true, isOfAct: true })
      .describe("What its place follows from: how much of the picture it carries, for how long."),
  })
  .describe("One thing that convinces.");

const targetSchema = z
  .object({
    node: z.string(),
    part: z.string(),
    frames: z.tuple([z.number(), z.number()]),
    mean: z.number().describe("Mean distance from the line, metres."),
    largest: z.number().describe("Largest distance from the line, metres."),
    largestAt: z.number().describe("Frame of the largest distance."),
    late: z
      .tuple([z.number(), z.number()])
      .describe("Frames by which the part is late at either end of the line; early below 0."),
    covered: z.number().describe("Share of the line that the part goes along, 0 to 1."),
  })
  .describe("How the path of a part runs beside the line that was drawn for it.");

const reviewWeight = z.enum(["must", "should", "could", "keep"]);
const reviewRemarkSchema = z.object({
  kind: z.literal("remark"),
  id: z.string(),
  weight: reviewWeight.describe("How much it matters; keep is praise."),
  text: z.string(),
  by: z.string(),
  date: z.string(),
  figure: z.string().nullable(),
  node: z.string().nullable(),
  part: z.string().describe('The body part in words; "the shot" where it names none.'),
  frames: z.tuple([z.number(), z.number()]).nullable().describe("null for the whole shot."),
  state: z.enum(["open", "done", "still-open"]).describe("What was said of it last."),
  strokes: z.number().int().min(0).describe("How many lines were drawn with it."),
  targets: z.array(targetSchema),
  conflicts: z.string().optional().describe("Id of the remark that says otherwise."),
});
const reviewNoteSchema = z.object({
  kind: z.literal("note"),
  fingerprint: z.string().describe("Of the note among the notes of the shot."),
  frames: z.tuple([z.number(), z.number()]).nullable(),
  weight: reviewWeight,
  text: z
    .string()
    .nullable()
    .describe("The reviewer's words for it; null where it is told as it was computed."),
  by: z.string().nullable().describe("Who decided about it; null where nobody did."),
  isWeighed: z.boolean().describe("Whether the reviewer raised or lowered it."),
});
const reviewSchema = z
  .object({
    list: z
      .array(z.discriminatedUnion("kind", [reviewRemarkSchema, reviewNoteSchema]))
      .describe(
        "Remarks and notes in one list, in the reviewer's order; what has no place there follows by weight.",
      ),
    problems: z.array(z.string()).describe("What of the review cannot be used, or does not fit the shot."),
  })
  .describe("What people say of the shot, from the review file beside it.");

const shotSchema = z.object({
  file: z.string(),
  name: z.string(),
  frameRate: z.union([z.number(), z.string()]).describe('A number, or a fraction such as "24000/1001".'),
  range: z.tuple([z.number(), z.number()]).describe("First and last frame that was judged."),
  figures: z.array(z.string()).describe("Ids of the shot's figures."),
  inferred: z.array(z.string()).describe("What the document leaves out and was inferred."),
  notes: z.array(noteSchema),
  alike: z
    .array(
      z.object({
        check: z.string(),
        part: z.string().describe("The part on which it shows, without the figure."),
        figures: z.array(z.string()).describe("Ids of the figures that do it."),
        of: z.number().int().min(0).describe("How many figures the shot has."),
      }),
    )
    .optional()
    .describe("What at least three figures, and half of all, do alike; absent where that is nothing."),
  waived: z
    .array(waivedNoteSchema)
    .optional()
    .describe("Notes that are intended, apart from the others; absent where there are none."),
  failures: z
    .array(failureSchema)
    .optional()
    .describe("Checks that ended in an error; absent where none did."),
  strengths: z
    .array(strengthSchema)
    .optional()
    .describe(
      "Only where strengths were asked for: at most five things that convince, none where a major note stands.",
    ),
  review: reviewSchema.optional().describe("Absent where there is no review file."),
  failing: z.boolean().describe("Whether a note stands in it at or above the tier that makes a run fail."),
  failOn: z.enum(tiers).optional().describe("Lightest tier that makes a run fail in this shot."),
  known: z
    .number()
    .int()
    .min(0)
    .optional()
    .describe("Only with a baseline: how many notes are left out because the baseline knows them."),
});

const errorSchema = z.object({ file: z.string(), message: z.string() });

export const reportSchema = z
  .object({
    tool: z.object({ name: z.literal("keyside"), version: z.string() }),
    shard: z
      .object({ index: z.number().int().min(1), of: z.number().int().min(1) })
      .optional()
      .describe("Only in the report of one shard of an archive: which one, counted from 1."),
    shots: z.array(shotSchema),
    errors: z.array(errorSchema).describe("Inputs that could not be judged."),
    stopped: z
      .object({ done: z.number().int().min(0), of: z.number().int().min(0) })
      .optional()
      .describe("Only in the report of a run that was stopped: inputs that are done, of all."),
  })
  .describe("What keyside check found.");

export type Report = z.infer<typeof reportSchema>;
/** A judged shot as reports hold it. */
export type ReportedShot = z.infer<typeof shotSchema>;
/** A note as reports hold it: with the part in words and the lines of its keys. */
export type ReportedNote = z.infer<typeof noteSchema>;
/** A place in a shot's text as reports hold it. */
export type ReportedPlace = z.infer<typeof placeSchema>;
/** A verified change of a shot's text as reports hold it. */
export type ReportedFix = z.infer<typeof fixSchema>;
/** What people say of a shot, as reports hold it. */
export type ReportedReview = z.infer<typeof reviewSchema>;
/** A remark of somebody, as reports hold it. */
export type ReportedRemark = z.infer<typeof reviewRemarkSchema>;
/** What holds, as reports hold it. */
export type ReportedStrength = z.infer<typeof strengthSchema>;
/** A waived note as reports hold it. */
export type ReportedWaivedNote = z.infer<typeof waivedNoteSchema>;
/** A check that ended in an error, as reports hold it. */
export type ReportedFailure = z.infer<typeof failureSchema>;
/** An input that could not be judged, as reports hold it. */
export type ReportError = z.infer<typeof errorSchema>;

/** JSON Schema (draft 2020-12) of the report. */
export function reportJsonSchema(): Record<string, unknown> {
  return { title: "Keyside report", ...z.toJSONSchema(reportSchema) };
}
