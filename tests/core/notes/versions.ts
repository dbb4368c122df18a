import { readFileSync } from "node:fs";
import { shotOf } from "../../../packages/core/document/read.ts";
import type { CurveDocument } from "../../../packages/core/document/schema.ts";
import type { Note } from "../../../packages/core/faults/note.ts";
import { registry } from "../../../packages/core/faults/registry.ts";
import type { Version } from "../../../packages/core/notes/compare.ts";
import { notesOf } from "../../../packages/core/notes/found.ts";
import { defaultSettings } from "../../../packages/core/settings/resolve.ts";
import { studyOf } from "../../../packages/core/settings/study.ts";

/** A version of a shot, judged by the default settings. */
export function versionOf(document: CurveDocument): Version<Note> {
  const { shot } = shotOf(document);
  if (shot === null) throw new Error("not a shot");
  return { shot, notes: notesOf(studyOf(shot, defaultSettings(registry))) };
}

/** One of the invented shots of the demo. */
export function demoShot(name: string): CurveDocument {
  return JSON.parse(
    readFileSync(new URL(`../../../demo/shots/${name}.curves.json`, import.meta.url), "utf8"),
  );
}

/** Notes in few words. */
export function brief(notes: readonly Note[]): string[] {
  return notes.map(({ check, node, frames }) => `${check} ${node} ${frames.join("-")}`);
}
