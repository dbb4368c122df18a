import type { ReportedShot, ReportedWaivedNote } from "@keyside/core";

/** A note that is intended, with who says so. */
export type WaivedNote = ReportedWaivedNote;

/** Notes of a shot that a waiver answers. */
export function waivedIn(shot: Pick<ReportedShot, "waived">): readonly WaivedNote[] {
  return shot.waived ?? [];
}

/** Why a note is meant, and who says so. */
export function waiverText({ reason, by, lastRevision }: WaivedNote["waiver"]): string {
  const who = by === undefined ? "" : ` (${by})`;
  const until = lastRevision === undefined ? "" : `, up to revision ${lastRevision}`;
  return `${reason}${who}${until}`;
}
