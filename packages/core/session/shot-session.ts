import { notesOf } from "../checks/run.ts";
import { type KeyEdit, tryEditShot } from "../document/edit.ts";
import type { Problem, Shot } from "../document/model.ts";
import type { Note } from "../notes/note.ts";
import type { ResolvedSettings } from "../settings/settings.ts";
import { Study, setShot, settingsOf } from "../study/study.ts";
import { type NoteChanges, noteChanges } from "./note-changes.ts";

/**
 * A shot that is being edited: edits go in, changed notes come out.
 *
 * Every edit leaves exactly the notes that a fresh check of the edited shot gives; only what the edit reaches is
 * computed again (see `Memo`). A session holds no text: whoever holds one reads it again and calls {@link replace}.
 */
export class ShotSession {
  /** What is known of the shot now; measures may be asked of it between edits. */
  readonly study: Study;
  private current: Shot;
  private judged: readonly Note[];
  private edits = 0;

  constructor(shot: Shot, settings: ResolvedSettings) {
    this.current = shot;
    this.study = new Study(shot, settings);
    this.judged = notesOf(this.study);
  }

  /** The shot as it is now. */
  get shot(): Shot {
    return this.current;
  }

  /** All notes of the shot as it is now, the one that matters most first. */
  get notes(): readonly Note[] {
    return this.judged;
  }

  /** How many edits the session has taken. */
  get revision(): number {
    return this.edits;
  }

  /**
   * Sets, moves and removes keys, many at once.
   * @returns what changed in the notes, and why the edits cannot be made: then none of them is made
   */
  edit(edits: readonly KeyEdit[]): NoteChanges & { readonly problems: readonly Problem[] } {
    const { shot, problems } = tryEditShot(this.current, edits);
    return { ...this.replace(shot), problems };
  }

  /**
   * Puts another version of the shot in place. Parts that are the same objects as before (curves, the header) count
   * as unchanged, so that nothing is computed again for them.
   */
  replace(shot: Shot): NoteChanges {
    const before = this.current;
    this.current = shot;
    setShot(this.study, shot, before);
    return this.judge();
  }

  /** Judges by other settings from now on. */
  configure(settings: ResolvedSettings): NoteChanges {
    this.study.memo.write(settingsOf.definition, undefined, settings);
    return this.judge();
  }

  private judge(): NoteChanges {
    this.edits++;
    const before = this.judged;
    this.judged = notesOf(this.study);
    return noteChanges(before, this.judged);
  }
}
