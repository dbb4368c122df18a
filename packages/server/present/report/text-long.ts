import type { ReportedNote, ReportedShot, ReportedWaivedNote } from "@keyside/core";
import { counted } from "../../base/counted.ts";
import { framesOf } from "../text/frames-of.ts";
import { type Layout, painted, wrapped } from "../text/layout.ts";
import { alsoTexts, rankText } from "../text/rank.ts";
import { listedItems, remarkDetails, remarkSource } from "../text/review.ts";
import { waivedIn } from "../text/waived.ts";
import { tierPaint } from "./tier-paint.ts";

/** More causing keys than these are not listed one by one. */
const keysShown = 3;

/**
 * All of each note of a shot, body part by body part, the heaviest first.
 * @param shown the notes that are written out
 */
export function longNotes(layout: Layout, shot: ReportedShot, shown: readonly ReportedNote[]): string[] {
  const groups = new Map<string, ReportedNote[]>();
  for (const note of shown) {
    const notes = groups.get(note.part);
    if (notes === undefined) groups.set(note.part, [note]);
    else notes.push(note);
  }
  const parts = [...groups].map(
    ([group, notes]) =>
      `  ${painted(layout, "bold", group)}\n${notes.map((note) => noteText(layout, note)).join("\n")}`,
  );
  const waived = waivedIn(shot);
  const people = saidText(layout, shot, shown);
  return [...people, ...parts, ...(waived.length === 0 ? [] : [waivedText(layout, waived)])];
}

/** What people say, and their words for computed notes, in their order. */
function saidText(layout: Layout, shot: ReportedShot, shown: readonly ReportedNote[]): string[] {
  const entries = listedItems(shot, shown).flatMap((item) => {
    if (item.kind === "remark") {
      const { remark } = item;
      const head = `    ${remark.weight}  ${remark.part}${framesOf(remark)} (${remarkSource(remark)})`;
      return [
        [
          head,
          ...[remark.text, ...remarkDetails(remark)].map((text) => wrapped(layout, text, "      ")),
        ].join("\n"),
      ];
    }
    const { note, said } = item;
    if (said === null || (said.text === null && !said.isWeighed)) return [];
    const head = `    ${said.weight}  ${note.check}, ${note.part}${framesOf(note)} (${said.by})`;
    return [said.text === null ? head : `${head}\n${wrapped(layout, said.text, "      ")}`];
  });
  return entries.length === 0
    ? []
    : [`  ${painted(layout, "bold", "what people say")}\n${entries.join("\n")}`];
}

function noteText(layout: Layout, note: ReportedNote): string {
  const at = note.place === undefined ? "" : `, line ${note.place.line}, column ${note.place.column}`;
  const head = `    ${painted(layout, [...tierPaint[note.tier]], note.tier)}  ${note.check}${framesOf(note)}${at}`;
  const labelled = (label: string, text: string) =>
    wrapped(layout, text, " ".repeat(12), `      ${label}`.padEnd(12));
  const lines = [head, wrapped(layout, note.message, "      ")];
  if (note.tier !== "broken") {
    lines.push(painted(layout, "dim", labelled("why", note.why)));
    lines.push(labelled("fix", note.suggestion));
    if (note.keys.length > 0) lines.push(labelled("keys", keysOf(note)));
    for (const other of alsoTexts(note)) lines.push(labelled("with", other));
    const rank = rankText(note);
    if (rank !== "") lines.push(painted(layout, "dim", labelled("rank", rank)));
  }
  return lines.join("\n");
}

/** Notes that are intended: what, and why, in short. */
export function waivedText(layout: Layout, waived: readonly ReportedWaivedNote[]): string {
  const entries = waived.map((note) => {
    const { reason, by } = note.waiver;
    const head = `    ${painted(layout, "dim", note.tier)}  ${note.check}, ${note.part}${framesOf(note)}`;
    const why = by === undefined ? reason : `${reason} (${by})`;
    return `${head}\n${wrapped(layout, note.message, "      ")}\n${wrapped(layout, why, " ".repeat(14), "      waived".padEnd(14))}`;
  });
  return `  ${painted(layout, "bold", "waived")}\n${entries.join("\n")}`;
}

function keysOf(note: ReportedNote): string {
  const shown = note.keys.slice(0, keysShown).map(({ node, channel, frame, line, column }) => {
    const key = `${node} ${channel} frame ${frame}`;
    return line === null ? key : `${key} ${line}:${column}`;
  });
  const more = note.keys.length - shown.length;
  return shown.join("; ") + (more > 0 ? `; and ${counted(more, "more key")}` : "");
}
