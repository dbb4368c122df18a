import { type Note, tiers } from "@keyside/core";
import type { Diagnostic, Position, Range } from "vscode-languageserver";
import { type DiagnosticData, diagnosticOfNote, rangeOfNote } from "./diagnostics.ts";
import type { Feed } from "./feed.ts";
import type { ShotDocument } from "./shot-document.ts";

/** A note, and the diagnostic by which the client knows it. */
export interface NoteAsked {
  readonly note: Note;
  readonly diagnostic: Diagnostic;
}

/**
 * The notes that a client asks about: those of the diagnostics that it names, by their `data`, or by code and place for
 * a client that does not give it back; where it names none, those that stand in the range.
 */
export function notesAskedAbout(
  feed: Feed,
  document: ShotDocument,
  { range, diagnostics }: { readonly range: Range; readonly diagnostics: readonly Diagnostic[] },
): NoteAsked[] {
  if (diagnostics.length === 0) {
    const options = feed.diagnosticOptionsFor(document);
    return document.notes
      .filter((note) => isShown(feed, document, note) && overlap(rangeOfNote(document, note), range))
      .map((note) => ({ note, diagnostic: diagnosticOfNote(document, note, options) }));
  }
  const asked = new Map<Note, Diagnostic>();
  for (const diagnostic of diagnostics) {
    for (const note of notesOf(document, diagnostic)) {
      if (!asked.has(note)) asked.set(note, diagnostic);
    }
  }
  return [...asked].map(([note, diagnostic]) => ({ note, diagnostic }));
}

/** Whether a note is heavy enough to be shown. */
export function isShown(feed: Feed, document: ShotDocument, { tier }: Note): boolean {
  return tiers.indexOf(tier) <= tiers.indexOf(feed.preferencesFor(document).lightestTier);
}

function notesOf(document: ShotDocument, { data, code, range, message }: Diagnostic): readonly Note[] {
  const { fingerprint } = (data ?? {}) as Partial<DiagnosticData>;
  if (fingerprint !== undefined) return document.notes.filter((note) => note.fingerprint === fingerprint);
  const near = document.notes.filter(
    (note) => note.check === code && overlap(rangeOfNote(document, note), range),
  );
  // A key may have several notes of one check; each says something else.
  const same = near.filter((note) => typeof message === "string" && message.includes(note.message));
  return same.length > 0 ? same : near;
}

function overlap(a: Range, b: Range): boolean {
  return !isBefore(a.end, b.start) && !isBefore(b.end, a.start);
}

function isBefore(a: Position, b: Position): boolean {
  return a.line < b.line || (a.line === b.line && a.character < b.character);
}
