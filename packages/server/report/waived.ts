import type { ReportedNote, ReportedShot } from "@keyside/core";

/** A note that is intended, with who says so. */
export interface WaivedNote extends ReportedNote {
  readonly waiver: {
    readonly reason: string;
    readonly by?: string | undefined;
    /** Whether the waiver stands in the shot's own document; else it stands in a file beside it. */
    readonly inDocument: boolean;
  };
}

/** Notes of a shot that a waiver answers. */
export function waivedIn(shot: ReportedShot): readonly WaivedNote[] {
  return (shot as { readonly waived?: readonly WaivedNote[] }).waived ?? [];
}
