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
import { fixAllKind } from "./capabilities.ts";
import type { CodeActionData, CodeActionDeed } from "./code-action-data.ts";
import type { Feed } from "./feed.ts";
import { inTurns } from "./in-turns.ts";
import { isShown } from "./notes-asked.ts";
import { cancelled, modified } from "./refusals.ts";
import type { ShotDocument } from "./shot-document.ts";
import { stableShot } from "./stable-shot.ts";
import { workspaceEdit } from "./text-edits.ts";
import { waiverEdit } from "./waive-action.ts";

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
  const { check, fingerprint } = note;
  const keys = proven.changes.length === 1 ? "1 key" : `${proven.changes.length} keys`;
  const isSketch = proven.kind === "sketch";
  const isLater = editsComeLater(feed);
  const one: CodeAction = {
    title: `${isSketch ? "Sketch" : "Fix"}: ${proven.title} (${keys})`,
    kind: CodeActionKind.QuickFix,
    diagnostics: [diagnostic],
    isPreferred: !isSketch,
    data: dataFor(document, { does: "fix", fingerprint }),
    ...(isLater ? {} : { edit: editOfFix(feed, document, proven) }),
  };
  const alike = document.notes.filter((other) => other.check === check).length;
  // Finding the edit of many fixes takes long: it is done once somebody wants it.
  if (!isLater || alike < 2) return [one];
  const all: CodeAction = {
    title: `Fix all ${alike} notes of ${check} in this document`,
    kind: CodeActionKind.QuickFix,
    diagnostics: [diagnostic],
    data: dataFor(document, { does: "fix-check", check }),
  };
  return [one, all];
}

/** The offer to fix all notes of a document that are shown; null where there is nothing to fix. */
export async function fixAllAction(
  feed: Feed,
  document: ShotDocument,
  token: CancellationToken,
): Promise<CodeAction | null> {
  const isFixable = (note: Note) => fixNamed(note.check) !== undefined && isShown(feed, document, note);
  if (!document.notes.some(isFixable)) return null;
  const data = dataFor(document, { does: "fix-document" });
  const action: CodeAction = {
    title: "Fix all notes in this document that have a fix",
    kind: fixAllKind,
    data,
  };
  if (editsComeLater(feed)) return action;
  return { ...action, edit: await editOf(feed, document, data, token) };
}

/** Whether a client asks for the edit of an action, or has it made, once the action is chosen. */
function editsComeLater({ abilities }: Feed): boolean {
  return abilities.codeActions.resolves || !abilities.codeActions.literals;
}

function dataFor({ uri, version }: ShotDocument, deed: CodeActionDeed): CodeActionData {
  return { uri, version, ...deed };
}

/** The edit of a code action. */
export async function editOf(
  feed: Feed,
  document: ShotDocument,
  data: CodeActionData,
  token: CancellationToken,
): Promise<WorkspaceEdit> {
  if (data.does === "fix-check")
    return editOfFixes(feed, document, ({ check }) => check === data.check, token);
  if (data.does === "fix-document") {
    return editOfFixes(feed, document, (note) => isShown(feed, document, note), token);
  }
  const note = document.notes.find(({ fingerprint }) => fingerprint === data.fingerprint);
  if (note === undefined) throw modified();
  if (data.does === "waive") {
    const edit = waiverEdit(feed, document, note);
    if (edit === null) throw modified();
    return edit;
  }
  const proven = await provenFor(feed, document, note, token);
  if (proven === null) throw modified();
  return editOfFix(feed, document, proven);
}

/** The edit that fixes all chosen notes, one after another. */
async function editOfFixes(
  feed: Feed,
  document: ShotDocument,
  chosen: (note: Note) => boolean,
  token: CancellationToken,
): Promise<WorkspaceEdit> {
  const { shot } = document.read();
  const { settings, version } = document;
  const text = document.text.text;
  if (shot === null || settings === null) throw modified();
  const session = new FixSession(shot, settings, document.waivers);
  const { fixes } = await inTurns(fixAllInSteps(session, chosen), feed.environment.timers, () =>
    stillWanted(document, version, token),
  );
  return workspaceEdit(feed, document, changedLines(text, shot, fixedText(text, shot, fixes)));
}

function editOfFix(feed: Feed, document: ShotDocument, { edits }: ProvenFix): WorkspaceEdit {
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
