import { withEntries } from "./gather.ts";
import { decisionIdOf, newReviewId } from "./ids.ts";
import {
  type Decision,
  decisionSchema,
  type Mark,
  markSchema,
  type Remark,
  type ReviewEntry,
  type ReviewFile,
  remarkSchema,
} from "./schema.ts";

/** A change of a review that cannot be made: the sentence says why. */
export class ReviewError extends Error {
  override readonly name = "ReviewError";
}

type Written<E> = Omit<E, "kind" | "id" | "unread">;
/** What a new remark is made of; it gets its id. */
export type NewRemark = Written<Omit<Remark, "weight">> & { readonly weight?: Remark["weight"] | undefined };
/** What a decision is made of; its id follows from the note. */
export type NewDecision = Written<Decision>;
/** What a mark is made of; it gets its id. */
export type NewMark = Written<Mark>;
/** Members that are put in place of those there are; undefined takes one out. */
export type Changes<E> = { readonly [Name in keyof Written<E>]?: Written<E>[Name] | undefined };
/** Who changes something, and when (ISO 8601). */
export interface Changer {
  readonly by: string;
  readonly date: string;
}

/**
 * Adds a remark.
 * @param review it stays as it is
 * @param fields what the remark says; frames are in the document's numbering, points in metres
 * @param id its id, where it has one already, as when a removal is undone
 * @returns the review with it, and the remark
 * @throws ReviewError where the fields make no remark
 */
export function addRemark(
  review: ReviewFile,
  fields: NewRemark,
  id: string = newReviewId(),
): { readonly review: ReviewFile; readonly remark: Remark } {
  const remark: Remark = sound(remarkSchema, { ...fields, kind: "remark", id });
  return { review: putting(review, remark), remark };
}

/**
 * Changes a remark, and says who did.
 * @param review it stays as it is
 * @param id id of the remark
 * @param changes members to put in place; undefined takes one out
 * @param changer who, and when
 * @returns the review with the changed remark
 * @throws ReviewError where there is no such remark, or the changes make none
 */
export function changeRemark(
  review: ReviewFile,
  id: string,
  changes: Changes<Remark>,
  { by, date }: Changer,
): ReviewFile {
  const remark = review.remarks.find((one) => one.id === id);
  if (remark === undefined) throw new ReviewError(`There is no remark ${id}.`);
  const { unread, ...known } = remark;
  const changed: Remark = sound(remarkSchema, {
    ...known,
    ...changes,
    kind: "remark",
    id,
    changed: { by, date },
  });
  return putting(review, unread === undefined ? changed : { ...changed, unread });
}

/**
 * Takes out a remark, a decision or a mark. What was said of a remark stays, and counts again when it comes back.
 * @param review it stays as it is
 * @param id id of the entry
 * @returns the review without it
 * @throws ReviewError where there is no such entry
 */
export function removeEntry(review: ReviewFile, id: string): ReviewFile {
  const entries = entriesOf(review);
  const left = entries.filter((entry) => entry.id !== id);
  if (left.length === entries.length) throw new ReviewError(`There is no entry ${id}.`);
  return withEntries(review, left);
}

/**
 * Decides about a computed note. A decision about the same note is replaced, but what the new one does not say stays.
 * @param review it stays as it is
 * @param fields check, node and frames of the note (as `waiverFor` takes them), and what is decided
 * @returns the review with the decision, and the decision
 * @throws ReviewError where the fields make no decision, or a note is dropped without a reason
 */
export function decide(
  review: ReviewFile,
  fields: NewDecision,
): { readonly review: ReviewFile; readonly decision: Decision } {
  const id = decisionIdOf(fields);
  const before = review.decisions.find((one) => one.id === id);
  const { by, date } = fields;
  const kept = before === undefined ? {} : { ...before, changed: { by, date } };
  const decision: Decision = sound(decisionSchema, { ...kept, ...fields, kind: "decision", id });
  if (decision.verdict === "dropped" && decision.reason === undefined) {
    throw new ReviewError("A note that is dropped needs a reason.");
  }
  return { review: putting(review, decision), decision };
}

/**
 * Says what became of a remark: done, still open, or open again.
 * @param review it stays as it is
 * @param fields id of the remark, which may stand in the review of another version; the state, who says so and when
 * @returns the review with the mark, and the mark
 * @throws ReviewError where the fields make no mark
 */
export function markRemark(
  review: ReviewFile,
  fields: NewMark,
): { readonly review: ReviewFile; readonly mark: Mark } {
  const mark: Mark = sound(markSchema, { ...fields, kind: "mark", id: newReviewId() });
  return { review: putting(review, mark), mark };
}

/**
 * Puts remarks and decisions into an order of the reviewer's.
 * @param review it stays as it is
 * @param ids ids of remarks and decisions, the first of the list first; those left out keep the rank they have
 * @param changer who, and when
 * @returns the review with their ranks, 1 for the first
 * @throws ReviewError where there is no such entry
 */
export function arrangeReview(review: ReviewFile, ids: readonly string[], { by, date }: Changer): ReviewFile {
  const entries = new Map(entriesOf(review).map((entry) => [entry.id, entry]));
  ids.forEach((id, index) => {
    const entry = entries.get(id);
    if (entry === undefined || entry.kind === "mark") throw new ReviewError(`There is no remark ${id}.`);
    if (entry.rank !== index + 1) entries.set(id, { ...entry, rank: index + 1, changed: { by, date } });
  });
  return withEntries(review, [...entries.values()]);
}

function entriesOf({ remarks, decisions, marks }: ReviewFile): readonly ReviewEntry[] {
  return [...remarks, ...decisions, ...marks];
}

function putting(review: ReviewFile, entry: ReviewEntry): ReviewFile {
  const others = entriesOf(review).filter(({ id, kind }) => id !== entry.id || kind !== entry.kind);
  return withEntries(review, [...others, entry]);
}

interface Schema<E> {
  safeParse(
    value: unknown,
  ): { success: true; data: E } | { success: false; error: { issues: readonly Issue[] } };
}
interface Issue {
  readonly path: readonly PropertyKey[];
  readonly message: string;
}

/**
 * An entry as its schema reads it.
 * @throws ReviewError naming the member that does not fit
 */
export function sound<E>(schema: Schema<E>, value: object): E {
  const given = Object.entries(value).filter(([, member]) => member !== undefined);
  const read = schema.safeParse(Object.fromEntries(given));
  if (read.success) return read.data;
  const [{ path, message }] = read.error.issues;
  throw new ReviewError(`"${path.map(String).join("/")}" does not fit: ${message}.`);
}
