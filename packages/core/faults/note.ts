import type { Evidence, Expected, Measured } from "../base/measured.ts";
import type { Channel } from "../document/model.ts";
import type { BodyPart } from "../document/schema.ts";
import type { Tier } from "../settings/tier.ts";

/** A key that causes a fault. */
export interface NoteKey {
  readonly node: string;
  readonly channel: Channel;
  /** The key's own time in the document's numbering. */
  readonly frame: number;
  /** Index of the key in its curve. */
  readonly index: number;
  /**
   * Share of the fault, 0 to 1, that went away when this key alone was put right in a trial; absent where no such trial
   * was made, as for what is missing rather than wrong.
   */
  readonly share?: number | undefined;
}

/** What the place of a note among the others follows from (see `plainnessOf`, `standingOf`). */
export interface NoteRank {
  /** Body heights times root of seconds, weighed by what goes along and by distance from the threshold; the greater comes first. */
  readonly plainness: number;
  /** Whether it says how the body bears its weight, or when its act comes: its plainness counts three times. */
  readonly isOfAct: boolean;
  /** How large the fault is to the eye: in metres, and as a share of the height of the body or, with a camera, the picture. */
  readonly metres: number;
  readonly size: number;
  readonly of: "body" | "picture";
  readonly seconds: number;
  /** How far past the threshold: 1 stands at it. */
  readonly excess: number;
  readonly part: BodyPart | null;
}

/** One find, ready to be read. */
export interface Note {
  readonly check: string;
  readonly tier: Tier;
  /** How much it matters, 0 to 1: what its tier follows from. */
  readonly weight: number;
  /** Why it stands where it does; absent where nothing is seen of it by its nature. */
  readonly rank?: NoteRank | undefined;
  readonly figure: string | null;
  /** The node whose keys are to be looked at. */
  readonly node: string | null;
  /** The node whose number is told, then the others on which the same fault shows, the most visible first. */
  readonly seenAt: readonly string[];
  /** First and last frame, in the document's numbering. */
  readonly frames: readonly [number, number];
  /** The keys that cause it, the one that causes most first. */
  readonly keys: readonly NoteKey[];
  readonly message: string;
  readonly measured: Measured;
  readonly expected: Expected;
  readonly why: string;
  readonly suggestion: string;
  readonly evidence: readonly Evidence[];
  readonly fingerprint: string;
  /** What the same change clears, or is the same on the other side: notes that this one speaks for, none of them heavier. */
  readonly also?: readonly Note[] | undefined;
  /** Path into the document of what it is about, where that is no key: `waivers/0`. */
  readonly path?: string | undefined;
}
