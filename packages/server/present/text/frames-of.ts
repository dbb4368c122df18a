import type { ReportedNote } from "@keyside/core";

/** A note's frames as they follow its check's name; empty where it has none. */
export function framesOf(note: Pick<ReportedNote, "frames">): string {
  if (note.frames === null) return "";
  const [first, last] = note.frames;
  return first === last ? `, frame ${first}` : `, frames ${first} to ${last}`;
}
