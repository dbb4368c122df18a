import { expect } from "vitest";
import { editShot } from "../../packages/core/document/edit.ts";
import type { Shot } from "../../packages/core/document/model.ts";
import type { Note } from "../../packages/core/faults/note.ts";
import { eachAlone } from "../../packages/core/notes/assemble.ts";
import { notesOf } from "../../packages/core/notes/found.ts";
import { matchNotes } from "../../packages/core/session/matching.ts";
import type { ProvenFix } from "../../packages/core/session/proving.ts";
import type { ResolvedSettings } from "../../packages/core/settings/settings.ts";
import { studyOf } from "../../packages/core/settings/study.ts";
import { tiers } from "../../packages/core/settings/tier.ts";

/** Holds a verified fix against a fresh check of the edited shot: the note is gone, nothing as heavy is new. */
export function expectFixed(
  shot: Shot,
  notes: readonly Note[],
  settings: ResolvedSettings,
  note: Note,
  { edits, changes, title }: ProvenFix,
): void {
  const after = notesOf(studyOf(editShot(shot, edits), settings));
  const matches = matchNotes(eachAlone(notes), eachAlone(after));
  expect(matches.has(note)).toBe(false);
  const known = new Set(matches.values());
  const limit = tiers.indexOf(note.tier);
  expect(after.filter((other) => !known.has(other) && tiers.indexOf(other.tier) <= limit)).toEqual([]);
  expect(changes.length).toBeGreaterThan(0);
  expect(changes.length).toBeLessThanOrEqual(edits.length);
  for (const { after: key } of changes) if (key !== null) expect(Math.abs(key.frame % 1)).toBeLessThan(1e-6);
  expect(title).toMatch(/^[a-z]/);
  expect(title).not.toMatch(/undefined|NaN|null/);
}
