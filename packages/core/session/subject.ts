import type { Study } from "../base/study.ts";
import { curveNamesOf } from "../document/inputs.ts";
import type { Shot } from "../document/model.ts";
import type { Check, Finding } from "../faults/check.ts";
import type { Subject } from "../faults/fix.ts";
import type { Note } from "../faults/note.ts";
import { findingBehind } from "../notes/assemble.ts";
import { figuresOf } from "../rig/body.ts";
import { rigOf } from "../rig/rig.ts";
import { gridOf, sampleAt } from "../time/grid.ts";

/**
 * What a fix is given of a note.
 * @returns null where it is no note that this program has made: it has been read from a file, say
 */
export function subjectOf(study: Study, shot: Shot, note: Note): Subject | null {
  const finding = findingBehind(note);
  if (finding === null) return null;
  const grid = gridOf(study);
  const { indexOf } = rigOf(study);
  return {
    study,
    shot,
    finding,
    node: note.node === null ? -1 : (indexOf.get(note.node) ?? -1),
    seenAt: note.seenAt.flatMap((id) => indexOf.get(id) ?? []),
    figure: figuresOf(study).findIndex(({ id }) => id === note.figure),
    from: sampleAt(grid, note.frames[0]),
    to: sampleAt(grid, note.frames[1]),
    keys: note.keys,
  };
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
