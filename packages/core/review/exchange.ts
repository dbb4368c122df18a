import { addRemark, type Changer, changeRemark, decide, markRemark, ReviewError } from "./change.ts";
import { stateOfRemark } from "./drops.ts";
import { decisionIdOf } from "./ids.ts";
import {
  type Decision,
  type Mark,
  type MarkState,
  markStates,
  type Remark,
  type ReviewFile,
} from "./schema.ts";
import { csvOf, csvRows } from "./table.ts";

/** Columns of remarks and decisions as other systems read and write them, and what stands in each. */
export const reviewColumns = {
  id: "Id of the remark or decision; leave it empty for a new one.",
  kind: "remark or decision; remark if empty.",
  state: "What became of a remark: open, done or still-open.",
  weight: "must, should, could or keep.",
  first: "First frame; empty for the whole shot.",
  last: "Last frame; the first one if empty.",
  figure: "Figure.",
  node: "Node.",
  part: "Part of the body.",
  text: "The remark, or the reviewer's words for a note.",
  by: "Who says so.",
  date: "When, in ISO 8601.",
  file: "File of the version that was looked at.",
  revision: "Its revision.",
  check: "Of a decision: the check.",
  verdict: "Of a decision: kept or dropped.",
  reason: "Of a decision: why it is dropped.",
  rank: "Place in the reviewer's order.",
  strokes: "How many lines were drawn with it; is not read.",
} as const satisfies Readonly<Record<string, string>>;
/** One of {@link reviewColumns}. */
export type ReviewColumn = keyof typeof reviewColumns;
/** A remark or decision as a row of texts. */
export type ReviewRow = Readonly<Record<ReviewColumn, string>>;

const names = Object.keys(reviewColumns) as readonly ReviewColumn[];

/**
 * The remarks and decisions of a review as rows.
 * @param review a review file
 * @returns remarks first, in the order of their ids; frames in the document's numbering
 */
export function reviewRows(review: ReviewFile): readonly ReviewRow[] {
  const row = (entry: Remark | Decision, more: Partial<Record<ReviewColumn, string>>): ReviewRow => {
    const { id, kind, frames, node, text = "", by, date, version, rank, weight = "" } = entry;
    const given: Partial<Record<ReviewColumn, string>> = {
      ...{ id, kind, weight, node: node ?? "", text, by, date },
      ...(frames === undefined ? {} : { first: String(frames[0]), last: String(frames[1]) }),
      ...{ file: version?.file ?? "", revision: String(version?.revision ?? ""), rank: String(rank ?? "") },
      ...more,
    };
    return Object.fromEntries(names.map((name) => [name, given[name] ?? ""])) as Record<ReviewColumn, string>;
  };
  return [
    ...review.remarks.map((remark) =>
      row(remark, {
        state: stateOfRemark(remark, review.marks).state,
        ...{ figure: remark.figure ?? "", part: remark.part ?? "" },
        strokes: String(remark.strokes?.length ?? 0),
      }),
    ),
    ...review.decisions.map((decision) => {
      const { check, verdict, reason = "" } = decision;
      return row(decision, { check, verdict, reason });
    }),
  ];
}

/**
 * Rows as a table with a line of names (RFC 4180).
 * @param rows what `reviewRows` gave
 * @returns text with lines that end in CR LF
 */
export function reviewCsv(rows: readonly ReviewRow[]): string {
  return csvOf([names, ...rows.map((row) => names.map((name) => row[name]))]);
}

/**
 * Rows as JSON lines: an object a line, without what is empty.
 * @param rows what `reviewRows` gave
 * @returns text, empty for no rows
 */
export function reviewJsonLines(rows: readonly ReviewRow[]): string {
  const told = (row: ReviewRow) => Object.fromEntries(Object.entries(row).filter(([, text]) => text !== ""));
  return rows.map((row) => `${JSON.stringify(told(row))}\n`).join("");
}

/** Rows that were read, each with its line, and what could not be read. */
export interface ReadRows {
  readonly rows: readonly { readonly line: number; readonly row: Partial<ReviewRow> }[];
  /** Sentences, each with its line. */
  readonly problems: readonly string[];
}

/**
 * Reads rows from a table or from JSON lines. Columns may stand in any order, and any may be missing; others are passed
 * over.
 * @param text a table whose first line names its columns, or an object a line
 * @param format which of them
 * @returns what can be read, and what is wrong with the rest
 */
export function readReviewRows(text: string, format: "csv" | "jsonl"): ReadRows {
  const known = (name: string): name is ReviewColumn => Object.hasOwn(reviewColumns, name);
  const problems: string[] = [];
  if (format === "csv") {
    const [head, ...lines] = csvRows(text);
    const columns = (head?.cells ?? []).map((name) => name.trim().toLowerCase());
    if (!columns.some(known)) {
      problems.push(
        `Line 1: no column is known; name columns such as id, first, last, node, weight, text, by.`,
      );
      return { rows: [], problems };
    }
    const rows = lines.map(({ line, cells }) => ({
      line,
      row: Object.fromEntries(columns.flatMap((name, k) => (known(name) ? [[name, cells[k] ?? ""]] : []))),
    }));
    return { rows, problems };
  }
  const rows = text.split(/\r\n|\r|\n/).flatMap((content, index) => {
    if (content.trim() === "") return [];
    try {
      const value: unknown = JSON.parse(content);
      if (typeof value === "object" && value !== null && !Array.isArray(value)) {
        const members = Object.entries(value).filter(([name]) => known(name));
        return [
          {
            line: index + 1,
            row: Object.fromEntries(members.map(([name, one]) => [name, String(one ?? "")])),
          },
        ];
      }
    } catch {}
    problems.push(`Line ${index + 1}: this is no object in JSON; it is passed over.`);
    return [];
  });
  return { rows, problems };
}

/** What came of rows that were taken into a review. */
export interface TakenRows {
  readonly review: ReviewFile;
  readonly added: number;
  readonly changed: number;
  readonly marked: number;
  readonly problems: readonly string[];
}

/**
 * Takes rows of another system into a review. A row with the id of a remark changes what it says otherwise, and marks it
 * where its state is another. One with another id, or none, is a new remark; where it has a state and no text, it marks a
 * remark of an earlier version. Nothing is taken out.
 * @param review it stays as it is
 * @param read what `readReviewRows` gave
 * @param changer who, and when, where a row does not say it
 * @returns the review with them, and what could not be taken, with its line
 * @throws an error that is no ReviewError: a fault of this program, never of a row
 */
export function takeReviewRows(review: ReviewFile, read: ReadRows, changer: Changer): TakenRows {
  const problems = [...read.problems];
  let after = review;
  let [added, changed, marked] = [0, 0, 0];
  for (const { line, row } of read.rows) {
    try {
      const known = row.id === undefined ? undefined : after.remarks.find(({ id }) => id === row.id);
      const by = row.by?.trim() || changer.by;
      if (row.kind === "decision") {
        const fields = decisionFields(row);
        const decided = after.decisions.find(({ id }) => id === decisionIdOf(fields));
        if (decided !== undefined && changesOf(decided, fields).length === 0) continue;
        // The version that was looked at is known better where the decision was made.
        const version = decided?.version === undefined ? {} : { version: decided.version };
        after = decide(after, { ...fields, ...version, by, date: row.date || changer.date }).review;
        changed++;
        continue;
      }
      const meant = stateFrom(row.state);
      if (known === undefined && row.id && !row.text && meant !== null) {
        // A remark that stands in the file of an earlier version.
        after = markRemark(after, { of: row.id, state: meant, ...changer, by }).review;
        marked++;
        continue;
      }
      const fields = remarkFields(row);
      let remark: Remark;
      if (known === undefined) {
        const text = row.text ?? "";
        const made = { ...fields, text, by, date: row.date || changer.date };
        ({ review: after, remark } = addRemark(after, made, row.id || undefined));
        added++;
      } else {
        const others = changesOf(known, fields);
        if (others.length > 0) {
          after = changeRemark(after, known.id, Object.fromEntries(others), changer);
          changed++;
        }
        remark = known;
      }
      if (meant !== null && meant !== stateOfRemark(remark, after.marks).state) {
        const mark: Omit<Mark, "kind" | "id" | "unread"> = { of: remark.id, state: meant, ...changer };
        after = markRemark(after, mark).review;
        marked++;
      }
    } catch (error) {
      if (!(error instanceof ReviewError)) throw error;
      problems.push(`Line ${line}: ${error.message} The line is passed over.`);
    }
  }
  return { review: after, added, changed, marked, problems };
}

/** What a row says otherwise than an entry. Of the version a row knows less; it counts only where there is none. */
function changesOf(
  known: Remark | Decision,
  fields: Partial<Remark> | Partial<Decision>,
): [string, unknown][] {
  const held = known as unknown as Readonly<Record<string, unknown>>;
  return Object.entries(fields).filter(
    ([name, value]) =>
      JSON.stringify(value) !== JSON.stringify(held[name]) &&
      (name !== "version" || held[name] === undefined),
  );
}

function stateFrom(text: string | undefined): MarkState | null {
  if (text === undefined || text.trim() === "") return null;
  const state = markStates.find((one) => one === text.trim());
  if (state === undefined) throw new ReviewError(`"${text}" is no state; write ${markStates.join(", ")}.`);
  return state;
}

/** What a row says of a remark; an empty cell says nothing. */
function remarkFields(row: Partial<ReviewRow>): Partial<Remark> {
  const { weight, figure, node, part, text } = row;
  const frames = framesFrom(row);
  const rank = numberFrom(row.rank, "rank");
  return {
    ...(text ? { text } : {}),
    ...(weight ? { weight: weight as Remark["weight"] } : {}),
    ...(figure ? { figure } : {}),
    ...(node ? { node } : {}),
    ...(part ? { part: part as Remark["part"] } : {}),
    ...(frames === null ? {} : { frames }),
    ...(rank === null ? {} : { rank }),
    ...versionFrom(row),
  };
}

function decisionFields(row: Partial<ReviewRow>) {
  const { check = "", node, verdict, reason, text, weight } = row;
  const frames = framesFrom(row);
  const rank = numberFrom(row.rank, "rank");
  return {
    check,
    verdict: verdict as Decision["verdict"],
    ...(node ? { node } : {}),
    ...(frames === null ? {} : { frames }),
    ...(reason ? { reason } : {}),
    ...(text ? { text } : {}),
    ...(weight ? { weight: weight as NonNullable<Decision["weight"]> } : {}),
    ...(rank === null ? {} : { rank }),
    ...versionFrom(row),
  };
}

function versionFrom({ file, revision }: Partial<ReviewRow>): Pick<Remark, "version"> {
  const number = numberFrom(revision, "revision");
  if (!file && number === null) return {};
  return { version: { ...(file ? { file } : {}), ...(number === null ? {} : { revision: number }) } };
}

function framesFrom({ first, last }: Partial<ReviewRow>): [number, number] | null {
  const from = numberFrom(first, "first");
  return from === null ? null : [from, numberFrom(last, "last") ?? from];
}

function numberFrom(text: string | undefined, name: string): number | null {
  if (text === undefined || text.trim() === "") return null;
  const number = Number(text);
  if (!Number.isFinite(number)) throw new ReviewError(`"${name}" has to be a number, and is "${text}".`);
  return number;
}
