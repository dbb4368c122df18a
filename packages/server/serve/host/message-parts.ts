import { channels, tiers } from "@keyside/core";
import { rankSchema } from "@keyside/core/internal";
import { z } from "zod";

/** What several messages of the host channel have in common. */

export const shot = z
  .string()
  .min(1)
  .max(4096)
  .describe("Name of the shot on this connection; the client chooses it.");
export const revision = z.number().int().min(0);
export const nextRevision = revision.describe("The revision that the shot has afterwards: its own plus 1.");
export const frames = z
  .tuple([z.number(), z.number()])
  .describe("First and last frame, in the document's numbering.");

export const content = {
  document: z
    .looseObject({})
    .optional()
    .describe("The shot as a curve document (see `keyside schema document`); this or `text`."),
  text: z.string().optional().describe("The shot as the text of a file; this or `document`."),
  fileName: z
    .string()
    .optional()
    .describe("Name of the file, by whose ending the kind of `text` is known; a curve document if left out."),
};
export const config = z
  .looseObject({})
  .describe("Settings, written as in a configuration file (see `keyside schema config`).");

export const problem = z
  .object({
    code: z.string().describe("What kind of fault it is, for example `key-order`."),
    message: z.string().describe("What is wrong, and how to fix it."),
    path: z.string().describe("Where, for example `curves/3/keys/12` or `edits/2`."),
    line: z.number().int().min(1).optional().describe("Where in `text`, counted from 1."),
    column: z.number().int().min(1).optional(),
  })
  .describe("Something that is wrong in a document or in a list of edits.");

export const noteKey = z.object({
  node: z.string(),
  channel: z.enum(channels),
  frame: z.number().describe("The key's time in the document's numbering."),
  index: z.number().int().min(0).describe("Which key of its curve, counted from 0."),
  share: z
    .number()
    .min(0)
    .max(1)
    .optional()
    .describe(
      "Share of the fault that went when the key alone was put right in a trial; absent where none was made.",
    ),
});

export const evidence = z.object({
  label: z.string(),
  unit: z.string(),
  firstFrame: z.number(),
  step: z.number().describe("Frames from one value to the next."),
  values: z.array(z.number().nullable()),
});

export const note = z
  .object({
    fingerprint: z.string().describe("Names the note; stays the same while keys are re-timed."),
    check: z.string(),
    tier: z.enum(tiers),
    weight: z.number().min(0).max(1).describe("How much it matters: what its tier follows from."),
    rank: rankSchema
      .optional()
      .describe(
        "Why it stands where it does: notes go by `plainness`, the greater first, where that of a minor one is halved; polish comes last. Absent where nothing is seen of it by its nature.",
      ),
    figure: z.string().nullable(),
    node: z.string().nullable().describe("The node whose keys are to be looked at."),
    seenAt: z
      .array(z.string())
      .describe("The node whose number is told, then the others on which it shows, the most visible first."),
    frames,
    keys: z.array(noteKey).describe("The keys that cause it, the one that causes most first."),
    message: z.string(),
    measured: z.object({ quantity: z.string(), value: z.number(), unit: z.string() }),
    expected: z.object({
      min: z.number().optional(),
      max: z.number().optional(),
      unit: z.string(),
      source: z.string(),
    }),
    why: z.string(),
    suggestion: z.string().describe("The change that usually fixes it."),
    also: z
      .array(
        z.object({
          check: z.string(),
          tier: z.enum(tiers),
          node: z.string().nullable(),
          frames,
          message: z.string(),
          fingerprint: z.string(),
        }),
      )
      .optional()
      .describe(
        "What it speaks for: notes that the same change clears, or that are the same on the other side.",
      ),
    path: z
      .string()
      .optional()
      .describe("Path into the document of what it is about, where that is no key: `waivers/0`."),
  })
  .describe("One find.");

export const taken = z.object({ shot, revision });
