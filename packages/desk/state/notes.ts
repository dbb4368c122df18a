import type { DeskNote, DeskWaived, FoundFix, FromDesk } from "../link.ts";

/** A note on the page: it keeps the number that it was given when it came. */
export interface NumberedNote extends DeskNote {
  readonly number: number;
}

/** What a message about notes changed. */
export interface NoteNews {
  readonly came: readonly NumberedNote[];
  readonly went: readonly NumberedNote[];
}

/** The notes of the shot, the one that matters most first. */
export class Notes {
  private readonly byFingerprint = new Map<string, NumberedNote>();
  private readonly numbers = new Map<string, number>();
  /** The number that was given last. */
  private last = 0;
  /** The notes in order. */
  all: readonly NumberedNote[] = [];
  waived: readonly DeskWaived[] = [];
  failures: readonly string[] = [];
  /** The revision that they judge; -1 before there are any. */
  revision = -1;
  /** The fix that was looked for and found for a note; it fits the revision for which it was found. */
  fix: { readonly found: FoundFix; readonly revision: number } | null = null;

  /** Takes what a shot has to begin with: nothing that was judged before. */
  begin(): void {
    this.byFingerprint.clear();
    this.all = [];
    [this.waived, this.failures, this.revision, this.fix] = [[], [], -1, null];
  }

  find(fingerprint: string | null): NumberedNote | null {
    return fingerprint === null ? null : (this.byFingerprint.get(fingerprint) ?? null);
  }

  /** Takes a message; one that judges an older revision than the last changes nothing. */
  take(message: Extract<FromDesk, { type: "notes" }>): NoteNews {
    if (message.revision < this.revision) return { came: [], went: [] };
    this.revision = message.revision;
    const before = new Map(this.byFingerprint);
    const order = new Set(message.order);
    const leaving = this.all.filter(({ fingerprint }) => !order.has(fingerprint));
    for (const note of message.set) {
      const number = this.numberFor(note, leaving);
      this.numbers.set(note.fingerprint, number);
      this.byFingerprint.set(note.fingerprint, { ...note, number });
    }
    for (const fingerprint of this.byFingerprint.keys()) {
      if (!order.has(fingerprint)) this.byFingerprint.delete(fingerprint);
    }
    this.all = message.order.flatMap((fingerprint) => this.byFingerprint.get(fingerprint) ?? []);
    [this.waived, this.failures] = [message.waived, message.failures];
    const numbered = new Set(this.all.map(({ number }) => number));
    const known = new Set([...before.values()].map(({ number }) => number));
    return {
      came: this.all.filter(({ number }) => !known.has(number)),
      went: [...before.values()].filter(({ number }) => !numbered.has(number)),
    };
  }

  /** The note with a number; null where it is gone. */
  numbered(number: number | null): NumberedNote | null {
    return this.all.find((note) => note.number === number) ?? null;
  }

  /**
   * The number of a note that comes: that which it had before, where nobody else has it now; that of a note which leaves, where it is the same fault
   * of the same node at frames that it shares, as fingerprints change while a key is dragged; else the next one.
   */
  private numberFor(note: DeskNote, leaving: NumberedNote[]): number {
    const had = this.numbers.get(note.fingerprint);
    const isTaken = [...this.byFingerprint.values()].some(
      ({ number, fingerprint }) => number === had && fingerprint !== note.fingerprint,
    );
    if (had !== undefined && !isTaken) return had;
    const same = leaving.findIndex(
      ({ check, node, frames }) =>
        check === note.check &&
        node === note.node &&
        frames[0] <= note.frames[1] + 1 &&
        note.frames[0] <= frames[1] + 1,
    );
    if (same >= 0) return leaving.splice(same, 1)[0].number;
    return ++this.last;
  }
}

/** "3 notes: 1 major, 2 minor", or that there is none. */
export function countsText(notes: readonly DeskNote[]): string {
  if (notes.length === 0) return "No notes";
  const tiers = ["broken", "major", "minor", "polish"] as const;
  const counts = tiers
    .map((tier) => ({ tier, count: notes.filter((note) => note.tier === tier).length }))
    .filter(({ count }) => count > 0)
    .map(({ tier, count }) => `${count} ${tier}`);
  return `${notes.length} ${notes.length === 1 ? "note" : "notes"}: ${counts.join(", ")}`;
}
