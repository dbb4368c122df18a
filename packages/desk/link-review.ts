/** What people say of the shot, as page and server tell it to each other. */

/** How much a remark matters: three kinds of change, and what is good and stays. */
export type RemarkWeight = "must" | "should" | "could" | "keep";

/** What a computed note can be raised or lowered to. */
export type NoteWeight = Exclude<RemarkWeight, "keep">;

/** A line that was drawn over the picture, where it lies in the world. */
export interface DeskStroke {
  /** x, y and z of each of its places, one after the other; metres, y up. */
  readonly line: readonly number[];
  /** The way in which it was looked, of length 1: the plane of the line stands square to it. */
  readonly facing: readonly [number, number, number];
  /** First and last frame that it speaks of, in the document's numbering. */
  readonly frames: readonly [number, number];
  /** Id of the node that is to go along it, from its beginning to its end; null where it is a drawing alone. */
  readonly target: string | null;
}

/** What somebody said of the shot. */
export interface DeskRemark {
  readonly id: string;
  readonly text: string;
  readonly weight: RemarkWeight;
  /** Who said it, and when (an ISO date); "" where that is not known. */
  readonly by: string;
  readonly date: string;
  /** First and last frame, in the document's numbering; null for all of the shot. */
  readonly frames: readonly [number, number] | null;
  readonly node: string | null;
  /** The part that it speaks of, in words; may be empty. */
  readonly part: string;
  /** The version of the shot for which it was made, in words; "" where that is not known. */
  readonly version: string;
  /** Whether it was made for a version before the one on the desk. */
  readonly isOfBefore: boolean;
  readonly isDone: boolean;
  readonly strokes: readonly DeskStroke[];
  /** What does not fit the shot any more, in a sentence; "" where all does. */
  readonly trouble: string;
}

/** What a reviewer decided about a computed note. */
export interface DeskDecision {
  readonly fingerprint: string;
  readonly isKept: boolean;
  /** The reviewer's words in place of the note's own; null for the note's own. */
  readonly text: string | null;
  /** What the reviewer raises or lowers it to; null where its tier says enough. */
  readonly weight: NoteWeight | null;
  readonly by: string;
}

/** How far a part's path is from the target that somebody drew for it. */
export interface DeskTarget {
  /** Id of the remark, and which of its strokes, from 0. */
  readonly remark: string;
  readonly stroke: number;
  readonly node: string;
  /** Centimetres, over the frames of the stroke. */
  readonly mean: number;
  readonly largest: number;
  /** The frame of the largest distance. */
  readonly at: number;
}

/** All that people said of the shot and decided about its notes. */
export interface DeskReview {
  /** The file, as it is named to people. */
  readonly file: string;
  /** Who reviews where nobody says another name. */
  readonly reviewer: string;
  readonly remarks: readonly DeskRemark[];
  readonly decisions: readonly DeskDecision[];
  /**
   * Ids of remarks and fingerprints of notes in the order in which the reviewer has put them; what is not among them
   * follows as it matters.
   */
  readonly order: readonly string[];
  /** What of the file could not be used, a sentence each; it stays in the file. */
  readonly problems: readonly string[];
}

/** A change of the review. */
export type ReviewChange =
  | {
      readonly kind: "add";
      readonly remark: Pick<DeskRemark, "text" | "weight" | "by" | "frames" | "node" | "strokes">;
    }
  | {
      readonly kind: "change";
      readonly id: string;
      readonly to: Partial<Pick<DeskRemark, "text" | "weight" | "frames" | "node" | "strokes" | "isDone">>;
      readonly by: string;
    }
  | { readonly kind: "remove"; readonly id: string }
  /**
   * Decides about a note; what is left out stays as it is, and null gives it back its own. A `reason` drops it: it is
   * waived.
   */
  | {
      readonly kind: "decide";
      readonly fingerprint: string;
      readonly to: {
        readonly isKept?: boolean;
        readonly reason?: string;
        readonly text?: string | null;
        readonly weight?: NoteWeight | null;
      };
      readonly by: string;
    }
  /** Takes back that a note was dropped, by the id of the decision. */
  | { readonly kind: "take-back"; readonly id: string }
  /** Puts what is on the list into this order. */
  | { readonly kind: "order"; readonly order: readonly string[]; readonly by: string };
