import type { Channel, Interpolation, KeyEdit } from "@keyside/core";
import type { Motion, MotionFix } from "@keyside/player/motion";
import type { DeskReview, DeskTarget, ReviewChange } from "./link-review.ts";
import type { DeskKey, DeskNote, DeskShot } from "./link-shot.ts";

export type * from "./link-review.ts";
export type * from "./link-shot.ts";

/*
 * What the page and the desk's server say to each other, over one WebSocket at `/link` (open-link.ts opens it). Each
 * message is one JSON text.
 * A page is told all of the shot when it comes (`shot`), then what changes. Keys are in the document's own units and its
 * numbering of frames, as in the host channel; what the player takes is in metres, y up, and counts judged frames from 0.
 *
 * The server's shot has a revision, which each change makes one higher, whoever makes it. All messages about the shot
 * name the revision that they belong to, and come in its order. A page may show its own edits before they are answered;
 * what the server tells goes before what it shows.
 */

/** Subprotocol of the WebSocket. The token is offered as a second one, which is how a page can send a header with it. */
export const linkProtocol = "keyside.desk.1";

/** A note that is waived, and why. */
export interface DeskWaived {
  readonly check: string;
  readonly node: string | null;
  readonly frames: readonly [number, number] | null;
  readonly reason: string;
  readonly by: string | null;
  /** Id of the reviewer's decision that dropped it, which can be taken back; null where a waiver says so. */
  readonly decision: string | null;
}

/** Keys of a channel that came, went and changed: `removed` keys from the index `at` on give way to `keys`. */
export interface ChannelChange {
  readonly node: string;
  readonly channel: Channel;
  readonly interpolation: Interpolation;
  readonly at: number;
  readonly removed: number;
  readonly keys: readonly DeskKey[];
  /** How many keys the channel has afterwards; 0 where it is gone. */
  readonly count: number;
}

/**
 * Where points are now on the judged frames `from` to `to`, both included. A point whose number is not below the points
 * told so far is new; on frames outside it is where it was, so that a new one comes with all frames.
 */
export interface MotionChange {
  readonly points: readonly number[];
  readonly from: number;
  readonly to: number;
  /** Places (not moves), packed as the poses of a motion are (packed.ts), in base64. */
  readonly places: string;
}

/** What can be undone and done again: what the step did, in words; null for nothing. */
export interface DeskHistory {
  readonly undo: string | null;
  readonly redo: string | null;
}

/** How the shot stands against its file. */
export interface DeskDisk {
  /** Whether there is something to save. */
  readonly isUnsaved: boolean;
  /** Whether the file has changed on disk since it was read or saved: nothing is saved until somebody decides. */
  readonly hasChanged: boolean;
}

/** Edits of an earlier desk that were not saved. */
export interface DeskRecovery {
  /** Names it in {@link ToDesk}. */
  readonly id: string;
  /** When it was kept, as an ISO date. */
  readonly when: string;
  /** What can be said of it, in a sentence: also where the file has changed since. */
  readonly message: string;
}

/** What the page says; each is answered with an {@link Answer} that names its `request`, which the page counts. */
export type ToDesk =
  /** Keys of channels, answered with `keys`. */
  | { readonly type: "keys"; readonly request: number; readonly of: readonly ChannelName[] }
  /**
   * Edits of keys, all or none, each of which names its key by the frame at which it stands before them. Edits that
   * follow one another with the same `group` are one step of the history, as those of a drag are.
   */
  | {
      readonly type: "edit";
      readonly request: number;
      /** The newest revision that the page knows. */
      readonly base: number;
      readonly group: string;
      /** What the step does, for the history, such as "move key". */
      readonly label: string;
      readonly edits: readonly KeyEdit[];
    }
  | { readonly type: "undo"; readonly request: number }
  | { readonly type: "redo"; readonly request: number }
  /** Looks for a fix of a note, answered with `fix`; takes up to some seconds, and is given up when an edit arrives. */
  | { readonly type: "fix"; readonly request: number; readonly fingerprint: string }
  /** Makes the fix that was found, where the shot is still the one for which it was found. */
  | { readonly type: "apply"; readonly request: number; readonly fingerprint: string }
  /** Changes the review, which is written to its file at once; answered with the `remark` that was added. */
  | {
      readonly type: "review";
      readonly request: number;
      /** What the step does, for the history, such as "add a remark". */
      readonly label: string;
      readonly change: ReviewChange;
    }
  /** `over`: also where the file has changed on disk, whose changes are lost then. */
  | { readonly type: "save"; readonly request: number; readonly over?: boolean }
  /** Takes the file as it is on disk; what is not saved is one step of the history. */
  | { readonly type: "reload"; readonly request: number }
  /** Goes on with the shot as it is on the desk, and lets the next saving write over the file that changed. */
  | { readonly type: "keep"; readonly request: number }
  /** Takes over, or throws away, what an earlier desk had not saved. */
  | { readonly type: "recover"; readonly request: number; readonly id: string }
  | { readonly type: "discard"; readonly request: number; readonly id: string };

export interface ChannelName {
  readonly node: string;
  readonly channel: Channel;
}

/** How a request of the page ended. */
export type Answer = {
  readonly type: "answer";
  readonly request: number;
  /** The shot's revision now. */
  readonly revision: number;
} & (
  | {
      readonly ok: true;
      readonly keys?: readonly ChannelKeys[];
      readonly fix?: FoundFix;
      readonly remark?: string;
    }
  | { readonly ok: false; readonly reason: Reason; readonly message: string }
);

/** Why a request is refused; the message says it in a sentence. */
export type Reason =
  /** No message of this link. */
  | "misshapen"
  /** Edits that cannot be made; none of them is. */
  | "bad-edit"
  /** The shot has changed since: the page's edits belong to a document that was put aside, a fix to another revision. */
  | "changed"
  | "nothing-to-undo"
  | "unknown-note"
  | "unknown-remark"
  | "no-fix"
  /** The feed is not there just now. */
  | "no-feed"
  /** The file on disk has changed; say `reload`, `keep` or save with `over`. */
  | "changed-on-disk"
  /** The disk refused. */
  | "not-saved"
  | "failed";

export interface ChannelKeys extends ChannelName {
  readonly interpolation: Interpolation;
  readonly keys: readonly DeskKey[];
}

/** A change of keys that was tried: the note is gone and nothing as heavy has come. */
export interface FoundFix {
  readonly fingerprint: string;
  readonly title: string;
  /** "upper_arm_l rotation.x: key 1032 → 1034". */
  readonly moves: readonly string[];
  /** The same key by key; `before` is null for a key that comes in, `after` for one that goes. */
  readonly keys: readonly {
    readonly node: string;
    readonly channel: Channel;
    readonly before: DeskKey | null;
    readonly after: DeskKey | null;
  }[];
  /** Fingerprints of the notes that go with it. */
  readonly gone: readonly string[];
  /** Lighter notes that it brings, a sentence each. */
  readonly added: readonly string[];
  /** What it does to the motion; null where nothing that is drawn moves. */
  readonly motion: MotionFix | null;
  /** How far parts are from their targets with it. */
  readonly targets: readonly DeskTarget[];
  /** As of the note, before the fix and after it. */
  readonly squint: string | null;
}

/** What the server says. */
export type FromDesk =
  | Answer
  /** All of the shot: when a page comes, and when another document has taken its place. */
  | {
      readonly type: "shot";
      readonly revision: number;
      /** This page's number, by which `by` tells whose a change is. */
      readonly page: number;
      readonly shot: DeskShot;
      /** Without notes: they come in `notes`. */
      readonly motion: Motion;
      readonly history: DeskHistory;
      readonly disk: DeskDisk;
      readonly recoveries: readonly DeskRecovery[];
      readonly review: DeskReview;
    }
  /**
   * All of the review anew: after a change of it, also one that was found in its file. `history` is as it is then.
   */
  | {
      readonly type: "review";
      /** Number of the page that changed it; 0 where its file was changed on disk. */
      readonly by: number;
      /** What became of it, in a sentence; "" where nothing has to be said. */
      readonly message: string;
      readonly review: DeskReview;
      readonly history: DeskHistory;
    }
  /** How far parts are from their targets at a revision. */
  | { readonly type: "targets"; readonly revision: number; readonly targets: readonly DeskTarget[] }
  /** Keys have changed. Sent to all pages, also to the one whose edit it is; before that edit's answer. */
  | {
      readonly type: "changed";
      readonly revision: number;
      /** Number of the page that changed it. */
      readonly by: number;
      readonly how: "edit" | "undo" | "redo" | "fix";
      readonly channels: readonly ChannelChange[];
      readonly history: DeskHistory;
      readonly disk: DeskDisk;
    }
  /**
   * All of the motion anew, as it has other frames than before: where the range follows the keys and the last key went
   * elsewhere. Points keep their numbers; those of notes come again in `notes`.
   */
  | {
      readonly type: "motion";
      readonly revision: number;
      readonly range: readonly [number, number];
      readonly motion: Motion;
    }
  /** Where the figures are at a revision; those that follow one another quickly are told together. */
  | { readonly type: "moved"; readonly revision: number; readonly motion: MotionChange }
  /**
   * The notes, and the revision that they judge, which may be older than the shot's while keys are dragged. `points` are
   * those that notes need and that were not told yet.
   */
  | {
      readonly type: "notes";
      readonly revision: number;
      /** New, or other than before. */
      readonly set: readonly DeskNote[];
      /** Fingerprints of all notes, the one that matters most first; what is not among them is gone. */
      readonly order: readonly string[];
      readonly waived: readonly DeskWaived[];
      /** Checks that failed, a sentence each: what they would have found is missing. */
      readonly failures: readonly string[];
      readonly points: readonly MotionChange[];
    }
  /**
   * While a revision is being judged for long: the share of the work that is done, 0 to 1, and what was found so far on
   * the part that is edited, a line each. It is not final; `notes` takes its place.
   */
  | {
      readonly type: "soFar";
      readonly revision: number;
      readonly share: number;
      readonly found: readonly string[];
    }
  /** The shot was saved, or its file has changed on disk. */
  | {
      readonly type: "disk";
      readonly event: "saved" | "changed" | "kept";
      readonly message: string;
      readonly disk: DeskDisk;
    }
  /** The feed has died, is tried again, is back; without it keys can be edited and saved, and notes are of before. */
  | { readonly type: "feed"; readonly state: "gone" | "back" | "given-up"; readonly message: string }
  /** What an earlier desk had not saved, as it is after somebody decided. */
  | { readonly type: "recoveries"; readonly recoveries: readonly DeskRecovery[] }
  /** Something went wrong that no request asked for, in a sentence. */
  | { readonly type: "trouble"; readonly message: string }
  /** The desk ends. */
  | { readonly type: "closing"; readonly message: string };
