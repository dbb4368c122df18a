import { channels, interpolations, markStates, reviewWeights, tiers } from "@keyside/core";
import {
  failureSchema,
  keyEditSchema,
  moveSchema,
  rankSchema,
  strokeSchema,
  waiverSchema,
} from "@keyside/core/internal";
import { z } from "zod";
import { methods, type Reason } from "./protocol.ts";

/** What stands in the messages of the host channel. Lengths and angles of keys are in the document's own units. */

const shot = z
  .string()
  .min(1)
  .max(4096)
  .describe("Name of the shot on this connection; the client chooses it.");
const revision = z.number().int().min(0);
const nextRevision = revision.describe("The revision that the shot has afterwards: its own plus 1.");
const frames = z
  .tuple([z.number(), z.number()])
  .describe("First and last frame, in the document's numbering.");

const content = {
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
const config = z
  .looseObject({})
  .describe("Settings, written as in a configuration file (see `keyside schema config`).");

const problem = z
  .object({
    code: z.string().describe("What kind of fault it is, for example `key-order`."),
    message: z.string().describe("What is wrong, and how to fix it."),
    path: z.string().describe("Where, for example `curves/3/keys/12` or `edits/2`."),
    line: z.number().int().min(1).optional().describe("Where in `text`, counted from 1."),
    column: z.number().int().min(1).optional(),
  })
  .describe("Something that is wrong in a document or in a list of edits.");

const noteKey = z.object({
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

const evidence = z.object({
  label: z.string(),
  unit: z.string(),
  firstFrame: z.number(),
  step: z.number().describe("Frames from one value to the next."),
  values: z.array(z.number().nullable()),
});

const note = z
  .object({
    fingerprint: z.string().describe("Names the note; stays the same while keys are re-timed."),
    check: z.string(),
    tier: z.enum(tiers),
    weight: z.number().min(0).max(1).describe("How much it matters: what its tier follows from."),
    rank: rankSchema
      .optional()
      .describe(
        "Why it stands where it does: notes go by tier, then by `plainness`, the greater first. Absent where nothing is seen of it by its nature.",
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

const taken = z.object({ shot, revision });

const hello = z.object({
  protocols: z
    .array(z.number().int().positive())
    .min(1)
    .describe("Versions of the host channel that the client speaks."),
  token: z.string().optional().describe("The feed's token; asked for on sockets only."),
  client: z.object({ name: z.string(), version: z.string().optional() }).optional(),
});
const helloAnswer = z.object({
  protocol: z.number().int().describe("The version that is spoken from here on: the newest that both speak."),
  server: z.object({ name: z.literal("keyside"), version: z.string() }),
  checks: z.array(z.string()).describe("Names of all checks."),
});

const waivers = z
  .array(waiverSchema)
  .describe("Waivers that the tool keeps itself, beside those of the document; `frames` in its numbering.");

const review = z
  .looseObject({})
  .describe(
    "What people say of the shot, as a review file (see `keyside schema review`). What it drops is waived.",
  );

const openShot = z.object({
  shot,
  revision: revision.default(0).describe("The revision that the shot has to begin with."),
  ...content,
  config: config.optional(),
  waivers: waivers.optional(),
  review: review.optional(),
  folder: z
    .string()
    .optional()
    .describe("Absolute path of a folder on the feed's machine whose configuration file holds for the shot."),
});
const openAnswer = z.object({
  shot,
  revision,
  frameRate: z.string().describe('Frames per second, as a fraction such as "24000/1001" where it is one.'),
  range: frames,
  problems: z.array(problem).describe("What is wrong in the document; the rest of it is judged."),
});
const replaceShot = z.object({ shot, revision: nextRevision, ...content });

const editKeys = z.object({
  shot,
  revision: nextRevision,
  edits: z
    .array(keyEditSchema)
    .min(1)
    .describe(
      "Made at once, all or none; each names its key by the frame at which it stands before them. Of two of the same key the later goes on from what the earlier made.",
    ),
});
const configureShot = z.object({ shot, revision: nextRevision, config });
const setWaivers = z.object({ shot, revision: nextRevision, waivers });
const setReview = z.object({ shot, revision: nextRevision, review });
const reviewTaken = taken.extend({
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
const changeReview = z.object({
  shot,
  revision: nextRevision,
  by,
  date: z.string().optional().describe("When, in ISO 8601; now if left out."),
  changes: z.array(changeOfReview).min(1).describe("Made in their order, all or none."),
});
const changeReviewAnswer = taken.extend({
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
const sentRemark = z
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
const reviewChanged = z.object({
  shot,
  revision: revision.describe("The revision of the shot for which it holds."),
  remarks: z.array(sentRemark),
});
const closeShot = z.object({ shot });

const explain = z.union([
  z.object({ check: z.string().describe("Name of a check.") }),
  z.object({ shot, fingerprint: z.string().describe("Fingerprint of a note of the shot.") }),
]);
const explainAnswer = z.object({
  check: z
    .looseObject({ name: z.string(), title: z.string() })
    .describe("All that the check says of itself, as `keyside explain CHECK --format json` prints it."),
  revision: revision.optional().describe("The revision that the note judges."),
  note: note
    .extend({ evidence: z.array(evidence).describe("The series behind the note.") })
    .optional()
    .describe("The note in full, where one was asked for."),
});

const numbers = z.union([z.number(), z.array(z.number())]);
const keyState = z
  .object({
    frame: z.number(),
    value: numbers,
    in: numbers.optional(),
    out: numbers.optional(),
    interpolation: z.enum(interpolations),
  })
  .nullable();
const fix = z.object({ shot, fingerprint: z.string().describe("Fingerprint of a note of the shot.") });
const fixAnswer = z.object({
  shot,
  revision: revision.describe("The revision to which the edits fit; nothing has been changed."),
  fix: z
    .object({
      name: z.string(),
      kind: z
        .enum(["fix", "sketch"])
        .describe(
          "`fix`: a few moves of keys, and all motion outside the note's frames stays. `sketch`: a starting point, which keys a span anew or changes other motion.",
        ),
      title: z.string().describe("What it does, for whoever has to choose."),
      moves: z.array(moveSchema).describe("What is done to keys, as an animator would do it."),
      edits: z.array(keyEditSchema).describe("To be sent with `keyside/editKeys` where they are wanted."),
      keys: z
        .array(z.object({ node: z.string(), channel: z.enum(channels), before: keyState, after: keyState }))
        .describe(
          "The same key by key; `before` is null for a key that comes in, `after` for one that goes.",
        ),
      gone: z.array(z.string()).describe("Fingerprints of the notes that go with it."),
      added: z.array(note).describe("Lighter notes that it introduces."),
    })
    .nullable()
    .describe(
      "A change of keys that was tried: the note is gone, nothing as heavy has come, and the motion bears it out. null: none was found.",
    ),
  why: z
    .string()
    .nullable()
    .describe("What is said against the first change that clears the note and is no fix: a sentence."),
});

const notesChanged = z.object({
  shot,
  revision: revision.describe("The revision that the notes judge."),
  added: z.array(note),
  changed: z.array(note).describe("Notes that were there, as they are now."),
  gone: z.array(z.string()).describe("Fingerprints of notes that are no more."),
  failures: z
    .array(failureSchema)
    .optional()
    .describe(
      "Checks that ended in an error: their notes are missing where they did. Absent where none did.",
    ),
});
const judgingFailed = z.object({ shot, revision, message: z.string() });

const never: readonly Reason[] = [];
const always: readonly Reason[] = ["hello-first"];

/** A message of the host channel: who sends it, what stands in it, what it is for. */
export interface MessageSpec {
  readonly from: "client" | "feed";
  readonly what: string;
  readonly params: z.ZodType;
  /** What a request is answered with; null for a notification. */
  readonly answer: z.ZodType | null;
  readonly refusals: readonly Reason[];
}

/** All messages, in the order in which a client meets them. */
export const messages = {
  [methods.hello]: {
    from: "client",
    what: "Opens the conversation and agrees on a version. Comes first; on a socket it carries the token.",
    params: hello,
    answer: helloAnswer,
    refusals: ["unsupported-protocol", "wrong-token", "too-many-clients"],
  },
  [methods.openShot]: {
    from: "client",
    what: "Opens a shot. It is judged at once: `keyside/notesChanged` brings all of its notes as added.",
    params: openShot,
    answer: openAnswer,
    refusals: [...always, "shot-is-open", "bad-document", "bad-settings"],
  },
  [methods.replaceShot]: {
    from: "client",
    what: "Puts another version of a shot in place: nodes and curves that come and go, other contacts, another range. What is the same as before is not computed again.",
    params: replaceShot,
    answer: openAnswer,
    refusals: [...always, "unknown-shot", "stale-revision", "bad-document"],
  },
  [methods.editKeys]: {
    from: "client",
    what: "Sets, moves and removes keys. The answer says that the edits are made; the notes follow in `keyside/notesChanged`. Edits may be sent without waiting for either.",
    params: editKeys,
    answer: taken,
    refusals: [...always, "unknown-shot", "stale-revision", "bad-edit"],
  },
  [methods.configureShot]: {
    from: "client",
    what: "Judges a shot by other settings, which take the place of those that it was opened with.",
    params: configureShot,
    answer: taken,
    refusals: [...always, "unknown-shot", "stale-revision", "bad-settings"],
  },
  [methods.setWaivers]: {
    from: "client",
    what: "Gives a shot the waivers that the tool keeps, in place of those that it gave before. A note that a waiver answers goes; a waiver that answers none is a note itself.",
    params: setWaivers,
    answer: taken,
    refusals: [...always, "unknown-shot", "stale-revision"],
  },
  [methods.setReview]: {
    from: "client",
    what: "Gives a shot what people say of it, in place of what was given before, as where the tool reads a review file or holds reviews itself. `keyside/reviewChanged` says what stands beside which keys.",
    params: setReview,
    answer: reviewTaken,
    refusals: [...always, "unknown-shot", "stale-revision"],
  },
  [methods.changeReview]: {
    from: "client",
    what: "Adds, changes and takes out remarks, says what became of them, and decides about notes. The answer brings the whole review, for the tool to keep.",
    params: changeReview,
    answer: changeReviewAnswer,
    refusals: [...always, "unknown-shot", "stale-revision", "bad-review", "unknown-note", "shot-has-changed"],
  },
  [methods.explain]: {
    from: "client",
    what: "Tells all about a check, or about a note: the check that found it and the series behind it.",
    params: explain,
    answer: explainAnswer,
    refusals: [...always, "unknown-check", "unknown-shot", "unknown-note", "shot-has-changed"],
  },
  [methods.fix]: {
    from: "client",
    what: "Looks for a change of keys that clears a note, tried in memory. Takes up to some seconds, and is given up when an edit arrives.",
    params: fix,
    answer: fixAnswer,
    refusals: [...always, "unknown-shot", "unknown-note", "shot-has-changed"],
  },
  [methods.closeShot]: {
    from: "client",
    what: "Closes a shot; nothing more is sent about it.",
    params: closeShot,
    answer: z.null(),
    refusals: [...always, "unknown-shot"],
  },
  [methods.notesChanged]: {
    from: "feed",
    what: "Says what became of a shot's notes since the last time, and which revision they judge. Revisions that follow one another quickly are judged together, so that not each has a message; the newest always has one, also where no note changed. Notes may be of an older revision than the newest edit, and never come after those of a newer one.",
    params: notesChanged,
    answer: null,
    refusals: never,
  },
  [methods.reviewChanged]: {
    from: "feed",
    what: "Says what people say of a shot, beside the keys of which they speak, and how far parts are from their target paths. Sent behind `keyside/notesChanged` of the same revision, and only where something of it is other than was told.",
    params: reviewChanged,
    answer: null,
    refusals: never,
  },
  [methods.judgingFailed]: {
    from: "feed",
    what: "Says that a revision could not be judged because Keyside itself failed. The notes that were told before are out of date, and stand until the next `keyside/notesChanged`.",
    params: judgingFailed,
    answer: null,
    refusals: never,
  },
} as const satisfies Readonly<Record<string, MessageSpec>>;

export type Method = keyof typeof messages;
export type Params<M extends Method> = z.output<(typeof messages)[M]["params"]>;
export type Answer<M extends Method> = (typeof messages)[M]["answer"] extends z.ZodType<infer A> ? A : never;
export type SentNote = z.infer<typeof note>;
export type SentRemark = z.infer<typeof sentRemark>;
export type SentProblem = z.infer<typeof problem>;
