import type { Study } from "../base/study.ts";
import type { KeyEdit } from "../document/edit.ts";
import type { Shot } from "../document/model.ts";
import type { Note } from "./note.ts";

/** A way of changing keys so that the notes of some checks go. */
export interface Fix {
  /** Kebab-case; the file's name. */
  readonly name: string;
  /** The checks whose notes it clears. */
  readonly checks: readonly string[];
  /** What it does, for the page of its checks. */
  readonly what: string;
  /** What it does to a note, as an offer: "bring the key at frame 31 onto the path of its neighbours". */
  title(note: Note): string;
  /**
   * Edits of the document's own keys, several alternatives, the smallest change first. They are suggestions: whether
   * one clears the note without raising another is found out by `provenFix`, which takes the first that does.
   * Alternatives are worked out as they are asked for.
   * @param study of the shot; the note is one of its notes
   */
  propose(study: Study, shot: Shot, note: Note): Iterable<readonly KeyEdit[]>;
}

/** Gives a fix its type. */
export function defineFix(fix: Fix): Fix {
  return fix;
}
