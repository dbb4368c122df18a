import { markStates, reviewWeights } from "@keyside/core";
import { strokeSchema } from "@keyside/core/internal";
import { z } from "zod";
import { frames, nextRevision, noteKey, revision, shot, taken } from "./message-parts.ts";

/** What stands in the messages about what people say of a shot. */

export const review = z
  .looseObject({})
  .describe(
    "What people say of the shot, as a review file (see `keyside schema review`). What it drops is waived.",
  );

export const setReview = z.object({ shot, revision: nextRevision, review });
export const reviewTaken = taken.extend({
  problems: z.array(z.string()).describe("What of the review cannot be used, or does not fit the shot."),
});
const weight = z.enum(reviewWeights).describe("How much it matters; `keep` is praise.");
const strokes = z
  .array(strokeSchema)
  .describe(
    "Lines that were drawn over the picture; one with a `target` is the path that a part is to take.",
  );
const text = z.string().min(1);
const remarkId = z.string().describe("Id of a remark.");
const by = z.string().min(1).describe("Who says so.");
const changeOfReview = z.discriminatedUnion("kind", [
  z.object({
    kind: z.literal("add").describe("Adds a remark."),
    remark: z.object({
      text,
      weight: weight.optional(),
      frames: frames.optional(),
      node: z.string().optional(),
      figure: z.string().optional(),
      strokes: strokes.optional(),
    }),
  }),
  z.object({
    kind: z.literal("change").describe("Changes a remark; null takes a member out."),
    id: remarkId,
    to: z.object({
      text: text.optional(),
      weight: weight.optional(),
      frames: frames.nullable().optional(),
      node: z.string().nullable().optional(),
      strokes: strokes.nullable().optional(),
      rank: z.number().nullable().optional().describe("Place in the reviewer's order, the smallest first."),
    }),
  }),
  z.object({
    kind: z.literal("remove").describe("Takes out a remark, or a decision."),
    id: z.string(),
  }),
  z.object({
    kind: z.literal("mark").describe("Says what became of a remark."),
    of: remarkId,
    state: z.enum(markStates),
  }),
  z.object({
    kind: z
      .literal("decide")
      .describe("Decides about a note; a note that is dropped needs a reason, and is waived."),
    fingerprint: z.string().describe("Fingerprint of a note of the shot."),
    verdict: z.enum(["kept", "dropped"]),
    reason: text.optional(),
    text: text.optional().describe("The reviewer's words for it."),
    weight: z.enum(["must", "should", "could"]).optional(),
  }),
]);
export const changeReview = z.object({
  shot,
  revision: nextRevision,
  by,
  date: z.string().optional().describe("When, in ISO 8601; now if left out."),
  changes: z.array(changeOfReview).min(1).describe("Made in their order, all or none."),
});
export const changeReviewAnswer = taken.extend({
  review: review.describe("The review after the changes, for the tool to keep."),
  ids: z.array(z.string()).describe("Of each change, the id of what it made or changed."),
});
const target = z.object({
  stroke: z.number().int().min(0).describe("Which of the remark's lines, counted from 0."),
  node: z.string(),
  frames,
  mean: z.number().describe("Mean distance from the line, metres."),
  largest: z.number().describe("Largest distance from the line, metres."),
  largestAt: z.number().describe("Frame of the largest distance."),
  late: z
    .tuple([z.number(), z.number()])
    .describe("Frames by which the part is late at either end of the line; early below 0."),
  covered: z.number().describe("Share of the line that the part goes along, 0 to 1."),
});
export const sentRemark = z
  .object({
    id: z.string(),
    text: z.string(),
    weight,
    by: z.string(),
    date: z.string(),
    node: z.string().nullable().describe("The part that it speaks of, as it is called in the shot."),
    frames: frames.nullable().describe("null for the whole shot."),
    state: z.enum(markStates).describe("What was said of it last."),
    keys: z
      .array(noteKey.omit({ share: true }))
      .describe("Keys of its part within its frames, at most 16; where none stands there, the nearest one."),
    targets: z.array(target).describe("How far parts are from the paths that were drawn for them."),
  })
  .describe("What somebody says of the shot.");
export const reviewChanged = z.object({
  shot,
  revision: revision.describe("The revision of the shot for which it holds."),
  remarks: z.array(sentRemark),
});
