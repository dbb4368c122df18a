import type { Channel } from "../document/model.ts";
import type { Unit } from "../settings/settings.ts";
import type { Tier } from "./tier.ts";

export { type Tier, tiers } from "./tier.ts";

/** A number that was measured. */
export interface Measured {
  /** What was measured, in words, for example "deviation from the path". */
  readonly quantity: string;
  readonly value: number;
  readonly unit: Unit;
}

/** What the number should have been, in the same unit. */
export interface Expected {
  readonly min?: number;
  readonly max?: number;
  readonly unit: Unit;
  readonly source: string;
}

/** A key that causes a fault. */
export interface NoteKey {
  readonly node: string;
  readonly channel: Channel;
  /** The key's own time in the document's numbering. */
  readonly frame: number;
  /** Index of the key in its curve. */
  readonly index: number;
  /** Share of the fault that goes away when the key is taken out, 0 to 1. */
  readonly share: number;
}

/** A series behind a note, for plots: one number per judged frame. */
export interface Evidence {
  readonly label: string;
  readonly unit: Unit;
  /** Frame of the first value, in the document's numbering, and frames from one value to the next. */
  readonly firstFrame: number;
  readonly step: number;
  readonly values: readonly number[];
}

/** One find, ready to be read. */
export interface Note {
  readonly check: string;
  readonly tier: Tier;
  /** How much it matters, 0 to 1. */
  readonly weight: number;
  readonly figure: string | null;
  /** The node whose keys are to be looked at. */
  readonly node: string | null;
  /** Nodes on which the same fault shows, the most visible first. */
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
  /** Path into the document of what it is about, where that is no key: `waivers/0`. */
  readonly path?: string | undefined;
}
