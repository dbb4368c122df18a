import type { ReportedNote, ReportedRemark, ReportedShot, ReportedWaivedNote } from "@keyside/core";
import { type Column, columnWidths, lineOf } from "../text/columns.ts";
import { type Layout, painted, wrapped } from "../text/layout.ts";
import { limitFor, valueText } from "../text/measured.ts";
import { listedItems, type ReviewedNote, remarkDetails, remarkSource } from "../text/review.ts";
import { waivedIn, waiverText } from "../text/waived.ts";
import { tierPaint } from "./tier-paint.ts";

const columns: readonly Column[] = [
  { head: "tier", least: 6 },
  { head: "frames", least: 9 },
  { head: "part", least: 10 },
  { head: "check", least: 18 },
  { head: "measured", least: 10, rank: 3 },
  { head: "limit", least: 13, rank: 1 },
  // The part tells the node; channel and frame are what is to be found.
  { head: "first key", least: 16, rank: 2, cut: "start" },
];
const indent = 2;

interface Row {
  readonly tier: string;
  readonly cells: readonly string[];
  /** What is said beneath it; empty for nothing. */
  readonly beneath: string;
}

/**
 * The notes of a shot at a glance: a line each, biggest first, in columns; then why each check matters that has not
 * been explained before.
 * @param shown the notes that are written out
 * @param explained checks that have been explained; those that are explained here are added
 */
export function briefNotes(
  layout: Layout,
  shot: ReportedShot,
  shown: readonly ReportedNote[],
  explained: Set<string>,
): string[] {
  const rows = [
    ...listedItems(shot, shown).map((item) =>
      item.kind === "remark" ? remarkRow(item.remark) : noteRow(item.note, item.said),
    ),
    ...waivedIn(shot).map(waivedRow),
  ];
  if (rows.length === 0) return [];
  const widths = columnWidths(
    layout,
    columns,
    rows.map(({ cells }) => cells),
    indent,
  );
  const heads = columns.map(({ head }) => head);
  const lines = rows.flatMap(({ tier, cells, beneath }) => {
    const line = lineOf(cells, columns, widths, indent);
    const paint = tierPaint[tier as keyof typeof tierPaint];
    const first = paint === undefined ? line : line.replace(tier, painted(layout, [...paint], tier));
    return beneath === "" ? [first] : [first, wrapped(layout, beneath, " ".repeat(indent + 8))];
  });
  const table = [painted(layout, "dim", lineOf(heads, columns, widths, indent)), ...lines].join("\n");
  const why = whyOf(layout, shown, explained);
  return why === "" ? [table] : [table, why];
}

function noteRow(note: ReportedNote, said: ReviewedNote | null): Row {
  const { part, check, measured, expected, message, place, keys } = note;
  const tier = said?.isWeighed === true ? said.weight : note.tier;
  const [key] = keys;
  const words = said?.text == null ? "" : `${said.by}: ${said.text}`;
  return {
    tier,
    cells: [
      tier,
      spanOf(note),
      part,
      check,
      ...(measured === null ? ["", ""] : [valueText(measured, expected), limitFor(measured, expected)]),
      key === undefined ? "" : `${key.node} ${key.channel} ${key.frame}`,
    ],
    // Where nothing was measured, the message is all that there is.
    beneath:
      words !== "" || measured !== null
        ? words
        : place === undefined
          ? message
          : `${placeText(place)}: ${message}`,
  };
}

/** What a person says, in the same list as what was computed. */
function remarkRow(remark: ReportedRemark): Row {
  const { weight, part, text } = remark;
  const cells = [weight, spanOf(remark), part, "remark"];
  const more = remarkDetails(remark).map((detail) => ` (${detail})`);
  return { tier: weight, cells, beneath: `${remarkSource(remark)}: ${text}${more.join("")}` };
}

/** A note that is intended: its own tier does not count, and the reason does. */
function waivedRow(note: ReportedWaivedNote): Row {
  const cells = ["waived", spanOf(note), note.part, note.check];
  return { tier: "waived", cells, beneath: waiverText(note.waiver) };
}

function placeText({ line, column }: NonNullable<ReportedNote["place"]>): string {
  return `line ${line}, column ${column}`;
}

function spanOf({ frames }: Pick<ReportedNote, "frames">): string {
  if (frames === null) return "";
  return frames[0] === frames[1] ? String(frames[0]) : `${frames[0]}–${frames[1]}`;
}

function whyOf(layout: Layout, notes: readonly ReportedNote[], explained: Set<string>): string {
  const reasons = new Map<string, string>();
  for (const { check, why, tier } of notes) {
    if (explained.has(check) || tier === "broken") continue;
    explained.add(check);
    reasons.set(check, why);
  }
  if (reasons.size === 0) return "";
  const widest = Math.min(20, Math.max(...[...reasons.keys()].map((check) => check.length)));
  const hanging = " ".repeat(indent + 2 + widest + 2);
  const lines = [...reasons].map(([check, why]) =>
    wrapped(layout, why, hanging, `${" ".repeat(indent + 2)}${check.padEnd(widest)}  `),
  );
  return `${" ".repeat(indent)}${painted(layout, "bold", "why")}\n${lines.join("\n")}`;
}
