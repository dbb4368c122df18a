import { inlineText, memberText } from "../document/write/value-text.ts";
import type { ReviewEntry, ReviewFile } from "./schema.ts";

/** Members of entries in the order in which they are written; others follow, by name. */
const order = [
  "kind",
  "id",
  "of",
  "check",
  "frames",
  "figure",
  "node",
  "part",
  "verdict",
  "state",
  "weight",
  "rank",
  "text",
  "reason",
  "fingerprint",
  "lastRevision",
  "by",
  "date",
  "version",
  "changed",
  "conflicts",
  "strokes",
];

/**
 * The text of a review file: an entry a line, sorted by kind and id, so that it can be merged line by line. What could
 * not be read of a file is written back.
 * @param review what is to be written
 * @returns the text; the same for the same review, in whichever order its entries came
 */
export function printReview(review: ReviewFile): string {
  const entries = [
    ...sorted(review.remarks).map(entryText),
    ...sorted(review.decisions).map(entryText),
    ...sorted(review.marks).map(entryText),
    ...review.unread.map((piece) => (typeof piece === "string" ? unreadText(piece) : inlineText(piece))),
  ];
  const head = [
    memberText("format", "keyside.review"),
    memberText("version", 1),
    ...(review.shot === null ? [] : [memberText("shot", review.shot)]),
    ...Object.entries(review.extra).map(([name, value]) => memberText(name, value)),
  ];
  const lines = [...new Set(entries)].map((entry) => `    ${entry},\n`).join("");
  return `{\n${head.map((member) => `  ${member},\n`).join("")}  "entries": [\n${lines}    null\n  ]\n}\n`;
}

/** An entry as it stands in its line. */
export function entryText(entry: ReviewEntry): string {
  const { unread, ...read } = entry;
  const members = { ...unread, ...read } as Record<string, unknown>;
  const others = Object.keys(members)
    .filter((name) => !order.includes(name))
    .sort();
  return inlineText(Object.fromEntries([...order, ...others].map((name) => [name, members[name]])));
}

function unreadText(text: string): string {
  return inlineText({ kind: "unread", text });
}

function sorted<E extends ReviewEntry>(entries: readonly E[]): readonly E[] {
  return [...entries].sort((a, b) => (a.id < b.id ? -1 : a.id > b.id ? 1 : 0));
}
