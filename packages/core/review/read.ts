import { shortMessage } from "../base/short-message.ts";
import { lineStartsOf, placeAt } from "../document/place.ts";
import { quoted } from "../document/scan/cursor.ts";
import { scanDocument } from "../document/scan.ts";
import { misfit } from "../document/validate/header.ts";
import { valueAtPath } from "../document/validate/words.ts";
import { gathered } from "./gather.ts";
import type { FoundEntry, ReviewProblem } from "./problem.ts";
import { recoverReview } from "./recover.ts";
import {
  decisionSchema,
  emptyReview,
  markSchema,
  type ReviewEntry,
  type ReviewFile,
  remarkSchema,
} from "./schema.ts";

/** What reading gives: as much of a review as can be used, and all that is wrong with the rest. */
export interface ReviewRead {
  readonly review: ReviewFile;
  readonly problems: readonly ReviewProblem[];
}

/**
 * Reads the text of a review file. What cannot be read is told with its line, kept, and written back by `printReview`;
 * the rest is used. A file that was cut short, and one with the marks of an unfinished merge, is read line by line.
 * @param text text of the file; an empty one holds an empty review
 * @returns the review, and what is wrong; nothing is thrown
 */
export function readReview(text: string): ReviewRead {
  const source = text.replace(/^\ufeff/, "");
  if (source.trim() === "") return { review: emptyReview(), problems: [] };
  let root: unknown;
  try {
    root = JSON.parse(source);
  } catch {
    const { found, head, extra, problems } = recoverReview(source);
    return finished(found, head, extra, problems);
  }
  const head = headOf(root);
  if (head === null) {
    const message = `This is no review file, and none of it is used; it is kept. ${form}`;
    const review = { ...emptyReview(), unread: [source.trim()] };
    return { review, problems: [{ line: 1, message, id: null }] };
  }
  const { format, version, shot, entries, ...extra } = head;
  const problems: ReviewProblem[] = [];
  if (version !== 1) {
    const what = `"version" has to be 1, and is ${JSON.stringify(version) ?? "missing"}`;
    problems.push({ line: 1, message: `${what}; what is known of it is used.`, id: null });
  }
  const at = linesOf(text);
  const found: FoundEntry[] = [];
  (Array.isArray(entries) ? entries : []).forEach((value: unknown, index) => {
    if (value !== null) found.push({ value, line: () => at(index) });
  });
  if (!Array.isArray(entries)) {
    problems.push({ line: 1, message: `"entries" has to be a list. ${form}`, id: null });
    if (entries !== undefined) found.push({ value: entries, line: () => 1 });
  }
  return finished(found, typeof shot === "string" ? shot : null, extra, problems);
}

const form =
  'A review file is { "format": "keyside.review", "version": 1, "shot": …, "entries": [ …, null ] }.';

function headOf(root: unknown): Record<string, unknown> | null {
  if (typeof root !== "object" || root === null || Array.isArray(root)) return null;
  return (root as Record<string, unknown>)["format"] === "keyside.review"
    ? (root as Record<string, unknown>)
    : null;
}

/** Lines of the entries of a text that is sound JSON; looked for only when one is asked for. */
function linesOf(text: string): (index: number) => number {
  let places: ReturnType<typeof scanDocument>["places"] | undefined;
  return (index) => {
    places ??= scanDocument(text).places;
    return placeAt(lineStartsOf(text), places.around(`entries/${index}`)[0]).line;
  };
}

function finished(
  found: readonly FoundEntry[],
  shot: string | null,
  extra: Readonly<Record<string, unknown>>,
  before: readonly ReviewProblem[],
): ReviewRead {
  const problems = [...before];
  const entries: ReviewEntry[] = [];
  const unread: unknown[] = [];
  for (const { value, line } of found) {
    const { entry, message } = entryOf(value);
    const id = idOf(value);
    if (message !== null) problems.push({ line: line(), message: shortMessage(message), id });
    if (entry === null) unread.push(value);
    else entries.push(entry);
  }
  const { review, told } = gathered({ ...emptyReview(shot), extra, unread }, entries);
  return { review, problems: [...problems, ...told] };
}

function idOf(value: unknown): string | null {
  const id = valueAtPath(value, ["id"]);
  return typeof id === "string" ? id : null;
}

const schemas = { remark: remarkSchema, decision: decisionSchema, mark: markSchema } as const;

/** Reads one entry: whole, or without optional members that do not fit. */
function entryOf(value: unknown): { entry: ReviewEntry | null; message: string | null } {
  if (typeof value === "string") {
    const message = `${quoted(value)} cannot be read. It is kept; put it right, or take its line out.`;
    return { entry: null, message };
  }
  const kind = valueAtPath(value, ["kind"]);
  if (kind === "unread") {
    const text = String(valueAtPath(value, ["text"]) ?? "");
    const message = `A piece that could not be read is kept: ${quoted(text)}. Put it right, or take its line out.`;
    return { entry: null, message };
  }
  if (kind !== "remark" && kind !== "decision" && kind !== "mark") {
    const message = `An entry has to be of the kind "remark", "decision" or "mark". It is kept, and not used.`;
    return { entry: null, message };
  }
  const schema = schemas[kind];
  const named = `The ${kind} ${idOf(value) ?? "without an id"}`;
  const members = { ...(value as Record<string, unknown>) };
  const unread: Record<string, unknown> = {};
  let first: string | null = null;
  // Every round takes one member out, so there is an end to them.
  for (;;) {
    const read = schema.safeParse(members);
    if (read.success) {
      const message =
        first === null ? null : `${named}: ${first} It is used without ${Object.keys(unread).join(", ")}.`;
      const entry = { ...read.data, ...(first === null ? {} : { unread }) } as ReviewEntry;
      return { entry, message };
    }
    const [issue] = read.error.issues;
    const member = String(issue.path[0]);
    first ??= misfit(issue, valueAtPath(members, issue.path));
    if (members[member] === undefined || isNeeded(schema, member)) {
      return { entry: null, message: `${named}: ${first} It is kept, and not used.` };
    }
    unread[member] = members[member];
    delete members[member];
  }
}

function isNeeded(schema: (typeof schemas)[keyof typeof schemas], member: string): boolean {
  const shape = schema.shape as Record<string, { safeParse(value: unknown): { success: boolean } }>;
  return shape[member]?.safeParse(undefined).success === false;
}
