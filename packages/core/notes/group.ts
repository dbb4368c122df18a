import type { MendedCurve } from "../faults/cause.ts";
import type { Check, Finding, Wording } from "../faults/check.ts";
import type { NoteKey } from "../faults/note.ts";
import type { Weighed } from "./weighed.ts";

/** A finding with its causes and words, not yet compared with the others. */
export interface Draft extends Wording {
  readonly check: Check;
  readonly subject: number;
  readonly finding: Finding;
  readonly keys: readonly NoteKey[];
  /** Share of the fault that went in a trial of the key named first (see `triedCausesOf`); 0 where none was made. */
  readonly tried: number;
  /** The curve with that key put right; absent where none was tried. */
  readonly mended?: MendedCurve | null;
}

/** One fault: the draft that speaks for it, and on which nodes it shows. */
export interface Group {
  readonly draft: Draft;
  /** Node at which the note stands (rig index). */
  readonly node: number;
  /** The node whose number and words are told, then those on which it shows, the most visible first. */
  readonly seenAt: readonly number[];
  readonly from: number;
  readonly to: number;
  /** How much it matters: as much as the heaviest that it speaks for, up to its check's ceiling. */
  readonly weighed: Weighed;
  /** What it was found to be caused by; of all parts that fail at the same moment, the one that speaks first. */
  readonly keys: readonly NoteKey[];
  /** How many other parts fail at the same moment and are spoken for. */
  readonly also: number;
  /** Of the bookkeeping of keys: the nodes of the findings that are spoken for, one entry for each. */
  readonly again?: readonly number[];
}
