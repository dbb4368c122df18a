import { gridOf } from "../motion/grid.ts";
import { assembleNotes } from "../notes/assemble.ts";
import type { Draft } from "../notes/groups.ts";
import type { Note } from "../notes/note.ts";
import { wordsFor } from "../notes/wording.ts";
import { figuresOf } from "../rig/body.ts";
import { rigOf } from "../rig/rig.ts";
import { curveNamesOf, type Measure, measure, type Study, settingsOf, shotMeasure } from "../study/study.ts";
import { causesOf } from "./cause.ts";
import type { Check, Finding } from "./check.ts";
import { registry } from "./registry.ts";
import { valuesOf } from "./values.ts";

/**
 * All notes of a shot, the one that matters most first.
 *
 * Findings, causes and words are kept per check and subject; after an edit only the subjects that it reaches are
 * looked at again, and the result equals that of a fresh study.
 */
export const notesOf = shotMeasure<readonly Note[]>("notes", (study) => {
  const { checks } = settingsOf(study);
  const drafts: Draft[] = [];
  for (const check of registry) {
    if (checks.get(check.name)?.on === false) continue;
    const draftsOf = draftsOfCheck(check);
    const subjects = subjectCount(study, check);
    for (let subject = 0; subject < subjects; subject++) {
      for (const draft of draftsOf(study, subject)) drafts.push(draft);
    }
  }
  return assembleNotes(study, drafts);
});

/**
 * Computes what {@link notesOf} needs, a check at a time, so that whoever asks can pause or give up in between. What
 * has been computed until then stays remembered.
 */
export function* notesInSteps(study: Study): Generator<Check, readonly Note[]> {
  for (const check of registry) {
    if (settingsOf(study).checks.get(check.name)?.on === false) continue;
    const draftsOf = draftsOfCheck(check);
    const subjects = subjectCount(study, check);
    for (let subject = 0; subject < subjects; subject++) draftsOf(study, subject);
    yield check;
  }
  return notesOf(study);
}

/** What one check finds in one subject (see `Scope`), in numbers. */
export function findingsOf(study: Study, check: Check, subject: number): readonly Finding[] {
  return findingsOfCheck(check)(study, subject);
}

/** How many subjects a check has in a shot. */
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
const draftMeasures = new WeakMap<Check, Measure<number, readonly Draft[]>>();
const none: readonly never[] = [];

function findingsOfCheck(check: Check): Measure<number, readonly Finding[]> {
  return remembered(findingMeasures, check, () =>
    measure(`findings of ${check.name}`, (study, subject: number) => find(study, check, subject), bothEmpty),
  );
}

/** Finds, names causes and words in one go: most subjects have no finding, and each cell of the memo costs. */
function draftsOfCheck(check: Check): Measure<number, readonly Draft[]> {
  return remembered(draftMeasures, check, () =>
    measure(
      `notes of ${check.name}`,
      (study, subject: number): readonly Draft[] => {
        const findings = find(study, check, subject);
        if (findings.length === 0) return none;
        return findings.map((finding) => {
          const keys = causesOf(study, finding.fault);
          const words = wordsFor(study, finding, keys);
          return { check, subject, finding, keys, ...check.word(finding, words) };
        });
      },
      bothEmpty,
    ),
  );
}

function find(study: Study, check: Check, subject: number): readonly Finding[] {
  return gridOf(study).count < 2
    ? none
    : check.find(study, subject, valuesOf(study, check, subject) as never);
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
