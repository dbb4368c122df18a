import type { Note } from "../faults/note.ts";

/** Frames by which a note may have moved and still stand at the same place. */
const slack = 1;

/**
 * Which notes of one version of a shot are which of another: first those with one fingerprint over frames that meet,
 * then those of one check on a shared part over frames that meet (a fingerprint changes with the value of its key),
 * then those with one fingerprint wherever they stand.
 */
export function matchNotes(before: readonly Note[], after: readonly Note[]): Map<Note, Note> {
  const matches = new Map<Note, Note>();
  const left = new Set(after);
  const pair = (isSame: (a: Note, b: Note) => boolean) => {
    for (const note of before) {
      if (matches.has(note)) continue;
      let best: Note | null = null;
      for (const other of left) {
        if (isSame(note, other) && (best === null || overlap(note, other) > overlap(note, best)))
          best = other;
      }
      if (best === null) continue;
      matches.set(note, best);
      left.delete(best);
    }
  };
  pair((a, b) => a.fingerprint === b.fingerprint && meets(a, b));
  pair((a, b) => a.check === b.check && meets(a, b) && sharesPart(a, b));
  pair((a, b) => a.fingerprint === b.fingerprint);
  return matches;
}

function meets(a: Note, b: Note): boolean {
  return overlap(a, b) >= -slack;
}

/** Frames that two notes share; negative where they lie apart. */
function overlap(a: Note, b: Note): number {
  return Math.min(a.frames[1], b.frames[1]) - Math.max(a.frames[0], b.frames[0]);
}

function sharesPart(a: Note, b: Note): boolean {
  if (a.figure !== b.figure) return false;
  if (a.node === b.node) return true;
  const parts = new Set([a.node, ...a.seenAt]);
  return parts.has(b.node) || b.seenAt.some((node) => parts.has(node));
}
