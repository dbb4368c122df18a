import { dirname } from "node:path";
import {
  type Habit,
  type HabitGroup,
  HabitTally,
  leastGone,
  leastShots,
  type ReportedShot,
} from "@keyside/core";
import { counted } from "../../base/counted.ts";
import type { ReportWriter } from "../../judge/archive/report-writer.ts";
import { type Column, columnWidths, lineOf } from "../text/columns.ts";
import { type Layout, painted, wrapped } from "../text/layout.ts";
import { markdownText } from "../text/markdown.ts";
import { plainTexts } from "../text/plain.ts";
import { isShown } from "../text/shown.ts";
import { escaped } from "../text/svg.ts";
import { table } from "./archive-page-table.ts";
import type { WriterOptions } from "./writer-options.ts";

/** What is said with every table of habits. */
export const habitsCaution =
  "This counts faults in shots, and shots differ: in length, in difficulty, in what was asked for. It ranks nobody; groups stand in the order of their names.";
export const tooFew = "too few to tell";
/** Why there is a least number of shots, in words. */
export const habitsLeast = `Shares are told from ${leastShots} shots on: if none of fewer has a fault, a third of all may still have it. Versions are told from ${leastGone} shots on in which the fault has gone, and trends from ${leastShots} shots on in each half.`;

export interface HabitsOptions extends Pick<WriterOptions, "layout" | "lightest"> {
  readonly format: "text" | "markdown" | "json";
  /** Groups in which a shot counts, and when it was made. */
  placeOf(file: string): Promise<{ readonly groups: readonly string[]; readonly time: number | null }>;
}

/** The checks that found something in a shot that is shown. */
export function checksIn(
  { notes }: Pick<ReportedShot, "notes">,
  lightest: WriterOptions["lightest"],
): ReadonlySet<string> {
  return new Set(
    notes.filter(({ tier }) => tier !== "broken" && isShown(tier, lightest)).map(({ check }) => check),
  );
}

/** Writes what comes again over the shots of a run. */
export function habitsWriter({ layout, lightest, format, placeOf }: HabitsOptions): ReportWriter {
  const found: { readonly file: string; readonly checks: ReadonlySet<string> }[] = [];
  let groups: readonly HabitGroup[] = [];
  return {
    begin: () => "",
    shot(shot) {
      found.push({ file: shot.file, checks: checksIn(shot, lightest) });
      return "";
    },
    error: () => "",
    async beforeEnd() {
      const tally = new HabitTally();
      for (const one of found) tally.add({ ...one, ...(await placeOf(one.file)) });
      groups = tally.result();
    },
    end() {
      if (format === "json") {
        const least = { shots: leastShots, gone: leastGone };
        return `${JSON.stringify({ caution: habitsCaution, least, groups }, null, 2)}\n`;
      }
      return format === "markdown" ? habitsMarkdown(groups) : habitsText(plainTexts(groups), layout);
    },
  };
}

const columns: readonly Column[] = [
  { head: "check", least: 12 },
  { head: "shots", least: 8 },
  { head: "share", least: 14 },
  { head: "versions to go", least: 14 },
  { head: "stayed", least: 6 },
  { head: "over time", least: 15, rank: 1 },
];

function habitsText(groups: readonly HabitGroup[], layout: Layout): string {
  const blocks = groups.map(({ name, shots, versions, habits }) => {
    const head = `${painted(layout, "bold", name)}  ${counted(shots, "shot")}, ${counted(versions, "version")}`;
    if (habits.length === 0) return `${head}\n  No notes.`;
    const rows = habits.map((habit) => cellsOf(habit, shots));
    const widths = columnWidths(layout, columns, rows, 2);
    const heads = columns.map((column) => column.head);
    const lines = [heads, ...rows].map((cells) => lineOf(cells, columns, widths, 2));
    return [head, ...lines].join("\n");
  });
  return `${[...blocks, wrapped(layout, habitsLeast), wrapped(layout, habitsCaution)].join("\n\n")}\n`;
}

function habitsMarkdown(groups: readonly HabitGroup[]): string {
  const line = (cells: readonly string[]) => `| ${cells.map(markdownText).join(" | ")} |`;
  const blocks = groups.flatMap(({ name, shots, versions, habits }) => [
    `## ${markdownText(name)}: ${counted(shots, "shot")}, ${counted(versions, "version")}`,
    [
      line(columns.map(({ head }) => head)),
      `| ${columns.map(() => "---").join(" | ")} |`,
      ...habits.map((habit) => line(cellsOf(habit, shots))),
    ].join("\n"),
  ]);
  return `${[...blocks, markdownText(habitsLeast), markdownText(habitsCaution)].join("\n\n")}\n`;
}

function cellsOf({ check, shots, share, gone, versions, stayed, trend }: Habit, all: number): string[] {
  const took = versions === null ? (gone === 0 ? "" : tooFew) : `${versions} (${counted(gone, "shot")})`;
  return [
    check,
    `${shots} of ${all}`,
    share === null ? tooFew : `${percent(share.value)} (${percent(share.from)} to ${percent(share.to)})`,
    took,
    stayed === 0 ? "" : String(stayed),
    trend === null ? tooFew : `${trend.verdict}: ${percent(trend.earlier)}, then ${percent(trend.later)}`,
  ];
}

function percent(share: number): string {
  return `${Math.round(share * 100)} %`;
}

/** The folder of a shot as a group is called. */
export function folderGroup(file: string): string {
  return dirname(file);
}

/** Habits on the page of an archive, by folder; null where no shot has several versions and no folder has enough shots. */
export function habitsSection(groups: readonly HabitGroup[]): string | null {
  const told = groups.filter(({ shots, versions }) => shots >= leastShots || versions > shots);
  if (told.length === 0) return null;
  const shown = columns.slice(0, -1);
  const rows = told.flatMap(({ name, shots, habits }) =>
    habits.map(
      (habit) =>
        `<tr><th scope="row">${escaped(name)}</th>${cellsOf(habit, shots)
          .slice(0, -1)
          .map((cell) => `<td>${escaped(cell)}</td>`)
          .join("")}</tr>`,
    ),
  );
  const heads = ["folder", ...shown.map(({ head }) => head)]
    .map((head) => `<th scope="col">${head}</th>`)
    .join("");
  return `<p class="quiet">${escaped(habitsLeast)} ${escaped(habitsCaution)}</p>${table("Habits", heads, rows)}`;
}
