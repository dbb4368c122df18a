import type { Study } from "../base/study.ts";
import { type KeyEdit, tryEditShot } from "../document/edit.ts";
import { changedKeys, curveName, setShot } from "../document/inputs.ts";
import type { Curve, Problem, Shot } from "../document/model.ts";
import type { Note } from "../faults/note.ts";
import { type CheckFailure, failuresOf, notesOf } from "../notes/found.ts";
import { notesInSteps, type Progress } from "../notes/in-steps.ts";
import type { ResolvedSettings } from "../settings/settings.ts";
import { setSettings, studyOf } from "../settings/study.ts";
import { type NoteChanges, noteChanges } from "./note-changes.ts";

/**
 * A shot that is being edited: edits go in, changed notes come out.
 *
 * Every edit leaves exactly the notes that a fresh check of the edited shot gives; only what the edit reaches is
 * computed again (see `Memo`). A session holds no text: whoever holds one reads it again and calls {@link replace}.
 *
 * {@link edit}, {@link replace} and {@link configure} judge at once. Whoever wants to gather several edits, or to
 * pause while the shot is judged, calls {@link take}, {@link takeShot} and {@link takeSettings}, then
 * {@link judgeInSteps}.
 */
export class ShotSession {
  /** What is known of the shot now; measures may be asked of it between edits, which write to the series they gave. */
  readonly study: Study;
  private current: Shot;
  private judged: readonly Note[] = [];
  private edits = 0;
  /** What was changed since the shot was last judged: curves by their names, and the frames of their keys. */
  private touched = nothingTouched();

  /**
   * @param shot what is edited; it stays as it is
   * @param settings what it is judged by
   * @param judgesLater whether nothing is judged until somebody asks for it; there are no notes till then
   */
  constructor(shot: Shot, settings: ResolvedSettings, judgesLater = false) {
    this.current = shot;
    this.study = studyOf(shot, settings);
    this.study.memo.isPatching = true;
    if (!judgesLater) this.judge();
  }

  /** The shot as it is now. */
  get shot(): Shot {
    return this.current;
  }

  /** All notes of the shot as it was when it was last judged, the one that matters most first. */
  get notes(): readonly Note[] {
    return this.judged;
  }

  /** Checks that ended in an error when the shot was last judged; the notes of all others stand. */
  get failures(): readonly CheckFailure[] {
    return failuresOf(this.study);
  }

  /** How many edits the session has taken. */
  get revision(): number {
    return this.edits;
  }

  /**
   * Sets, moves and removes keys, many at once.
   * @param edits made at once, as by `editShot`
   * @returns what changed in the notes, and why the edits cannot be made: then none of them is made
   */
  edit(edits: readonly KeyEdit[]): NoteChanges & { readonly problems: readonly Problem[] } {
    const problems = this.take(edits);
    return { ...this.judge(), problems };
  }

  /**
   * Puts another version of the shot in place. Parts that are the same objects as before (curves, the header) count
   * as unchanged, so that nothing is computed again for them.
   * @param shot the other version
   * @returns the notes that came, went and changed
   */
  replace(shot: Shot): NoteChanges {
    this.takeShot(shot);
    return this.judge();
  }

  /**
   * Judges by other settings from now on.
   * @param settings what it is judged by from now on
   * @returns the notes that came, went and changed
   */
  configure(settings: ResolvedSettings): NoteChanges {
    this.takeSettings(settings);
    return this.judge();
  }

  /**
   * Makes edits of keys without judging; all or, where the answer says why, none.
   * @param edits made at once, as by `editShot`
   * @returns why they cannot be made; empty where they were
   */
  take(edits: readonly KeyEdit[]): readonly Problem[] {
    const { shot, problems } = tryEditShot(this.current, edits);
    if (problems.length === 0) this.takeShot(shot);
    return problems;
  }

  /**
   * Puts another version of the shot in place without judging.
   * @param shot the other version
   */
  takeShot(shot: Shot): void {
    setShot(this.study, shot, this.current);
    this.touch(shot);
    this.current = shot;
    this.edits++;
  }

  /**
   * Takes other settings without judging.
   * @param settings what it is judged by from now on
   */
  takeSettings(settings: ResolvedSettings): void {
    setSettings(this.study, settings);
    this.edits++;
  }

  /**
   * Judges the shot as it is now.
   * @returns the notes that came, went and changed
   */
  judge(): NoteChanges {
    return this.changeTo(notesOf(this.study));
  }

  /**
   * Judges the shot as it is now, a check at a time. Whoever walks the steps may give up between two of them, and must
   * do so if an edit is taken in between; the notes are then those of before, and what was computed is kept. What
   * was changed since the last judgement comes first.
   * @returns a generator that tells how far it has come and gives, at its end, what {@link judge} gives
   */
  *judgeInSteps(): Generator<Progress, NoteChanges> {
    return this.changeTo(yield* notesInSteps(this.study, this.touched));
  }

  private touch(shot: Shot): void {
    const nameOf = ({ node, channel }: Curve) => curveName(node, channel);
    const before = new Map(this.current.curves.map((curve) => [nameOf(curve), curve]));
    const { curves, frames } = this.touched;
    for (const curve of shot.curves) {
      const name = nameOf(curve);
      const known = before.get(name) ?? null;
      const changed = known === curve ? null : changedKeys(known, curve);
      if (changed === null) continue;
      curves.add(name);
      frames[0] = Math.min(frames[0], changed[0]);
      frames[1] = Math.max(frames[1], changed[1]);
    }
  }

  private changeTo(notes: readonly Note[]): NoteChanges {
    const before = this.judged;
    this.judged = notes;
    this.touched = nothingTouched();
    return noteChanges(before, notes);
  }
}

function nothingTouched(): { readonly curves: Set<string>; readonly frames: [number, number] } {
  return { curves: new Set(), frames: [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY] };
}
