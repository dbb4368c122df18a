import { channels, interpolations } from "@keyside/core";
import { failureSchema, keyEditSchema, moveSchema, waiverSchema } from "@keyside/core/internal";
import { z } from "zod";
import {
  config,
  content,
  evidence,
  frames,
  nextRevision,
  note,
  problem,
  revision,
  shot,
  taken,
} from "./message-parts.ts";
import { methods, type Reason } from "./protocol.ts";
import {
  changeReview,
  changeReviewAnswer,
  review,
  reviewChanged,
  reviewTaken,
  type sentRemark,
  setReview,
} from "./review-messages.ts";

/** What stands in the messages of the host channel. Lengths and angles of keys are in the document's own units. */

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
  notesSoFar: z
    .boolean()
    .optional()
    .describe("Whether `keyside/notesSoFar` is to be told of the shot; not if left out."),
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
const notesSoFar = z.object({
  shot,
  revision: revision.describe("The revision that is being judged."),
  share: z.number().min(0).max(1).describe("Share of the pieces of work that are done."),
  notes: z
    .array(note)
    .describe(
      "What has been found on the nodes whose keys were changed since the notes that were told last. All of it anew in each message.",
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
  [methods.notesSoFar]: {
    from: "feed",
    what: "Says what has been found so far on the nodes that were edited, and how far the judging of a revision has come. Sent about every 100 ms while a judgement takes longer than that, to clients that asked for it when they opened the shot. What it tells is not final: in the end a note may be told under another one, be waived, or have another fingerprint. `keyside/notesChanged` of the same revision takes its place.",
    params: notesSoFar,
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
