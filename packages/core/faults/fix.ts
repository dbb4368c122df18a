import type { Study } from "../base/study.ts";
import type { KeyEdit } from "../document/edit.ts";
import type { Shot } from "../document/model.ts";
import type { SettingSpecs } from "../settings/settings.ts";
import type { Finding, NamedCheck } from "./check.ts";
import type { Note, NoteKey } from "./note.ts";

/** What is to be fixed: a note with the finding behind it, as indices into what is computed. */
export interface Subject<F extends Finding = Finding> {
  readonly study: Study;
  readonly shot: Shot;
  readonly finding: F;
  /** Rig index of the node at which the note stands, -1 where it has none. */
  readonly node: number;
  /** Rig indices of the nodes on which it shows, the most visible first. */
  readonly seenAt: readonly number[];
  /** Index into `figuresOf`, -1 where it belongs to none. */
  readonly figure: number;
  /** Grid indices of the note's first and last frame. */
  readonly from: number;
  readonly to: number;
  readonly keys: readonly NoteKey[];
}

/** A way of changing keys so that the notes of a check go. */
export interface Fix<F extends Finding = Finding> {
  /** What it does, for the page of its check. */
  readonly what: string;
  /** What it does to a note, as an offer: "bring the key at frame 31 onto the path of its neighbours". */
  title(note: Pick<Note, "node" | "figure" | "frames" | "keys" | "measured">): string;
  /**
   * Factors of the check's settings with which it still finds nothing after a whole fix: a note stands where motion is
   * surely wrong, and what has only come under that is not right yet. A change that leaves more is taken where no other
   * clears the note.
   */
  readonly margin?: Readonly<Record<string, number>>;
  /**
   * Edits of the document's own keys, several alternatives, the smallest change first. They are suggestions: whether
   * one clears the note without introducing another is found out by trying each (see `FixSession`), which takes the
   * first that does. Alternatives are computed as they are asked for.
   */
  propose(subject: Subject<F>): Iterable<readonly KeyEdit[]>;
}

/** Gives the fix of a check its type: it receives what the check found. */
export function defineFix<S extends SettingSpecs, F extends Finding>(
  _check: NamedCheck<S, F>,
  fix: Fix<F> & { readonly margin?: { readonly [K in keyof S]?: number } },
): Fix<F> {
  return fix;
}
