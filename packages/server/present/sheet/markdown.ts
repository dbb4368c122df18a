import type { ReportedNote, ReportedRemark } from "@keyside/core";
import { markdownCode, markdownText } from "../text/markdown.ts";
import { alsoTexts, rankText } from "../text/rank.ts";
import { listedItems, type ReviewedNote, remarkDetails, remarkSource } from "../text/review.ts";
import { waiverText } from "../text/waived.ts";
import { fixSentence } from "./note-text.ts";
import { type Sheet, type SheetNote, sentence, spanText } from "./sheet.ts";

/** The review in Markdown (CommonMark, with task-list boxes), for a ticket: what the page says, without its pictures. */
export function sheetMarkdown(sheet: Sheet): string {
  const { name, issue, facts, counts, failures, since, alike, notes, hidden, waived } = sheet;
  const { strengths, inferred, cautions, review } = sheet;
  const blocks = [
    `## ${markdownText(name)}, ${markdownText(issue)}`,
    markdownText(sentence(facts)),
    `**${markdownText(sentence(counts))}**`,
  ];
  if (since !== null) {
    blocks.push(markdownText([`Since ${since.issue}: ${sentence(since.counts)}`, ...since.times].join(" ")));
  }
  blocks.push(...failures.map(markdownText));
  if (alike.length > 0) {
    blocks.push("### Alike", alike.map((line) => `- ${markdownText(sentence(line))}`).join("\n"));
  }
  const items = listedItems(
    { review: review ?? undefined },
    notes.map((note) => ({ ...note.reported, told: note })),
  );
  if (items.length === 0) blocks.push("No notes: nothing here breaks the limits in force.");
  else {
    const lines = items.map((item, index) =>
      item.kind === "remark"
        ? remarkItem(item.remark, index + 1)
        : noteItem(sheet, item.note.told, review === null ? item.note.told.number : index + 1, item.said),
    );
    blocks.push(lines.join("\n"));
  }
  if (review !== null && review.problems.length > 0) {
    blocks.push(review.problems.map((line) => `- ${markdownText(line)}`).join("\n"));
  }
  if (hidden > 0) blocks.push(`${hidden} lighter ${hidden === 1 ? "note" : "notes"} not shown.`);
  if (strengths.length > 0) {
    const items = strengths.map(
      ({ title, part, message }) =>
        `- **${markdownText(title)}**, ${markdownText(part)}: ${markdownText(sentence(message))}`,
    );
    blocks.push("### What holds", items.join("\n"));
  }
  if (waived.length > 0)
    blocks.push(
      "### Waived",
      list(waived, (index) => waiverText(waived[index].waiver)),
    );
  if (since !== null && since.fixed.length > 0) {
    blocks.push(`### Fixed since ${markdownText(since.issue)}`, list(since.fixed));
  }
  if (inferred.length > 0) {
    blocks.push("### Inferred", inferred.map((line) => `- ${markdownText(sentence(line))}`).join("\n"));
  }
  blocks.push(...cautions.map((line) => `_${markdownText(line)}_`));
  return `${blocks.join("\n\n")}\n`;
}

/** What a person says, as an item of the list; praise has no box. */
function remarkItem(remark: ReportedRemark, number: number): string {
  const { weight, part, text, frames, state } = remark;
  const where = [part, spanText(frames)].filter(Boolean).join(", ");
  const box = weight === "keep" ? "" : state === "done" ? "[x] " : "[ ] ";
  const head = `- ${box}**${number}. ${weight === "keep" ? "Keep" : "Remark"}**, ${markdownText(where)}, ${weight} (${markdownText(remarkSource(remark))})`;
  const details = remarkDetails(remark).map((line) => `_${markdownText(sentence(line))}_`);
  return [head, markdownText(sentence(text)), ...details]
    .map((line, n) => (n === 0 ? line : `      ${line}`))
    .join("\\\n");
}

function noteItem(sheet: Sheet, note: SheetNote, number: number, said: ReviewedNote | null): string {
  const { reported, title, frames, status, keys, moreKeys } = note;
  const where = [reported.part, frames].filter(Boolean).join(", ");
  const became = status === null ? "" : ` (${status.split(":")[0]})`;
  const lines = [
    `- [ ] **${number}. ${markdownText(title)}**, ${markdownText(where)}, ${said?.isWeighed === true ? said.weight : reported.tier}${markdownText(became)}`,
    ...(said?.text == null
      ? []
      : [`**${markdownText(said.by ?? "")}:** ${markdownText(sentence(said.text))}`]),
    markdownText(note.message),
    `**Change:** ${markdownText(note.suggestion)}`,
  ];
  if (note.fix !== null) lines.push(`**Fix:** ${markdownText(fixSentence(sheet, note))}`);
  lines.push(`**Why:** ${markdownText(note.why)}`);
  if (note.measured !== "") lines.push(`**Measured:** ${markdownText(sentence(note.measured))}`);
  if (keys.length > 0) {
    const more = moreKeys === 0 ? "" : ` and ${moreKeys} more`;
    lines.push(`**Keys:** ${keys.map(markdownCode).join("; ")}${more}`);
  }
  const others = alsoTexts(reported);
  if (others.length > 0) lines.push(`**With it:** ${markdownText(others.join("; "))}`);
  const rank = rankText(reported);
  if (rank !== "") lines.push(`**Rank:** ${markdownText(sentence(rank))}`);
  // A backslash at the end of a line is a line break that no editor strips.
  return lines.map((line, n) => (n === 0 ? line : `      ${line}`)).join("\\\n");
}

function list(notes: readonly ReportedNote[], remark?: (index: number) => string): string {
  return notes
    .map(({ check, tier, part, frames, message }, index) => {
      const where = [part, spanText(frames)].filter(Boolean).join(", ");
      return `- ${markdownText(check)}, ${markdownText(where)}, ${tier}: ${markdownText(sentence(message))}${remark === undefined ? "" : ` _${markdownText(sentence(remark(index)))}_`}`;
    })
    .join("\n");
}
