import type { ShotHistory } from "@keyside/core/internal";
import { counted } from "../../base/counted.ts";
import { type Column, columnWidths, lineOf } from "../text/columns.ts";
import { type Layout, painted, wrapped } from "../text/layout.ts";
import { markdownText } from "../text/markdown.ts";
import { measuredText } from "../text/measured.ts";
import { plainTexts } from "../text/plain.ts";
import { cellWords, spanWords, versionName } from "./shot-history.ts";

const lengthText = (metres: number) => measuredText(metres, "m");
const indent = 2;

/** The history of a shot's notes and remarks as a person reads it: versions across, remarks and notes down. */
export function shotHistoryText(given: ShotHistory, layout: Layout): string {
  const history = plainTexts(given);
  const { shot, versions, rows, problems } = history;
  const columns: readonly Column[] = [
    { head: "weight", least: 6 },
    { head: "what", least: 12 },
    { head: "part", least: 10 },
    ...versions.map((version) => ({ head: versionName(version), least: 7 })),
    { head: "from, to", least: 8, rank: 1 },
  ];
  const cells = rows.map((row) => [
    row.weight,
    row.title,
    row.part,
    ...row.cells.map((cell) => cellWords(cell, lengthText)),
    spanWords(row, history),
  ]);
  const widths = columnWidths(layout, columns, cells, indent);
  const heads = columns.map(({ head }) => head);
  const files = versions.map(({ file }) => file).join(" → ");
  const lines = [`${painted(layout, "bold", shot)}  ${painted(layout, "dim", files)}`, ""];
  if (rows.length === 0) lines.push("  No notes and no remarks in any version.");
  else lines.push(painted(layout, "dim", lineOf(heads, columns, widths, indent)));
  rows.forEach((row, index) => {
    lines.push(lineOf(cells[index] as string[], columns, widths, indent));
    if (row.kind === "remark") lines.push(wrapped(layout, `${row.by}: ${row.text}`, " ".repeat(indent + 8)));
  });
  lines.push("", `${countsOf(history)}.`);
  for (const problem of problems) lines.push(wrapped(layout, problem, "    ", "  "));
  return `${lines.join("\n")}\n`;
}

/** The same as a table in Markdown. */
export function shotHistoryMarkdown(history: ShotHistory): string {
  const { shot, versions, rows, problems } = history;
  const line = (cells: readonly string[]) => `| ${cells.join(" | ")} |`;
  const heads = ["weight", "what", "part", ...versions.map(versionName), "from, to"];
  const table = [
    line(heads.map(markdownText)),
    line(heads.map(() => "---")),
    ...rows.map((row) => {
      const what = row.kind === "remark" ? `${row.title}: ${row.text} (${row.by})` : row.title;
      const cells = row.cells.map((cell) => cellWords(cell, lengthText));
      return line([row.weight, what, row.part, ...cells, spanWords(row, history)].map(markdownText));
    }),
  ];
  const blocks = [`## ${markdownText(shot)}`, table.join("\n"), `${countsOf(history)}.`];
  if (problems.length > 0) blocks.push(problems.map((text) => `- ${markdownText(text)}`).join("\n"));
  return `${blocks.join("\n\n")}\n`;
}

/** "3 of 5 remarks closed, 7 of 11 notes, 1 of 1 target path". */
export function countsOf({ rows }: ShotHistory): string {
  const kinds = [
    ["remark", rows.filter(({ kind, weight }) => kind === "remark" && weight !== "keep")],
    ["target path", rows.filter(({ kind }) => kind === "target")],
    ["note", rows.filter(({ kind }) => kind === "note")],
  ] as const;
  const parts = kinds
    .filter(([, list]) => list.length > 0)
    .map(
      ([name, list]) =>
        `${list.filter(({ closed }) => closed !== null).length} of ${counted(list.length, name)}`,
    );
  return parts.length === 0 ? "Nothing to close" : `Closed: ${parts.join(", ")}`;
}
