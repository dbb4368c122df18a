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
    for (const note of message.set) {
      const number = this.numbers.get(note.fingerprint) ?? this.numbers.size + 1;
      this.numbers.set(note.fingerprint, number);
      this.byFingerprint.set(note.fingerprint, { ...note, number });
    }
    const order = new Set(message.order);
    for (const fingerprint of this.byFingerprint.keys()) {
      if (!order.has(fingerprint)) this.byFingerprint.delete(fingerprint);
    }
    this.all = message.order.flatMap((fingerprint) => this.byFingerprint.get(fingerprint) ?? []);
    [this.waived, this.failures] = [message.waived, message.failures];
    return {
      came: this.all.filter(({ fingerprint }) => !before.has(fingerprint)),
      went: [...before.values()].filter(({ fingerprint }) => !this.byFingerprint.has(fingerprint)),
    };
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
