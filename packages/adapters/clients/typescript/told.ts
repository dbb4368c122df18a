import type { CheckFailure, KeyEdit, MarkState, Note, ReviewWeight, Stroke, TargetFit } from "@keyside/core";

/** A note as the feed tells it; `OpenShot.explain` brings the series behind it. */
export type FeedNote = Omit<Note, "evidence" | "rank" | "also"> & {
  /** Why it stands where it does; `excess` is null where its threshold is 0. */
  readonly rank?: (Omit<NonNullable<Note["rank"]>, "excess" | "part"> & RankEnd) | undefined;
  /** What it speaks for: notes that the same change clears, or that are the same on the other side. */
  readonly also?:
    | readonly Pick<Note, "check" | "tier" | "node" | "frames" | "message" | "fingerprint">[]
    | undefined;
};

interface RankEnd {
  readonly excess: number | null;
  readonly part: string | null;
}

const tierOrder: readonly FeedNote["tier"][] = ["major", "minor", "polish"];

/**
 * Puts the note that matters most first, as reports have them: by how plainly it is seen, where a major one counts twice;
 * then polish.
 */
export function inOrder(a: FeedNote, b: FeedNote): number {
  return (
    Number(a.tier === "polish") - Number(b.tier === "polish") ||
    standingOf(b) - standingOf(a) ||
    tierOrder.indexOf(a.tier) - tierOrder.indexOf(b.tier) ||
    b.weight - a.weight ||
    a.frames[0] - b.frames[0] ||
    (a.fingerprint < b.fingerprint ? -1 : a.fingerprint > b.fingerprint ? 1 : 0)
  );
}

/** Plainness, halved for a minor note; a major one of which no size is known counts as 0.07. */
function standingOf({ tier, rank }: FeedNote): number {
  const plainness = rank?.plainness ?? 0;
  if (tier === "minor") return plainness / 2;
  return tier === "major" && plainness === 0 ? 0.07 : plainness;
}

/** What the feed tells of a shot. */
export interface NotesChanged {
  readonly shot: string;
  /** The revision that the notes judge. */
  readonly revision: number;
  readonly added: readonly FeedNote[];
  readonly changed: readonly FeedNote[];
  /** Fingerprints. */
  readonly gone: readonly string[];
  /** Checks that ended in an error, whose notes are missing; absent where none did. */
  readonly failures?: readonly CheckFailure[];
}

/** What has been found so far on the nodes that were edited, while a revision is being judged. */
export interface NotesSoFar {
  readonly shot: string;
  /** The revision that is being judged. */
  readonly revision: number;
  /** Share of the pieces of work that are done, 0 to 1. */
  readonly share: number;
  /** Not final: in the end they may be told otherwise. The one that matters most first. */
  readonly notes: readonly FeedNote[];
}

/** What somebody says of a shot, beside the keys of which they speak. */
export interface FeedRemark {
  readonly id: string;
  readonly text: string;
  readonly weight: ReviewWeight;
  readonly by: string;
  readonly date: string;
  /** The part, as it is called in the shot; null for the whole of it. */
  readonly node: string | null;
  readonly frames: readonly [number, number] | null;
  readonly state: MarkState;
  readonly keys: readonly { node: string; channel: KeyEdit["channel"]; frame: number; index: number }[];
  /** How far parts are from the paths that were drawn for them; metres and frames. */
  readonly targets: readonly (TargetFit & { readonly stroke: number })[];
}

/** A change of a review; docs/host-messages.md says what each does. */
export type ReviewChange =
  | {
      readonly kind: "add";
      readonly remark: {
        readonly text: string;
        readonly weight?: ReviewWeight;
        readonly frames?: readonly [number, number];
        readonly node?: string;
        readonly figure?: string;
        readonly strokes?: readonly Stroke[];
      };
    }
  | {
      readonly kind: "change";
      readonly id: string;
      readonly to: {
        readonly text?: string;
        readonly weight?: ReviewWeight;
        readonly frames?: readonly [number, number] | null;
        readonly node?: string | null;
        readonly strokes?: readonly Stroke[] | null;
        readonly rank?: number | null;
      };
    }
  | { readonly kind: "remove"; readonly id: string }
  | { readonly kind: "mark"; readonly of: string; readonly state: MarkState }
  | {
      readonly kind: "decide";
      readonly fingerprint: string;
      readonly verdict: "kept" | "dropped";
      readonly reason?: string;
      readonly text?: string;
      readonly weight?: Exclude<ReviewWeight, "keep">;
    };
