import { counted } from "../../base/counted.ts";
import { type Sheet, type SheetNote, sentence } from "./sheet.ts";

/** A note as plain text, to be pasted where there are no pictures. */
export function noteText(sheet: Sheet, note: SheetNote): string {
  const { reported, keys, moreKeys } = note;
  const more = moreKeys === 0 ? "" : ` and ${moreKeys} more`;
  const lines = [
    `${sheet.name}, ${sheet.issue}, note ${note.number}`,
    `${note.title} (${reported.tier}), ${[reported.part, note.frames].filter(Boolean).join(", ")}`,
    note.message,
    `Change: ${note.suggestion}`,
    ...(note.fix === null ? [] : [`Fix: ${fixSentence(sheet, note)}`]),
    `Why: ${note.why}`,
  ];
  if (keys.length > 0) lines.push(`Keys: ${keys.join("; ")}${more}`);
  if (note.status !== null) lines.push(`Since the version before: ${note.status}`);
  return lines.join("\n");
}

/** Of a fix with more moves than this the first are told. */
const movesShown = 3;

/** What the verified fix does, and which other notes go with it. */
export function fixSentence({ notes }: Sheet, { fix, note }: SheetNote): string {
  if (fix === null) return "";
  const others = fix.gone
    .filter(({ fingerprint }) => fingerprint !== note?.fingerprint)
    .flatMap(({ fingerprint }) => notes.find((one) => one.reported.fingerprint === fingerprint)?.number ?? [])
    .sort((a, b) => a - b);
  const also =
    others.length === 0 ? "" : ` Clears ${counted(others.length, "other note")} too: ${others.join(", ")}.`;
  // A title that is made of moves tells them.
  const untold = fix.moves.flatMap(({ text }) => (fix.title.includes(text) ? [] : [text]));
  const more = untold.length > movesShown ? `; and ${untold.length - movesShown} more` : "";
  const moves = untold.length === 0 ? "" : ` ${untold.slice(0, movesShown).join("; ")}${more}.`;
  return `${sentence(fix.title)}${moves} Verified: clears this note; changes ${counted(fix.changes.length, "key")}.${also}`;
}
