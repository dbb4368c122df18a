import { existsSync } from "node:fs";
import { checkNamed, type Note, notesOf, type Shot, type Study } from "@keyside/core";
import { Sampled } from "./sampled.ts";

/**
 * Computes the number of a note again, in the note's unit, from the note's own frames and what its page says.
 * @throws Error where it cannot
 */
export type Recompute = (note: Note, shot: Sampled) => number;

/** A note, with its number computed again: NaN where that was not possible, with the reason. */
export interface Compared {
  readonly check: string;
  readonly note: Note;
  readonly said: number;
  readonly again: number;
  /** How far apart the two are, as a share of the greater. */
  readonly apart: number;
  readonly reason: string;
}

/** Numbers that differ by no more than this share agree. */
export const agreeWithin = 0.02;
/** Both numbers are none under this: metres, degrees, frames and shares that nobody can see. */
const none = 1e-6;

/** The recomputer of a check; null where it has none. */
export async function recomputerOf(check: string): Promise<Recompute | null> {
  const file = new URL(`../${checkNamed(check)?.family}/${check}.ts`, import.meta.url);
  if (!existsSync(file)) return null;
  const module: { readonly recompute: Recompute } = await import(/* @vite-ignore */ file.pathname);
  return module.recompute;
}

/** All notes of a shot of which the check has a recomputer, also those for which another one speaks. */
export async function compared(shot: Shot, study: Study): Promise<readonly Compared[]> {
  const sampled = new Sampled(shot, study);
  const all: Compared[] = [];
  for (const note of notesOf(study).flatMap((told) => [told, ...(told.also ?? [])])) {
    const recompute = await recomputerOf(note.check);
    if (recompute !== null) all.push(comparedNote(note, sampled, recompute));
  }
  return all;
}

export function comparedNote(note: Note, sampled: Sampled, recompute: Recompute): Compared {
  const said = note.measured.value;
  let again = Number.NaN;
  let reason = "";
  try {
    again = recompute(note, sampled);
  } catch (error) {
    reason = error instanceof Error ? error.message : String(error);
  }
  const apart = Math.abs(said - again) / Math.max(Math.abs(said), Math.abs(again), none);
  return { check: note.check, note, said, again, apart: Number.isNaN(apart) ? 1 : apart, reason };
}
