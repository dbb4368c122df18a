import type { ReportedNote } from "@keyside/core";
import { waiverText } from "../text/waived.ts";
import { fixSentence } from "./note-text.ts";
import { type Sheet, type SheetNote, sentence, spanText } from "./sheet.ts";

/** The review in Markdown (CommonMark, with task-list boxes), for a ticket: what the page says, without its pictures. */
export function sheetMarkdown(sheet: Sheet): string {
  const { name, issue, facts, counts, failures, since, notes, hidden, waived, inferred, cautions } = sheet;
  const blocks = [
    `## ${plain(name)}, ${plain(issue)}`,
    plain(sentence(facts)),
    `**${plain(sentence(counts))}**`,
  ];
  if (since !== null) {
    blocks.push(plain([`Since ${since.issue}: ${sentence(since.counts)}`, ...since.times].join(" ")));
  }
  blocks.push(...failures.map(plain));
  if (notes.length === 0) blocks.push("No notes: nothing here breaks the limits in force.");
  else blocks.push(notes.map((note) => noteItem(sheet, note)).join("\n"));
  if (hidden > 0) blocks.push(`${hidden} lighter ${hidden === 1 ? "note" : "notes"} not shown.`);
  if (waived.length > 0)
    blocks.push(
      "### Waived",
      list(waived, (index) => waiverText(waived[index].waiver)),
    );
  if (since !== null && since.fixed.length > 0) {
    blocks.push(`### Fixed since ${plain(since.issue)}`, list(since.fixed));
  }
  if (inferred.length > 0) {
    blocks.push("### Inferred", inferred.map((line) => `- ${plain(sentence(line))}`).join("\n"));
  }
  blocks.push(...cautions.map((line) => `_${plain(line)}_`));
  return `${blocks.join("\n\n")}\n`;
}

function noteItem(sheet: Sheet, note: SheetNote): string {
  const { number, reported, title, frames, status, keys, moreKeys } = note;
  const where = [reported.part, frames].filter(Boolean).join(", ");
  const became = status === null ? "" : ` (${status.split(":")[0]})`;
  const lines = [
    `- [ ] **${number}. ${plain(title)}**, ${plain(where)}, ${reported.tier}${plain(became)}`,
    plain(note.message),
    `**Change:** ${plain(note.suggestion)}`,
  ];
  if (note.fix !== null) lines.push(`**Fix:** ${plain(fixSentence(sheet, note))}`);
  lines.push(`**Why:** ${plain(note.why)}`);
  if (note.measured !== "") lines.push(`**Measured:** ${plain(sentence(note.measured))}`);
  if (keys.length > 0) {
    const more = moreKeys === 0 ? "" : ` and ${moreKeys} more`;
    lines.push(`**Keys:** ${keys.map(code).join("; ")}${more}`);
  }
  // A backslash at the end of a line is a line break that no editor strips.
  return lines.map((line, n) => (n === 0 ? line : `      ${line}`)).join("\\\n");
}

function list(notes: readonly ReportedNote[], remark?: (index: number) => string): string {
  return notes
    .map(({ check, tier, part, frames, message }, index) => {
      const where = [part, spanText(frames)].filter(Boolean).join(", ");
      return `- ${plain(check)}, ${plain(where)}, ${tier}: ${plain(sentence(message))}${remark === undefined ? "" : ` _${plain(sentence(remark(index)))}_`}`;
    })
    .join("\n");
}

/** Text that Markdown and HTML take as it is: whatever they read as a mark is escaped, on one line. */
function plain(text: string): string {
  return text
    .replace(/\s+/g, " ")
    .replace(/[\\`*_{}[\]<>#|~&@$!^]/g, (mark) =>
      mark === "<" ? "&lt;" : mark === ">" ? "&gt;" : mark === "&" ? "&amp;" : `\\${mark}`,
    )
    .replace(/^(\d+)([.)])/, "$1\\$2")
    .replace(/^([-+])/, "\\$1");
}

/** Text as code, with more backticks around it than it holds in a row. */
function code(text: string): string {
  const longest = Math.max(0, ...[...text.matchAll(/`+/g)].map(([run]) => run.length));
  const fence = "`".repeat(longest + 1);
  const space = text.includes("`") ? " " : "";
  return `${fence}${space}${text.replace(/\s+/g, " ")}${space}${fence}`;
}
