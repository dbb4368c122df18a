import type { Note } from "../faults/note.ts";

/** What became of the notes from one version of a shot to the next. */
export interface NoteChanges {
  readonly added: readonly Note[];
  /** Notes that are still there with other numbers, frames or keys, as they are now. */
  readonly changed: readonly Note[];
  readonly gone: readonly Note[];
}

/** Compares two lists of notes by fingerprint. */
export function noteChanges(before: readonly Note[], after: readonly Note[]): NoteChanges {
  if (before === after) return { added: [], changed: [], gone: [] };
  const old = new Map(before.map((note) => [note.fingerprint, note]));
  const added: Note[] = [];
  const changed: Note[] = [];
  for (const note of after) {
    const known = old.get(note.fingerprint);
    old.delete(note.fingerprint);
    if (known === undefined) added.push(note);
    else if (known !== note && !alike(known, note)) changed.push(note);
  }
  return { added, changed, gone: [...old.values()] };
}

/** Whether two plain values hold the same. */
function alike(a: unknown, b: unknown): boolean {
  if (Object.is(a, b)) return true;
  if (typeof a !== "object" || typeof b !== "object" || a === null || b === null) return false;
  if (Array.isArray(a)) {
    if (!Array.isArray(b) || a.length !== b.length) return false;
    // Evidence is long lists of numbers: what is the same and no zero is alike.
    for (let k = 0; k < a.length; k++) if (!(a[k] === b[k] && a[k] !== 0) && !alike(a[k], b[k])) return false;
    return true;
  }
  // Lists of keys for each of them would be most of what an edit throws away.
  let keys = 0;
  for (const key in a) {
    keys++;
    if (!(key in b) || !alike((a as Plain)[key], (b as Plain)[key])) return false;
  }
  for (const _ in b) keys--;
  return keys === 0;
}

type Plain = Record<string, unknown>;
