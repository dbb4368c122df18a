import type { Sheet, SheetNote } from "./sheet.ts";

/** A note as plain text, to be pasted where there are no pictures. */
export function noteText({ name, issue }: Pick<Sheet, "name" | "issue">, note: SheetNote): string {
  const { reported, keys, moreKeys } = note;
  const more = moreKeys === 0 ? "" : ` and ${moreKeys} more`;
  const lines = [
    `${name}, ${issue}, note ${note.number}`,
    `${note.title} (${reported.tier}), ${[reported.part, note.frames].filter(Boolean).join(", ")}`,
    note.message,
    `Change: ${note.suggestion}`,
    `Why: ${note.why}`,
  ];
  if (keys.length > 0) lines.push(`Keys: ${keys.join("; ")}${more}`);
  if (note.status !== null) lines.push(`Since the version before: ${note.status}`);
  return lines.join("\n");
}
