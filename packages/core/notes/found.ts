import { type Measure, measure, type Study, shotMeasure } from "../base/study.ts";
import { curveNamesOf } from "../document/inputs.ts";
import { checksIn } from "../expressions/checks.ts";
import { triedCausesOf } from "../faults/cause.ts";
import type { Check, Finding, Scope } from "../faults/check.ts";
import type { Note } from "../faults/note.ts";
import { otherwiseValuesOf, valuesIn, valuesOf } from "../faults/values.ts";
import { figureOfNode, figuresOf } from "../rig/body.ts";
import { rigOf } from "../rig/rig.ts";
import { isReached, isReachedAt } from "../settings/stage.ts";
import { settingsOf } from "../settings/study.ts";
import { gridOf } from "../time/grid.ts";
import { assembleNotes } from "./assemble.ts";
import type { Draft } from "./group.ts";
import { type Review, reviewed } from "./waivers.ts";
import { wordsFor } from "./wording.ts";

/**
 * All notes of a shot, waived or not, the one that matters most first.
 *
 * Findings, causes and words are kept per subject; after an edit only the subjects that it reaches are looked at
 * again, and the result equals that of a fresh study.
 */
export const foundNotesOf = shotMeasure<readonly Note[]>("found notes", (study) =>
  assembleNotes(study, allDraftsOf(study).drafts, unsaidDraftsOf(study).drafts),
);

/**
 * Checks that ended in an error, which is one of the program or of a studio's own check, each told once. The notes of
 * all others stand: a check that fails fails alone.
 * @returns one entry for each check that failed; empty where all came to their end
 */
export const failuresOf = shotMeasure<readonly CheckFailure[]>("failures", (study) => {
  const byCheck = new Map<string, CheckFailure>();
  for (const { failures } of [allDraftsOf(study), unsaidDraftsOf(study)]) {
    for (const failure of failures) {
      const first = byCheck.get(failure.check);
      byCheck.set(failure.check, first === undefined ? failure : { ...first, others: first.others + 1 });
    }
  }
  return [...byCheck.values()];
});

/** A check that ended in an error. */
export interface CheckFailure {
  readonly check: string;
  /** Id of the node or figure, or name of the curve, that it looked at first; null for the whole shot. */
  readonly subject: string | null;
  /** On how many more parts of the shot it ended so. */
  readonly others: number;
  /** What the first error says. */
  readonly message: string;
}

const allDraftsOf = shotMeasure<Drafts>("drafts", (study) => joined(study, piecesOf(study)));
const unsaidDraftsOf = shotMeasure<Drafts>("unsaid drafts", (study) => joined(study, unsaidPiecesOf(study)));

function joined(study: Study, pieces: Iterable<Piece>): Drafts {
  const drafts: Draft[] = [];
  const failures: CheckFailure[] = [];
  for (const piece of pieces) {
    const found = draftsOf(study, piece);
    for (const draft of found.drafts) drafts.push(draft);
    for (const failure of found.failures) failures.push(failure);
  }
  return { drafts, failures };
}

/**
 * A shot's notes, sorted by its waivers into what is open and what is intended.
 * @returns the notes that are open, those that are waived, and the waivers
 */
export const reviewOf = shotMeasure<Review>("review", (study) => {
  return reviewed(study, foundNotesOf(study), settingsOf(study).checks);
});

/**
 * The notes of a shot that nobody waived, the one that matters most first.
 * @returns notes in words, with frames in the numbering of the document
 */
export const notesOf = shotMeasure<readonly Note[]>("notes", (study) => reviewOf(study).notes);

/**
 * A piece of the work: all checks of curves on one curve, all checks of nodes on one node, one check on one figure, one
 * silenced check on one subject.
 */
export type Piece =
  | { readonly scope: "curve" | "node"; readonly subject: number }
  | { readonly check: Check; readonly subject: number; readonly isUnsaid?: true };

/** All pieces but those of silenced checks, in the order in which their notes are joined. */
export function* piecesOf(study: Study): Generator<Piece> {
  for (const scope of ["curve", "node"] as const) {
    const count = scope === "curve" ? curveNamesOf(study).length : rigOf(study).count;
    for (let subject = 0; subject < count; subject++) yield { scope, subject };
  }
  for (const check of [...checksOf(study).figure, ...checksOf(study).shot]) {
    for (let subject = 0; subject < subjectCount(study, check); subject++) yield { check, subject };
  }
}

/** What checks say of one piece, and which of them could not. */
export interface Drafts {
  readonly drafts: readonly Draft[];
  readonly failures: readonly CheckFailure[];
}

/** What checks say of one piece; it stays remembered. */
export function draftsOf(study: Study, piece: Piece): Drafts {
  if ("check" in piece) {
    const measures = piece.isUnsaid === true ? unsaidMeasures : draftMeasures;
    return draftsOfCheck(piece.check, measures)(study, piece.subject);
  }
  return piece.scope === "curve" ? draftsOfCurve(study, piece.subject) : draftsOfNode(study, piece.subject);
}

/** The stage of work for which a check waits; none where it is asked for by its name. */
function waitsFor(study: Study, { name, notBefore }: Check) {
  return settingsOf(study).checks.get(name)?.isAsked === true ? undefined : notBefore;
}

/** What of a check's findings lies where the work is far enough for it. */
function reached(study: Study, check: Check, findings: readonly Finding[]): readonly Finding[] {
  if (findings.length === 0 || settingsOf(study).checks.get(check.name)?.isAsked === true) return findings;
  const isDue = ({ from, to, notBefore }: Finding) =>
    isReachedAt(study, check.notBefore, from, to) && isReachedAt(study, notBefore, from, to);
  return findings.every(isDue) ? findings : findings.filter(isDue);
}

/** The checks that are on, by what they look at. */
const checksOf = shotMeasure<Readonly<Record<Scope, readonly Check[]>>>("checks", (study) => {
  const settings = settingsOf(study);
  const on = checksIn(settings).filter(
    (check) => settings.checks.get(check.name)?.on !== false && isReached(study, waitsFor(study, check)),
  );
  const of = (scope: Scope) => on.filter((check) => check.scope === scope);
  return { curve: of("curve"), node: of("node"), figure: of("figure"), shot: of("shot") };
});

// What moves a node moves all that its checks look at: one cell of the memo for all of them costs less than one each.
const draftsOfNode = measure<number, Drafts>(
  "notes of a node",
  (study, node) => {
    const figure = figureOfNode(study, node);
    return draftsOfAll(study, checksOf(study).node, nodeValuesOf(study, figure), node, figure);
  },
  isNothing,
);
const draftsOfCurve = measure<number, Drafts>(
  "notes of a curve",
  (study, curve) => draftsOfAll(study, checksOf(study).curve, curveValuesOf(study), curve, -1),
  isNothing,
);

type Values = Readonly<Record<string, number>>;

// What all checks of a scope are asked with, in their order: one question of a subject for all of them.
const nodeValuesOf = measure<number, readonly (Values | null)[]>(
  "settings of the checks of nodes",
  (study, figure) => checksOf(study).node.map((check) => valuesOrNull(study, check, figure)),
  sameItems,
);
const curveValuesOf = shotMeasure<readonly (Values | null)[]>(
  "settings of the checks of curves",
  (study) => checksOf(study).curve.map((check) => valuesOrNull(study, check, -1)),
  sameItems,
);

/** Null where a check's settings cannot be worked out: it then fails by itself, where it is run. */
function valuesOrNull(study: Study, check: Check, figure: number): Values | null {
  try {
    return valuesIn(study, check, figure);
  } catch {
    return null;
  }
}

function sameItems(before: readonly unknown[], after: readonly unknown[]): boolean {
  return before.length === after.length && before.every((item, index) => item === after[index]);
}

/** What checks say of a subject that belongs to a figure, or to none (-1). */
function draftsOfAll(
  study: Study,
  checks: readonly Check[],
  values: readonly (Values | null)[],
  subject: number,
  figure: number,
): Drafts {
  if (gridOf(study).count < 2) return nothing;
  let all = nothing;
  for (let k = 0; k < checks.length; k++) {
    const check = checks[k];
    let found: Drafts;
    // Most checks find nothing on most subjects, which is to cost as little as the question itself.
    try {
      const seen = check.find(study, subject, (values[k] ?? valuesIn(study, check, figure)) as never);
      const findings = reached(study, check, seen);
      if (findings.length === 0) continue;
      found = worded(study, check, subject, findings);
    } catch (error) {
      found = failureOf(study, check, subject, error);
    }
    const { drafts, failures } = found;
    all = { drafts: [...all.drafts, ...drafts], failures: [...all.failures, ...failures] };
  }
  return all;
}

/** Runs a check; an error of its own costs its notes on this subject, and no others. */
function failingAlone(study: Study, check: Check, subject: number, run: () => Drafts): Drafts {
  try {
    return run();
  } catch (error) {
    return failureOf(study, check, subject, error);
  }
}

function failureOf(study: Study, check: Check, subject: number, error: unknown): Drafts {
  const message = error instanceof Error ? error.message : String(error);
  const failure = { check: check.name, subject: subjectName(study, check, subject), others: 0, message };
  return { drafts: none, failures: [failure] };
}

function subjectName(study: Study, { scope }: Check, subject: number): string | null {
  switch (scope) {
    case "curve":
      return curveNamesOf(study)[subject] ?? null;
    case "node":
      return rigOf(study).ids[subject] ?? null;
    case "figure":
      return figuresOf(study)[subject]?.id ?? null;
    case "shot":
      return null;
  }
}

/**
 * What silenced checks have to look at: where a check has found something that yields to them, they may speak for it.
 * What a style or a configuration silences is meant, and so must not come back under another check's name.
 */
export function* unsaidPiecesOf(study: Study): Generator<Piece> {
  const settings = settingsOf(study);
  const silenced = checksIn(settings).filter(
    ({ name }) => settings.checks.get(name)?.otherwise !== undefined,
  );
  if (silenced.length === 0) return;
  const yieldedTo = new Set<string>(allDraftsOf(study).drafts.flatMap(({ check }) => check.yieldsTo ?? []));
  for (const check of silenced) {
    if (!yieldedTo.has(check.name)) continue;
    for (let subject = 0; subject < subjectCount(study, check); subject++) {
      yield { check, subject, isUnsaid: true };
    }
  }
}

/**
 * What one check finds in one subject (see `Scope`), in numbers.
 * @param check one of the checks in force
 * @param subject index of the curve, node or figure; 0 for the whole shot
 * @returns findings in working units: metres, radians, seconds, indices of samples
 */
export function findingsOf(study: Study, check: Check, subject: number): readonly Finding[] {
  return findingsOfCheck(check)(study, subject);
}

/**
 * How many subjects a check has in a shot.
 * @param check any check
 * @returns how many curves, nodes or figures it looks at; 1 for the whole shot
 */
export function subjectCount(study: Study, check: Check): number {
  switch (check.scope) {
    case "curve":
      return curveNamesOf(study).length;
    case "node":
      return rigOf(study).count;
    case "figure":
      return figuresOf(study).length;
    case "shot":
      return 1;
  }
}

const findingMeasures = new WeakMap<Check, Measure<number, readonly Finding[]>>();
const draftMeasures = new WeakMap<Check, Measure<number, Drafts>>();
const unsaidMeasures = new WeakMap<Check, Measure<number, Drafts>>();
const none: readonly never[] = [];
const nothing: Drafts = { drafts: none, failures: none };

function findingsOfCheck(check: Check): Measure<number, readonly Finding[]> {
  return remembered(findingMeasures, check, () =>
    measure(
      `findings of ${check.name}`,
      (study, subject: number) => find(study, check, subject, valuesOf),
      bothEmpty,
    ),
  );
}

function draftsOfCheck(check: Check, measures: typeof draftMeasures): Measure<number, Drafts> {
  const isUnsaid = measures === unsaidMeasures;
  return remembered(measures, check, () =>
    measure(
      `${isUnsaid ? "unsaid notes" : "notes"} of ${check.name}`,
      (study, subject: number) => draftsIn(study, check, subject, isUnsaid ? otherwiseValuesOf : valuesOf),
      isNothing,
    ),
  );
}

/** Finds, names causes and words in one go: most subjects have no finding. */
function draftsIn(study: Study, check: Check, subject: number, values: typeof valuesOf): Drafts {
  return failingAlone(study, check, subject, () => {
    const findings = find(study, check, subject, values);
    if (findings.length === 0) return nothing;
    const counted = findings.filter(isCounted);
    const drafts = counted.length === 0 ? nothing : worded(study, check, subject, counted);
    if (counted.length === findings.length) return drafts;
    // Numbers so large that their squares overflow: no note can tell them, and none is better than a wrong one.
    const message = "What it measures is beyond all numbers here; look for a key that is out of proportion.";
    const failure = { check: check.name, subject: subjectName(study, check, subject), others: 0, message };
    return { drafts: drafts.drafts, failures: [failure] };
  });
}

/** Whether a finding can be told and ranked. It may be any number of times past its limit: a limit may be 0. */
function isCounted({ measured, excess, size }: Finding): boolean {
  // Where it is told in another unit it must be a number still.
  return Math.abs(measured.value) < 1e300 && Number.isFinite(size) && !Number.isNaN(excess);
}

function worded(study: Study, check: Check, subject: number, findings: readonly Finding[]): Drafts {
  const drafts = findings.map((finding) => {
    const { keys, tried, mended } = triedCausesOf(study, finding.fault);
    const words = wordsFor(study, finding, keys);
    return { check, subject, finding, keys, tried, mended, ...check.word(finding, words) };
  });
  return { drafts, failures: none };
}

function find(study: Study, check: Check, subject: number, values: typeof valuesOf): readonly Finding[] {
  if (gridOf(study).count < 2) return none;
  return reached(study, check, check.find(study, subject, values(study, check, subject) as never));
}

function isNothing(before: Drafts, after: Drafts): boolean {
  return before === nothing && after === nothing;
}

function bothEmpty(before: readonly unknown[], after: readonly unknown[]): boolean {
  return before.length === 0 && after.length === 0;
}

function remembered<V>(table: WeakMap<Check, V>, check: Check, make: () => V): V {
  let value = table.get(check);
  if (value === undefined) {
    value = make();
    table.set(check, value);
  }
  return value;
}
