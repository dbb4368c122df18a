import { checkNamed, type Note, type NoteKey, type Problem, type Tier, tiers } from "@keyside/core";
import { checkIn, sentence, unusedWaiver } from "@keyside/core/internal";
import {
  type Diagnostic,
  type DiagnosticRelatedInformation,
  DiagnosticSeverity,
  DiagnosticTag,
  type Range,
} from "vscode-languageserver";
import type { DiagnosticAbilities } from "./client.ts";
import { keySpan, placeOfNode, rangeOf } from "./places.ts";
import { diagnosticsOfRemarks } from "./remark-diagnostics.ts";
import type { ShotDocument } from "./shot-document.ts";

/** Who says it. */
export const source = "keyside";

const severities: Readonly<Record<Tier, DiagnosticSeverity>> = {
  broken: DiagnosticSeverity.Error,
  major: DiagnosticSeverity.Warning,
  minor: DiagnosticSeverity.Information,
  polish: DiagnosticSeverity.Hint,
};

/** Whether notes of a check say that something is there for nothing; editors show it faded. */
function isNeedless({ settings }: ShotDocument, check: string): boolean {
  return check === unusedWaiver || (settings !== null && checkIn(settings, check)?.isNeedless === true);
}

/** Keys beyond these are not pointed to, as nobody walks through them. */
const relatedLimit = 16;

export interface DiagnosticOptions {
  readonly lightestTier: Tier;
  /** URI of the folder that holds a page per check; null where there is none. */
  readonly checkPages: string | null;
  /** What the client takes. */
  readonly takes: DiagnosticAbilities;
}

/** What a diagnostic carries for whoever acts on it: the note without its series. */
export interface DiagnosticData {
  /** Name of the check; for a broken document the code of the problem. */
  readonly check: string;
  readonly tier: Tier;
  readonly weight: number;
  /** Path into the document, for what is broken there and for what stands at no key. */
  readonly path?: string | undefined;
  readonly fingerprint?: string;
  readonly figure?: string | null;
  readonly node?: string | null;
  readonly seenAt?: readonly string[];
  readonly frames?: readonly [number, number];
  readonly keys?: readonly NoteKey[];
  readonly measured?: Note["measured"];
  readonly expected?: Note["expected"];
  readonly why?: string;
  readonly suggestion?: string;
}

/** What is wrong in a document first, then its notes, the one that matters most first. */
export function diagnosticsOf(document: ShotDocument, options: DiagnosticOptions): Diagnostic[] {
  const lightest = tiers.indexOf(options.lightestTier);
  const diagnostics = document.read().problems.map((problem) => ofProblem(document, problem, options));
  for (const note of document.notes) {
    if (tiers.indexOf(note.tier) <= lightest) diagnostics.push(diagnosticOfNote(document, note, options));
  }
  return [...diagnostics, ...diagnosticsOfRemarks(document, options.takes)];
}

function ofProblem(document: ShotDocument, problem: Problem, { takes }: DiagnosticOptions): Diagnostic {
  const { code, message, path } = problem;
  const data: DiagnosticData = { check: code, tier: "broken", weight: 1, path };
  return {
    range: rangeOf(document, [problem.start, problem.end]),
    severity: severities.broken,
    code,
    source,
    message,
    ...(takes.data ? { data } : {}),
  };
}

/** Where a note stands: at the text of its first key, else at what it is about. */
export function rangeOfNote(document: ShotDocument, note: Note): Range {
  const first = note.keys[0];
  const span =
    (note.path === undefined ? undefined : document.read().places.get(note.path)) ??
    (first && keySpan(document, first)) ??
    placeOfNode(document, first?.node ?? note.node);
  return rangeOf(document, span);
}

/** A note as a diagnostic, with as much of it as the client takes. */
export function diagnosticOfNote(document: ShotDocument, note: Note, options: DiagnosticOptions): Diagnostic {
  const { takes, checkPages } = options;
  const { evidence: _, message, ...rest } = note;
  const data: DiagnosticData = rest;
  const related = takes.related ? relatedTo(document, note) : [];
  return {
    range: rangeOfNote(document, note),
    severity: severities[note.tier],
    code: note.check,
    ...(!takes.codeDescription || checkPages === null || checkNamed(note.check) === undefined
      ? {}
      : { codeDescription: { href: `${checkPages}${note.check}.md` } }),
    source,
    message: `${sentence(message)} ${sentence(note.suggestion)}`,
    ...(takes.needless && isNeedless(document, note.check) ? { tags: [DiagnosticTag.Unnecessary] } : {}),
    ...(related.length === 0 ? {} : { relatedInformation: related }),
    ...(takes.data ? { data } : {}),
  };
}

function relatedTo(document: ShotDocument, note: Note): DiagnosticRelatedInformation[] {
  const related: DiagnosticRelatedInformation[] = [];
  for (const key of note.keys.slice(1, 1 + relatedLimit)) {
    const span = keySpan(document, key);
    if (span === undefined) continue;
    const share =
      key.share !== undefined && key.share > 0
        ? `: ${Math.round(key.share * 100)} % of it goes when this key is put right`
        : "";
    related.push({
      location: { uri: document.uri, range: rangeOf(document, span) },
      message: `${key.node} ${key.channel}, frame ${Math.round(key.frame * 1000) / 1000}${share}`,
    });
  }
  return related;
}
