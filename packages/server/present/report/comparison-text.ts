import type { Comparison, NotePair, Tier } from "@keyside/core";
import type { VersionNote } from "../../judge/shots/judged-version.ts";
import { framesOf } from "../text/frames-of.ts";
import { type Layout, painted, wrapped } from "../text/layout.ts";
import { measuredText } from "../text/measured.ts";
import { plainText, plainTexts } from "../text/plain.ts";
import { waiverText } from "../text/waived.ts";
import { type ComparedVersions, changeText, countsText, elsewhereText, timeText } from "./comparison.ts";
import { cellWords } from "./shot-history.ts";
import { tierPaint } from "./tier-paint.ts";

/** A comparison as a person reads it: what is new first, then what changed, what is left, and what is fixed. */
export function comparisonText(compared: ComparedVersions, layout: Layout): string {
  const { before, after } = compared;
  const comparison = plainTexts(compared.comparison);
  const head = painted(layout, "bold", plainText(after.report.name));
  const files = painted(layout, "dim", plainText(`${before.report.file} → ${after.report.file}`));
  const lines = [`${head}  ${files}`];
  for (const sentence of timeText(comparison))
    lines.push(painted(layout, "dim", wrapped(layout, sentence, "  ")));
  lines.push("", `${countsText(comparison)}.`);
  const elsewhere = elsewhereText(compared);
  if (elsewhere !== null) lines.push(wrapped(layout, elsewhere, ""));
  lines.push(...sections(comparison, layout), ...peopleLines(plainTexts(compared.people), layout));
  return `${lines.join("\n")}\n`;
}

function sections(comparison: Comparison<VersionNote>, layout: Layout): string[] {
  const { added, changed, still, fixed, waived } = comparison;
  const list = (title: string, entries: readonly string[]) =>
    entries.length === 0 ? [] : ["", `  ${painted(layout, "bold", title)}`, ...entries];
  return [
    ...list(
      "new",
      added.map((note) => entry(layout, note, "", note.reported.message)),
    ),
    ...list(
      "changed",
      changed.map((change) => pairEntry(layout, change, change.after.reported.message, changeText(change))),
    ),
    ...list(
      "still there",
      still.map((pair) => pairEntry(layout, pair, pair.after.reported.message)),
    ),
    ...list(
      "fixed",
      fixed.map((note) => entry(layout, note, "", note.reported.message)),
    ),
    ...list(
      "waived",
      waived.map(({ before, after }) => {
        const note = after ?? before;
        if (note === null) return "";
        const waiver = note.waiver === null ? [] : [waiverText(note.waiver)];
        const lines = [note.reported.message, ...(after === null ? ["gone"] : []), ...waiver];
        return entry(layout, note, "", ...lines);
      }),
    ),
  ];
}

/** What became of people's remarks, and of the paths that they drew. */
function peopleLines(people: ComparedVersions["people"], layout: Layout): string[] {
  if (people.length === 0) return [];
  const entries = people.map((row) => {
    const states = row.cells
      .map((cell) => cellWords(cell, (metres) => measuredText(metres, "m")))
      .filter(Boolean);
    const head = `    ${row.weight}  ${row.title}, ${row.part}${framesOf(row)} (${row.by}): ${states.join(" → ")}`;
    return row.kind === "target" ? head : `${head}\n${wrapped(layout, row.text, "      ")}`;
  });
  return ["", `  ${painted(layout, "bold", "what people say")}`, ...entries];
}

function entry(layout: Layout, note: VersionNote, was: string, ...said: readonly string[]): string {
  const { tier, part } = note.reported;
  const where = `${part}${framesOf(note.reported)}${was}`;
  const head = `    ${painted(layout, [...tierPaint[tier as Tier]], tier)}  ${note.check}, ${where}`;
  return [head, ...said.map((text) => wrapped(layout, text, "      "))].join("\n");
}

function pairEntry(
  layout: Layout,
  { before, after }: NotePair<VersionNote>,
  ...said: readonly string[]
): string {
  const moved = before.frames?.[0] !== after.frames?.[0] || before.frames?.[1] !== after.frames?.[1];
  const was = moved ? ` (was${framesOf(before.reported).replace(",", "")})` : "";
  return entry(layout, after, was, ...said);
}
