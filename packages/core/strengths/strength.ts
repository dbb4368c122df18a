import type { Expected, Measured } from "../base/measured.ts";
import type { Study } from "../base/study.ts";
import type { NoteRank } from "../faults/note.ts";
import type { Words } from "../faults/words.ts";
import type { StrengthName } from "./names.ts";

/**
 * One kind of what holds in a motion. As in a check, finding numbers ({@link StrengthKind.find}) is apart from wording
 * them. A kind looks only at what can fail: a part without keys of its own, or one that nothing moves, is none.
 */
export interface StrengthKind<H extends Held = Held> {
  /** Kebab-case; the file's name. */
  readonly name: StrengthName;
  readonly title: string;
  /** What it finds, one sentence. */
  readonly what: string;
  /** What is computed, precisely enough to be done again by hand. */
  readonly computes: string;
  /** What could have failed and did not: why it is no praise of what cannot fail. */
  readonly canFail: string;
  /** Where its bounds come from: a published figure, or "common practice" and which. */
  readonly sources: readonly string[];
  /** What of a shot it hangs on, as in `Check.hangsOn`: where that is a guess, nothing is praised. */
  readonly hangsOn?: readonly ("unit" | "body")[];
  find(study: Study, figure: number): readonly H[];
  /** One plain sentence with its number. */
  word(held: H, words: Words): string;
}

/** What a kind found, in numbers. A kind adds what its wording needs (working units). */
export interface Held {
  /** Node (rig index) of which it speaks first. */
  readonly node: number;
  /** All nodes of which it speaks; the whole figure where left out. */
  readonly nodes?: readonly number[];
  /** First and last judged frame, as indices into the grid. */
  readonly from: number;
  readonly to: number;
  /** In the unit in which notes measure, see `units`. */
  readonly measured: Measured;
  /** The bounds within which it lies. */
  readonly within: Expected;
  /** How much of the picture it carries: metres of travel, or of what is held still against it. */
  readonly size: number;
}

/** One thing that holds, ready to be read. */
export interface Strength {
  /** The kind, such as "true-fall". */
  readonly kind: StrengthName;
  readonly title: string;
  readonly figure: string;
  readonly node: string;
  /** All nodes of which it speaks, `node` first. */
  readonly seenAt: readonly string[];
  /** First and last frame, in the document's numbering. */
  readonly frames: readonly [number, number];
  readonly message: string;
  readonly measured: Measured;
  readonly within: Expected;
  readonly rank: Omit<NoteRank, "excess" | "of" | "isOfAct">;
}

/**
 * Gives a kind its exact types.
 * @param kind metadata, `find` and `word`
 * @returns the same object
 */
export function defineStrength<H extends Held>(kind: StrengthKind<H>): StrengthKind<H> {
  return kind;
}
