import type { ReportedNote, ReportedShot } from "@keyside/core";

/** Fewer figures are told one by one. */
const fewestFigures = 3;
/** From this share of a shot's figures on, what they do is what many do (our choice). */
const many = 0.5;

/** What many figures do. */
export type Alike = NonNullable<ReportedShot["alike"]>[number];

/**
 * What many figures of a shot do alike: notes of one check on the same part, or listed under another note, on at least
 * three figures and half of all.
 * @param figures ids of the shot's figures
 * @returns what most figures do first; empty where each has its own faults
 */
export function alikeIn(notes: readonly ReportedNote[], figures: readonly string[]): Alike[] {
  const groups = new Map<string, { check: string; part: string; figures: Set<string> }>();
  for (const note of notes) {
    for (const { check, part, figure } of [note, ...(note.also ?? [])]) {
      if (figure === null) continue;
      const own = part.startsWith(`${figure}: `) ? part.slice(figure.length + 2) : part;
      const name = JSON.stringify([check, own]);
      const group = groups.get(name) ?? { check, part: own, figures: new Set() };
      group.figures.add(figure);
      groups.set(name, group);
    }
  }
  return [...groups.values()]
    .filter((group) => group.figures.size >= Math.max(fewestFigures, many * figures.length))
    .sort((a, b) => b.figures.size - a.figures.size)
    .map((group) => ({ ...group, figures: [...group.figures], of: figures.length }));
}
