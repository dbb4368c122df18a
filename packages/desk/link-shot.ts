import type { Channel, Interpolation, Tier } from "@keyside/core";

/** The shot and its notes, as the desk's server tells them to a page. */

/** A key as it stands in the document. */
export interface DeskKey {
  readonly frame: number;
  /** A number, or four of a quaternion (x, y, z, w) on the channel `rotation`. */
  readonly value: number | readonly number[];
  /** `[frames, value]` from the key on a bezier segment, a slope per frame on a cubic one; absent where it has none. */
  readonly in?: number | readonly number[];
  readonly out?: number | readonly number[];
  /** Of the segment that starts at the key. */
  readonly interpolation: Interpolation;
  /** Whether the key names its interpolation itself; else it is the curve's. */
  readonly isOwn?: boolean;
}

/** A channel that has keys, without them: a page asks for the keys of those that it shows. */
export interface DeskChannel {
  readonly node: string;
  readonly channel: Channel;
  /** Of keys that name none. */
  readonly interpolation: Interpolation;
  readonly count: number;
}

export interface DeskNode {
  readonly id: string;
  readonly parent: string | null;
  /** The part of the body that it is, in words, such as "left forearm"; null where it is none. */
  readonly part: string | null;
  /** Id of its figure; null where it is in none. */
  readonly figure: string | null;
  /** The point of the motion that it is; null where it is none that is drawn. */
  readonly point: number | null;
}

/** A shot as it is laid on the desk. */
export interface DeskShot {
  readonly name: string;
  /** The file as it was named. */
  readonly file: string;
  /** What kind of file it is, in words, such as "BVH". */
  readonly kind: string;
  /** Where it is saved. */
  readonly savedTo: string;
  /** Whether the file is another kind's: the shot is a copy then, and saved as a curve document beside it. */
  readonly isCopy: boolean;
  /** Frames per second, of the document. */
  readonly frameRate: number;
  /** First and last frame that is judged. */
  readonly range: readonly [number, number];
  readonly metresPerUnit: number;
  readonly angleUnit: "degrees" | "radians";
  readonly nodes: readonly DeskNode[];
  readonly channels: readonly DeskChannel[];
  /** What is wrong in the file, a sentence each; the rest of it is on the desk. */
  readonly problems: readonly string[];
}

/** A note beside the keys. */
export interface DeskNote {
  readonly fingerprint: string;
  readonly check: string;
  readonly tier: Tier;
  /** What the check is called. */
  readonly title: string;
  /** What it speaks of, in words: a part or a figure; may be empty. */
  readonly part: string;
  readonly node: string | null;
  readonly frames: readonly [number, number];
  /** The keys that cause it, the one that causes most first; `share` is how much of the fault went with it in a trial. */
  readonly keys: readonly {
    readonly node: string;
    readonly channel: Channel;
    readonly frame: number;
    readonly share?: number;
  }[];
  readonly message: string;
  readonly suggestion: string;
  readonly why: string;
  /** "measured 13°, at most 4°". */
  readonly measured: string;
  /** What the player shows of it; null where nothing moves that it speaks of. */
  readonly shown: {
    /** First and last judged frame, from 0. */
    readonly from: number;
    readonly to: number;
    /** Point whose path is drawn. */
    readonly point: number;
    /** Points whose bones are drawn dark. */
    readonly marked: readonly number[];
  } | null;
  /** Of a note on staging the camera's picture as flat dark shapes, an SVG of our own making; null where there is none. */
  readonly squint: string | null;
  /** What it speaks for: notes that the same change clears, or that are the same on the other side. */
  readonly also: readonly string[];
}
