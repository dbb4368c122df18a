import { type Tier, tiers } from "@keyside/core";
import type { FixReport } from "@keyside/core/internal";
import { counted } from "../../base/counted.ts";
import { framesOf } from "../text/frames-of.ts";
import { type Layout, painted, wrapped } from "../text/layout.ts";
import { plainTexts } from "../text/plain.ts";
import { tierPaint } from "./tier-paint.ts";

type Fixed = FixReport["fixes"][number];
type NoteInShort = FixReport["left"][number];

/** Of a fix with more moves than this the first are told. */
const movesShown = 8;

/** Fixes as a person reads them: what each does, and which keys it changes. */
export function fixText(given: FixReport, before: number, layout: Layout): string {
  const report = plainTexts(given);
  const { fixes, unfixed, left } = report;
  const parts = [painted(layout, "bold", report.name)];
  for (const fixed of fixes) parts.push(oneFix(fixed, layout));
  if (unfixed.length > 0) {
    const lines = unfixed.map((note) => oneUnfixed(note, layout));
    parts.push(`  ${painted(layout, "bold", "nothing verified for")}\n${lines.join("\n")}`);
  }
  parts.push(summaryOf(report, before, left, layout));
  return `${parts.join("\n\n")}\n`;
}

function oneUnfixed({ why, sketch, ...note }: FixReport["unfixed"][number], layout: Layout): string {
  const lines = [headOf(note, layout), wrapped(layout, note.message, "      ")];
  if (why !== null) lines.push(labelled("why not", why, layout));
  if (sketch !== null) lines.push(labelled("sketch", `${sketch.title} (--sketch ${note.check})`, layout));
  return lines.join("\n");
}

function oneFix({ note, kind, title, gone, added, ...fixed }: Fixed, layout: Layout): string {
  const lines = [
    headOf(note, layout),
    wrapped(layout, note.message, "      "),
    labelled(kind, title, layout),
  ];
  // A title that is made of moves tells them.
  const moves = fixed.moves.filter(({ text }) => !title.includes(text));
  const shown = moves.length > movesShown ? moves.slice(0, movesShown - 1) : moves;
  for (const { text } of shown) lines.push(labelled("", text, layout));
  if (shown.length < moves.length)
    lines.push(labelled("", `and ${counted(moves.length - shown.length, "more move")}`, layout));
  const others = gone.filter(({ fingerprint }) => fingerprint !== note.fingerprint);
  if (others.length > 0) lines.push(labelled("goes too", others.map(named).join("; "), layout));
  if (added.length > 0) lines.push(labelled("introduces", added.map(named).join("; "), layout));
  return lines.join("\n");
}

function headOf(note: NoteInShort, layout: Layout): string {
  const tier = painted(layout, [...tierPaint[note.tier]], note.tier);
  return `    ${tier}  ${note.check}${note.node === null ? "" : `, ${note.node}`}${framesOf(note)}`;
}

function named({ tier, check, node, ...rest }: NoteInShort): string {
  return `${tier} ${check}${node === null ? "" : ` at ${node}`}${framesOf(rest)}`;
}

function labelled(label: string, text: string, layout: Layout): string {
  return wrapped(layout, text, " ".repeat(18), `      ${label}`.padEnd(18));
}

function summaryOf(report: FixReport, before: number, left: readonly NoteInShort[], layout: Layout): string {
  const { fixes, written } = report;
  const keys = fixes.reduce((sum, fixed) => sum + fixed.keys.length, 0);
  const made = written === null ? "would take" : "took";
  const lines = [
    fixes.length === 0
      ? `Nothing to fix${before === 0 ? ": there are no notes" : ""}.`
      : `${counted(fixes.length, "fix")} ${made} ${counted(keys, "key")}.`,
    `Notes before: ${before}; after: ${left.length}${byTier(left, layout)}.`,
  ];
  if (written !== null) lines.push(`Wrote ${written}.`);
  else if (fixes.length > 0)
    lines.push("Nothing has been written; --write changes the file, --out FILE writes another.");
  return lines.join("\n");
}

function byTier(notes: readonly NoteInShort[], layout: Layout): string {
  const counts = new Map<Tier, number>();
  for (const { tier } of notes) counts.set(tier, (counts.get(tier) ?? 0) + 1);
  const parts = tiers
    .filter((tier) => counts.has(tier))
    .map((tier) => painted(layout, [...tierPaint[tier]], `${counts.get(tier)} ${tier}`));
  return parts.length === 0 ? "" : ` (${parts.join(", ")})`;
}
