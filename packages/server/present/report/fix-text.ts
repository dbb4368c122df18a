import { type Tier, tiers } from "@keyside/core";
import type { FixReport } from "@keyside/core/internal";
import { counted } from "../../base/counted.ts";
import { framesOf } from "../text/frames-of.ts";
import { type Layout, painted, wrapped } from "../text/layout.ts";
import { tierPaint } from "./tier-paint.ts";

type Fixed = FixReport["fixes"][number];
type Key = Fixed["keys"][number];
type KeyState = NonNullable<Key["before"]>;
type NoteInShort = FixReport["left"][number];

/** A curve of which more keys change is told in one line. */
const keysShown = 6;

/** Fixes as a person reads them: what each does, and which keys it changes. */
export function fixText(report: FixReport, before: number, layout: Layout): string {
  const { fixes, unfixed, left } = report;
  const parts = [painted(layout, "bold", report.name)];
  for (const fixed of fixes) parts.push(oneFix(fixed, layout));
  if (unfixed.length > 0) {
    const lines = unfixed.map(
      (note) => `${headOf(note, layout)}\n${wrapped(layout, note.message, "      ")}`,
    );
    parts.push(`  ${painted(layout, "bold", "nothing verified for")}\n${lines.join("\n")}`);
  }
  parts.push(summaryOf(report, before, left, layout));
  return `${parts.join("\n\n")}\n`;
}

function oneFix({ note, title, keys, gone, added }: Fixed, layout: Layout): string {
  const lines = [
    headOf(note, layout),
    wrapped(layout, note.message, "      "),
    labelled("fix", title, layout),
  ];
  for (const [curve, changes] of byCurve(keys)) lines.push(...curveLines(curve, changes, layout));
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

function byCurve(keys: readonly Key[]): Map<string, Key[]> {
  const curves = new Map<string, Key[]>();
  for (const key of keys) {
    const name = `${key.node} ${key.channel}`;
    const list = curves.get(name);
    if (list === undefined) curves.set(name, [key]);
    else list.push(key);
  }
  return curves;
}

function curveLines(curve: string, keys: readonly Key[], layout: Layout): string[] {
  if (keys.length <= keysShown) return keys.map((key) => labelled("", `${curve}, ${changeOf(key)}`, layout));
  const count = (kind: (key: Key) => boolean) => keys.filter(kind).length;
  const kinds = [
    [count(({ before, after }) => before !== null && after !== null), "changed"],
    [count(({ before }) => before === null), "new"],
    [count(({ after }) => after === null), "taken out"],
  ] as const;
  const what = kinds.filter(([number]) => number > 0).map(([number, kind]) => `${number} ${kind}`);
  const frames = keys.map(({ before, after }) => (after ?? before)?.frame ?? 0);
  const span = `frames ${Math.min(...frames)} to ${Math.max(...frames)}`;
  return [labelled("", `${curve}, ${counted(keys.length, "key")} (${what.join(", ")}), ${span}`, layout)];
}

/** One key's change: "frame 31: 17.691 → 4.691". */
function changeOf({ before, after }: Key): string {
  if (before === null) return `frame ${after?.frame}: new, ${after === null ? "" : valueText(after)}`;
  if (after === null) return `frame ${before.frame}: taken out (was ${valueText(before)})`;
  const changes: string[] = [];
  if (before.frame !== after.frame) changes.push(`moved to frame ${after.frame}`);
  if (valueText(before) !== valueText(after)) changes.push(`${valueText(before)} → ${valueText(after)}`);
  if (before.interpolation !== after.interpolation)
    changes.push(`${before.interpolation} → ${after.interpolation}`);
  for (const side of ["in", "out"] as const) {
    const [old, now] = [handleText(before[side]), handleText(after[side])];
    if (old !== now) changes.push(`${side} handle ${old} → ${now}`);
  }
  return `frame ${before.frame}: ${changes.join(", ")}`;
}

function valueText({ value }: KeyState): string {
  return typeof value === "number" ? String(value) : `[${value.join(", ")}]`;
}

function handleText(handle: KeyState["in"]): string {
  if (handle === undefined) return "none";
  return typeof handle === "number" ? String(handle) : `[${handle.join(", ")}]`;
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
