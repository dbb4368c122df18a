import type { FeedNote } from "@keyside/adapters";
import type { CheckFailure, ReviewFile, Waiver } from "@keyside/core";
import type { DeskNote, FromDesk } from "@keyside/desk/link";
import { failureText } from "../../present/text/failure.ts";
import type { MovingShot } from "./moving-shot.ts";
import { deskNote, waivedIn } from "./notes.ts";

type NotesMessage = Extract<FromDesk, { type: "notes" }>;

interface Judged {
  readonly revision: number;
  readonly notes: readonly FeedNote[];
  readonly failures: readonly CheckFailure[];
}

/** The notes as the pages know them. */
export class ToldNotes {
  private judged: Judged | null = null;
  private told = new Map<string, { readonly note: FeedNote; readonly desk: DeskNote }>();

  /** A note that the pages know; undefined for none. */
  called(fingerprint: string): FeedNote | undefined {
    return this.told.get(fingerprint)?.note;
  }

  /** All notes that the pages know. */
  get known(): readonly FeedNote[] {
    return [...this.told.values()].map(({ note }) => note);
  }

  /** Takes what the feed tells. Gives what the pages are told: only what is new of it, or other than before. */
  take(judged: Judged, moving: MovingShot, waivers: readonly Waiver[], review: ReviewFile): NotesMessage {
    this.judged = judged;
    const set: DeskNote[] = [];
    const told: typeof this.told = new Map();
    for (const note of judged.notes) {
      const known = this.told.get(note.fingerprint);
      const same =
        known?.note === note
          ? known
          : { note, desk: deskNote(note, moving.study, (one) => moving.shown(one)) };
      if (same !== known) set.push(same.desk);
      told.set(note.fingerprint, same);
    }
    this.told = told;
    return this.message(judged, set, moving, waivers, review);
  }

  /** All of it, for a page that comes; null where nothing was judged yet. */
  all(moving: MovingShot, waivers: readonly Waiver[], review: ReviewFile): NotesMessage | null {
    const { judged, told } = this;
    const all = [...told.values()].map(({ desk }) => desk);
    return judged === null ? null : this.message(judged, all, moving, waivers, review);
  }

  /** All of it once more, where frames are counted otherwise. */
  again(moving: MovingShot, waivers: readonly Waiver[], review: ReviewFile): NotesMessage | null {
    const { judged } = this;
    this.told.clear();
    return judged === null ? null : this.take(judged, moving, waivers, review);
  }

  /** What is waived alone, where it is other than was told; null where nothing was judged yet. */
  waived(moving: MovingShot, waivers: readonly Waiver[], review: ReviewFile): NotesMessage | null {
    return this.judged === null ? null : this.message(this.judged, [], moving, waivers, review);
  }

  /** Another document lies on the desk. */
  forget(): void {
    this.judged = null;
    this.told.clear();
  }

  private message(
    { revision, failures }: Judged,
    set: readonly DeskNote[],
    moving: MovingShot,
    waivers: readonly Waiver[],
    review: ReviewFile,
  ): NotesMessage {
    const fresh = moving.newPoints();
    return {
      type: "notes",
      revision,
      set,
      order: [...this.told.keys()],
      waived: waivedIn(moving.study, waivers, review),
      failures: failures.map((failure) => failureText({ ...failure })),
      points: fresh === null ? [] : [fresh],
    };
  }
}
