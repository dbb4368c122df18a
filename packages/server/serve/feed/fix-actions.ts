import {
  FixSession,
  fixedText,
  keyEditPatches,
  type Note,
  type ProvenFix,
  type ResolvedSettings,
  type Shot,
} from "@keyside/core";
import { changedLines, fixAllInSteps, fixNamed } from "@keyside/core/internal";
import {
  type CancellationToken,
  type CodeAction,
  CodeActionKind,
  type Diagnostic,
  type WorkspaceEdit,
} from "vscode-languageserver";
import type { CodeActionData } from "./code-action-data.ts";
import type { Feed } from "./feed.ts";
import { inTurns } from "./in-turns.ts";
import { cancelled, modified } from "./refusals.ts";
import type { ShotDocument } from "./shot-document.ts";
import { stableShot } from "./stable-shot.ts";
import { workspaceEdit } from "./text-edits.ts";

/** Where the fixes of a document are tried, and what has been found for its text as it is. */
interface Workbench {
  readonly session: FixSession;
  readonly settings: ResolvedSettings;
  shot: Shot;
  /** By fingerprint; null where nothing could be proven. */
  proven: Map<string, ProvenFix | null>;
}

const workbenches = new WeakMap<ShotDocument, Workbench>();

/** The offers to fix a note, and all notes of its check; none where no fix of the note is proven. */
export async function fixActions(
  feed: Feed,
  document: ShotDocument,
  note: Note,
  diagnostic: Diagnostic,
  token: CancellationToken,
): Promise<CodeAction[]> {
  if (fixNamed(note.check) === undefined) return [];
  const proven = await provenFor(feed, document, note, token);
  if (proven === null) return [];
  const { uri, version } = document;
  const { check, fingerprint } = note;
  const keys = proven.changes.length === 1 ? "1 key" : `${proven.changes.length} keys`;
  const about: Omit<CodeActionData, "does"> = { uri, version, check, fingerprint };
  const isSketch = proven.kind === "sketch";
  const one: CodeAction = {
    title: `${isSketch ? "Sketch" : "Fix"}: ${proven.title} (${keys})`,
    kind: CodeActionKind.QuickFix,
    diagnostics: [diagnostic],
    isPreferred: !isSketch,
  };
  if (!feed.abilities.resolvesCodeActions) return [{ ...one, edit: editOf(feed, document, proven) }];
  const actions: CodeAction[] = [{ ...one, data: { ...about, does: "fix" } satisfies CodeActionData }];
  const alike = document.notes.filter((other) => other.check === check).length;
  if (alike > 1) {
    actions.push({
      title: `Fix all ${alike} notes of ${check} in this document`,
      kind: CodeActionKind.QuickFix,
      diagnostics: [diagnostic],
      data: { ...about, does: "fix-all" } satisfies CodeActionData,
    });
  }
  return actions;
}

/** The edit that fixes a note, or all notes of a check. */
export async function fixEdit(
  feed: Feed,
  document: ShotDocument,
  what: { readonly fingerprint: string } | { readonly check: string },
  token: CancellationToken,
): Promise<WorkspaceEdit> {
  if ("fingerprint" in what) {
    const note = document.notes.find(({ fingerprint }) => fingerprint === what.fingerprint);
    const proven = note === undefined ? null : await provenFor(feed, document, note, token);
    if (proven === null) throw modified();
    return editOf(feed, document, proven);
  }
  const { shot } = document.read();
  const { settings, version } = document;
  const text = document.text.text;
  if (shot === null || settings === null) throw modified();
  const session = new FixSession(shot, settings, document.waivers);
  const steps = fixAllInSteps(session, ({ check }) => check === what.check);
  const { fixes } = await inTurns(steps, feed.environment.timers, () =>
    stillWanted(document, version, token),
  );
  return workspaceEdit(feed, document, changedLines(text, shot, fixedText(text, shot, fixes)));
}

function editOf(feed: Feed, document: ShotDocument, { edits }: ProvenFix): WorkspaceEdit {
  const { shot } = document.read();
  if (shot === null) throw modified();
  return workspaceEdit(feed, document, keyEditPatches(document.text.text, shot, edits));
}

async function provenFor(
  feed: Feed,
  document: ShotDocument,
  note: Note,
  token: CancellationToken,
): Promise<ProvenFix | null> {
  const { version } = document;
  const bench = workbenchOf(document);
  const known = bench.proven.get(note.fingerprint);
  if (known !== undefined) return known;
  const { proven } = bench;
  const own = bench.session.notes.find(({ fingerprint }) => fingerprint === note.fingerprint);
  const steps = bench.session.proveInSteps(own ?? note);
  const found = await inTurns(steps, feed.environment.timers, () => stillWanted(document, version, token));
  proven.set(note.fingerprint, found);
  return found;
}

function stillWanted(document: ShotDocument, version: number, token: CancellationToken): void {
  if (token.isCancellationRequested) throw cancelled();
  if (document.version !== version) throw modified();
}

/** Where fixes of the document as it is now are tried. */
function workbenchOf(document: ShotDocument): Workbench {
  const { shot } = document.read();
  const { settings } = document;
  if (shot === null || settings === null) throw modified();
  const known = workbenches.get(document);
  if (known?.settings === settings) {
    const next = stableShot(known.shot, shot);
    if (next !== known.shot) {
      known.session.replace(next);
      known.shot = next;
      known.proven = new Map();
    }
    return known;
  }
  const session = new FixSession(shot, settings, document.waivers);
  const made: Workbench = { session, settings, shot, proven: new Map() };
  workbenches.set(document, made);
  return made;
}
