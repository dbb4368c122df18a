import {
  FixSession,
  keyEditPatches,
  type Note,
  placeAt,
  type ReportedFix,
  type ResolvedSettings,
} from "@keyside/core";
import type { LoadedShot } from "./load.ts";
import { documentExtension } from "./readers.ts";

type FixOf = (note: Note) => ReportedFix | null;

/**
 * Looks for the verified fix of each note, as replacements of the shot's own text. Each is tried on the shot as it
 * stands: of two fixes only one can be made before the shot is checked again.
 * @returns null for a note where none is found, and for shots that are no curve documents: only those are changed
 */
export function textFixes(loaded: LoadedShot, settings: ResolvedSettings): FixOf {
  const { file, shot, text, lineStarts, waivers } = loaded;
  if (!file.toLowerCase().endsWith(documentExtension)) return () => null;
  const session = new FixSession(shot, settings, waivers);
  return (note) => {
    const proven = session.prove(note);
    // A sketch clears the note too, but whoever takes a fix unseen wants nothing else to move.
    if (proven?.kind !== "fix") return null;
    const replacements = inOrder(keyEditPatches(text, shot, proven.edits)).map(({ start, end, text }) => {
      const [from, to] = [placeAt(lineStarts, start), placeAt(lineStarts, end)];
      return { line: from.line, column: from.column, endLine: to.line, endColumn: to.column, text };
    });
    return { title: proven.title, replacements, gone: proven.gone.map(({ fingerprint }) => fingerprint) };
  };
}

type Patch = ReturnType<typeof keyEditPatches>[number];

/** Pieces of text in their order; those that touch are one, so that nobody has to know which of them comes first. */
function inOrder(patches: readonly Patch[]): Patch[] {
  const joined: Patch[] = [];
  for (const patch of [...patches].sort((a, b) => a.start - b.start || a.end - b.end)) {
    const last = joined.at(-1);
    if (last === undefined || last.end < patch.start) joined.push(patch);
    else joined[joined.length - 1] = { start: last.start, end: patch.end, text: last.text + patch.text };
  }
  return joined;
}
