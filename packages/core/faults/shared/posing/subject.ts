import type { Study } from "../../../base/study.ts";
import { curveNamesOf } from "../../../document/inputs.ts";
import { findingsOf } from "../../../notes/found.ts";
import { figuresOf } from "../../../rig/body.ts";
import { rigOf } from "../../../rig/rig.ts";
import { gridOf, sampleAt } from "../../../time/grid.ts";
import type { Check, Finding } from "../../check.ts";
import type { Note } from "../../note.ts";
import { checkNamed } from "../../registry.ts";

/** What a note is about, as indices into what is computed. */
export interface Subject {
  readonly study: Study;
  readonly note: Note;
  /** Rig index of the note's node, -1 where it has none. */
  readonly node: number;
  /** Index into `figuresOf`, -1 where it belongs to none. */
  readonly figure: number;
  /** Grid indices of the note's first and last frame. */
  readonly from: number;
  readonly to: number;
  /** What the check found, with its numbers; null where it does not say it any more. */
  readonly finding: Finding | null;
}

export function subjectOf(study: Study, note: Note): Subject {
  const grid = gridOf(study);
  const node = note.node === null ? -1 : (rigOf(study).indexOf.get(note.node) ?? -1);
  const figure = figuresOf(study).findIndex(({ id }) => id === note.figure);
  const from = sampleAt(grid, note.frames[0]);
  const to = sampleAt(grid, note.frames[1]);
  const check = checkNamed(note.check);
  const finding = check === undefined ? null : findingAt(study, check, note, from, to);
  return { study, note, node, figure, from, to, finding };
}

/** The finding behind a note: of one of the parts on which it shows, over the same frames. */
function findingAt(study: Study, check: Check, note: Note, from: number, to: number): Finding | null {
  const found = findingsLike(study, check, note, (subject) => findingsOf(study, check, subject));
  return found.find((finding) => finding.from === from && finding.to === to) ?? found[0] ?? null;
}

/**
 * What a check finds that may be what a note says: on one of its parts, over frames that meet the note's.
 * @param findings gives what the check finds in a subject
 */
export function findingsLike(
  study: Study,
  check: Check,
  note: Note,
  findings: (subject: number) => readonly Finding[],
): Finding[] {
  const grid = gridOf(study);
  const from = sampleAt(grid, note.frames[0]);
  const to = sampleAt(grid, note.frames[1]);
  return subjectsOf(study, check, note)
    .flatMap((subject) => findings(subject))
    .filter((finding) => finding.from <= to + 1 && finding.to >= from - 1 && isOf(study, finding, note));
}

function isOf(study: Study, { node }: Finding, note: Note): boolean {
  if (node < 0) return true;
  const id = rigOf(study).ids[node];
  return id === note.node || note.seenAt.includes(id);
}

function subjectsOf(study: Study, check: Check, note: Note): number[] {
  const figure = figuresOf(study).findIndex(({ id }) => id === note.figure);
  switch (check.scope) {
    case "shot":
      return [0];
    case "figure":
      return figure < 0 ? [] : [figure];
    case "curve": {
      const names = curveNamesOf(study);
      return note.keys
        .map((key) => names.indexOf(`${key.node} ${key.channel}`))
        .filter((index) => index >= 0);
    }
    case "node": {
      const { indexOf } = rigOf(study);
      return [...new Set([...note.seenAt, note.node ?? ""])].flatMap((id) => indexOf.get(id) ?? []);
    }
  }
}
