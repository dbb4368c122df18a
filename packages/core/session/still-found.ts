import type { Study } from "../base/study.ts";
import { checkIn } from "../expressions/checks.ts";
import type { Finding } from "../faults/check.ts";
import type { Note } from "../faults/note.ts";
import { valuesOf } from "../faults/values.ts";
import { findingsOf } from "../notes/found.ts";
import { rigOf } from "../rig/rig.ts";
import { settingsOf } from "../settings/study.ts";
import { findingsLike } from "./subject.ts";

/*
 * What a note's check still finds of what the note says, as a shot stands: whether a change of keys has cleared it.
 */

/**
 * What a note's check finds of what the note says.
 * @param margin factors of its settings by which it is asked (`Fix.margin`); as the settings are if left out
 */
export function stillFound(
  study: Study,
  note: Note,
  margin: Readonly<Record<string, number>> | null = null,
): Finding[] {
  const check = checkIn(settingsOf(study), note.check);
  if (check === undefined) return [];
  const find =
    margin === null
      ? (subject: number) => findingsOf(study, check, subject)
      : (subject: number) => check.find(study, subject, scaled(valuesOf(study, check, subject), margin));
  return findingsLike(study, check, note, find);
}

/** How much each part exceeds of what a note says, by rig index of its node. */
export function excessByNode(study: Study, note: Note): ReadonlyMap<number, number> {
  const most = new Map<number, number>();
  for (const { node, excess } of stillFound(study, note))
    if (node >= 0) most.set(node, Math.max(excess, most.get(node) ?? 0));
  return most;
}

/**
 * Whether what is still found is not on the note's own part, and no more than was found before on the parts that it
 * shows on as well: then another slip may be behind it, which the note hid. Its keys tell (see `judged`).
 * @param before as {@link excessByNode} told it before the change
 */
export function isOfOthers(
  study: Study,
  note: Note,
  found: readonly Finding[],
  before: ReadonlyMap<number, number>,
): boolean {
  const own = rigOf(study).indexOf.get(note.node ?? "");
  if (own === undefined || before.size === 0) return false;
  return found.every(({ node, excess }) => node !== own && excess <= (before.get(node) ?? 0));
}

/**
 * Whether a check that is asked by a margin still finds what a note says.
 * @param ofOthers whether what is found on parts other than the note's own is of other slips
 */
export function isLeft(
  study: Study,
  note: Note,
  margin: Readonly<Record<string, number>>,
  ofOthers: boolean,
): boolean {
  const own = rigOf(study).indexOf.get(note.node ?? "");
  return stillFound(study, note, margin).some(({ node }) => !ofOthers || node === own);
}

/** A check's settings times factors. */
function scaled(
  values: Readonly<Record<string, number>>,
  factors: Readonly<Record<string, number>>,
): Record<string, number> {
  return Object.fromEntries(
    Object.entries(values).map(([name, value]) => [name, value * (factors[name] ?? 1)]),
  );
}
