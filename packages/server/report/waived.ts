import type { ReportedShot, ReportedWaivedNote } from "@keyside/core";

/** A note that is intended, with who says so. */
export type WaivedNote = ReportedWaivedNote;

/** Notes of a shot that a waiver answers. */
export function waivedIn(shot: ReportedShot): readonly WaivedNote[] {
  return shot.waived ?? [];
}
