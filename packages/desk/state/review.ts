import type { MotionStroke } from "@keyside/player/motion";
import type { DeskDecision, DeskRemark, DeskReview, DeskStroke, DeskTarget } from "../link.ts";
import type { NumberedNote } from "./notes.ts";

/** A remark on the page: it keeps the letter that it was given when it came. */
export interface LetteredRemark extends DeskRemark {
  readonly letter: string;
}

/** What stands on the list: a remark, or a computed note. */
export type Listed =
  | { readonly kind: "remark"; readonly id: string; readonly remark: LetteredRemark }
  | { readonly kind: "note"; readonly id: string; readonly note: NumberedNote };

const nothing: DeskReview = { file: "", reviewer: "", remarks: [], decisions: [], order: [], problems: [] };

/** What people said of the shot, and decided about its notes. */
export class Review {
  private told: DeskReview = nothing;
  private readonly letters = new Map<string, string>();
  private decided: ReadonlyMap<string, DeskDecision> = new Map();
  /** How far parts are from their targets, and how far they were before the drag, edit or fix that is under way. */
  targets: readonly DeskTarget[] = [];
  private before: readonly DeskTarget[] = [];
  remarks: readonly LetteredRemark[] = [];

  get file(): string {
    return this.told.file;
  }
  get reviewer(): string {
    return this.told.reviewer;
  }
  get problems(): readonly string[] {
    return this.told.problems;
  }
  get order(): readonly string[] {
    return this.told.order;
  }

  take(review: DeskReview): void {
    this.told = review;
    this.decided = new Map(review.decisions.map((decision) => [decision.fingerprint, decision]));
    this.remarks = review.remarks.map((remark) => ({ ...remark, letter: this.letterOf(remark.id) }));
  }

  /** Takes how far parts are from their targets. */
  takeTargets(targets: readonly DeskTarget[]): void {
    this.targets = targets;
  }

  /** Keeps how far parts are now, as that with which what follows is compared. */
  beginStep(): void {
    this.before = this.targets;
  }

  find(id: string | null): LetteredRemark | null {
    return id === null ? null : (this.remarks.find((remark) => remark.id === id) ?? null);
  }

  decision(fingerprint: string): DeskDecision | null {
    return this.decided.get(fingerprint) ?? null;
  }

  /** How far a part is from a stroke of a remark, and how far it was before this step; null where that is not known. */
  target(
    remark: string,
    stroke: number,
  ): { readonly now: DeskTarget; readonly before: DeskTarget | null } | null {
    const same = (one: DeskTarget) => one.remark === remark && one.stroke === stroke;
    const now = this.targets.find(same);
    if (now === undefined) return null;
    const before = this.before.find(same);
    const isOther = before !== undefined && (before.mean !== now.mean || before.largest !== now.largest);
    return { now, before: isOther ? before : null };
  }

  /** Remarks and notes in one list: as the reviewer has put them, then open remarks, then notes as they matter. */
  list(notes: readonly NumberedNote[]): readonly Listed[] {
    const all: readonly Listed[] = [
      ...[...this.remarks]
        .sort((a, b) => Number(a.isDone) - Number(b.isDone))
        .map((remark) => ({ kind: "remark", id: remark.id, remark }) as const),
      ...notes.map((note) => ({ kind: "note", id: note.fingerprint, note }) as const),
    ];
    const place = new Map(this.told.order.map((id, at) => [id, at]));
    const placeOf = ({ id }: Listed) => place.get(id) ?? Number.POSITIVE_INFINITY;
    return [...all.entries()]
      .sort(([m, a], [n, b]) => (placeOf(a) === placeOf(b) ? m - n : placeOf(a) - placeOf(b)))
      .map(([, one]) => one);
  }

  /** The order of the list once one of it has gone a place up or down; null where it cannot. */
  moved(notes: readonly NumberedNote[], id: string, by: 1 | -1): readonly string[] | null {
    const ids = this.list(notes).map((one) => one.id);
    const at = ids.indexOf(id);
    const to = at + by;
    if (at < 0 || to < 0 || to >= ids.length) return null;
    [ids[at], ids[to]] = [ids[to], ids[at]];
    // What follows it as it matters goes on doing so.
    const last = Math.max(at, to, ...this.told.order.map((other) => ids.indexOf(other)));
    return ids.slice(0, last + 1);
  }

  /** The letter of a remark: that which it had, else the next one. */
  private letterOf(id: string): string {
    let letter = this.letters.get(id);
    if (letter === undefined) {
      letter = letterAt(this.letters.size);
      this.letters.set(id, letter);
    }
    return letter;
  }
}

/** A, B, … Z, AA, AB … */
export function letterAt(index: number): string {
  const last = String.fromCharCode(65 + (index % 26));
  return index < 26 ? last : letterAt(Math.floor(index / 26) - 1) + last;
}

/**
 * Strokes of remarks as the player takes them.
 * @param sampleOf the judged frame of a frame of the document, from 0
 */
export function playedStrokes(
  remarks: readonly LetteredRemark[],
  sampleOf: (frame: number) => number,
): readonly MotionStroke[] {
  return remarks.flatMap(({ letter, strokes, isDone }) =>
    isDone
      ? []
      : strokes.map(({ line, frames, target }) => ({
          label: letter,
          from: sampleOf(frames[0]),
          to: sampleOf(frames[1]),
          line,
          isTarget: target !== null,
        })),
  );
}

/** A line with no more digits than can be seen: tenths of a millimetre. */
export function roundedLine(line: readonly number[]): number[] {
  return line.map((value) => Math.round(value * 1e4) / 1e4);
}

/** "1.2 cm". */
export function centimetres(value: number): string {
  return `${(Math.round(value * 10) / 10).toFixed(1)} cm`;
}

/** How far a part is from its target, in words. */
export function targetText({
  now,
  before,
}: {
  readonly now: DeskTarget;
  readonly before: DeskTarget | null;
}): string {
  const was =
    before === null ? "" : `; before: ${centimetres(before.mean)}, at most ${centimetres(before.largest)}`;
  return `${centimetres(now.mean)} off on average, at most ${centimetres(now.largest)} at frame ${now.at}${was}`;
}

/** A stroke that was just drawn. */
export function strokeFrom(
  line: readonly number[],
  facing: readonly [number, number, number],
  frames: readonly [number, number],
): DeskStroke {
  return { line: roundedLine(line), facing, frames, target: null };
}
