import {
  type AnyDefinition,
  anyChange,
  type Cell,
  changedSince,
  changeOf,
  everywhere,
  hasChangedIn,
  type MeasureDefinition,
  newPiece,
  none,
  noteChange,
  type Patch,
  type Stretch,
} from "./memo-cell.ts";
import { MemoTables } from "./memo-tables.ts";

/** Values of measures, what each has asked for, and how they are brought up to date; `Memo` adds inputs and kept pieces. */
export class MemoValues {
  /** Counts edits. A cell verified at the current revision is up to date. */
  revision = 1;
  protected readonly tables = new MemoTables();
  protected active: Cell | null = null;
  /** What the measures that are being computed have asked for so far, those of the inner ones on top. */
  protected readonly waiting: Cell[] = [];
  protected top = 0;
  /** For what kept pieces ask for: which stretch of each. Those of the piece that is being computed lie on top. */
  protected readonly stretches: number[] = [];
  protected stretchTop = 0;
  /** The stretch of samples that the piece which is being computed looks at. */
  protected from = Number.NEGATIVE_INFINITY;
  protected to = Number.POSITIVE_INFINITY;
  /** Counts what was computed, and pieces that look at a part of the shot: what tests look at. */
  readonly work = { cells: 0, patches: 0, pieces: 0, keptPieces: 0 };
  /**
   * Called with what was kept, or brought up to date, and with what computing it now gives; for tests, which see that they
   * are equal.
   */
  audit: ((kept: unknown, now: unknown) => void) | null = null;
  /**
   * Whether edits are to come, and values are brought up to date in place. Whoever holds on to one then finds it changed
   * by an edit: it is for those who ask anew after each.
   */
  isPatching = false;
  /** Revision of the last read from outside, and at how many revisions there was one since the last sweep. */
  private readAt = 0;
  protected reads = 0;

  /** Value of a measure for a key, computed if it has to be. */
  read<S, K, V>(subject: S, definition: MeasureDefinition<S, K, V>, key: K): V {
    const cell = this.tables.cell(definition as AnyDefinition, key);
    const { active, revision } = this;
    if (active === null) {
      if (this.readAt !== revision) {
        this.readAt = revision;
        this.reads++;
      }
    } else if (cell.askedBy !== active || cell.askedInRun !== active.run) {
      // A measure that asks for the same thing a thousand times depends on it once.
      cell.askedBy = active;
      cell.askedInRun = active.run;
      if (active.looksAtPart) this.noteStretch(definition.isSeries === true);
      this.waiting[this.top++] = cell;
    }
    if (cell.verifiedAt !== revision) this.refresh(subject, cell);
    return cell.value as V;
  }

  /**
   * Value of a measure of which a kept piece reads a stretch alone, in the unit of the measure's `changed`. A piece that
   * finds out by and by what it reads may ask again.
   */
  readWithin<S, K, V>(
    subject: S,
    definition: MeasureDefinition<S, K, V>,
    key: K,
    from: number,
    to: number,
  ): V {
    const { active } = this;
    if (active === null || !active.looksAtPart || definition.changed === undefined)
      return this.read(subject, definition, key);
    const cell = this.tables.cell(definition as AnyDefinition, key);
    this.stretches[this.stretchTop++] = from;
    this.stretches[this.stretchTop++] = to;
    this.waiting[this.top++] = cell;
    if (cell.verifiedAt !== this.revision) this.refresh(subject, cell);
    return cell.value as V;
  }

  /**
   * Runs a cell's work and writes down what it asks for.
   * @param compute null for that of its measure, for a subject: a closure for each would cost more than many a measure
   */
  protected run<V>(cell: Cell, compute: (() => V) | null, subject?: unknown): V {
    const outer = this.active;
    const base = this.top;
    this.active = cell;
    cell.busy = true;
    cell.run++;
    cell.newPieces = null;
    try {
      return compute === null ? (computed(subject, cell) as V) : compute();
    } finally {
      cell.busy = false;
      cell.asked = this.askedSince(base);
      this.active = outer;
    }
  }

  /** Writes down whether a piece looks at its stretch alone of what it asks for, or at all of it. */
  protected noteStretch(isPart: boolean): void {
    this.stretches[this.stretchTop++] = isPart ? this.from : Number.NEGATIVE_INFINITY;
    this.stretches[this.stretchTop++] = isPart ? this.to : Number.POSITIVE_INFINITY;
  }

  protected refresh(subject: unknown, cell: Cell): void {
    if (cell.verifiedAt === this.revision || cell.isInput) return;
    if (cell.busy) throw new Error(`The measure "${cell.definition.name}" asks for itself.`);
    if (cell.verifiedAt !== 0 && !this.anyAskedChanged(subject, cell)) {
      cell.verifiedAt = this.revision;
      return;
    }
    if (cell.isPiece) {
      // Only the measure whose piece it is can do it again; that measure is, since this one has changed.
      cell.changedAt = this.revision;
      return;
    }
    const { patch } = cell.definition;
    const isPatchable = this.isPatching && patch !== undefined;
    if (cell.verifiedAt !== 0 && isPatchable) {
      const anew =
        this.audit === null ? null : () => this.run(newPiece("", none), () => computed(subject, cell));
      if (this.patched(subject, cell, patch as AnyPatch, anew)) {
        this.work.patches++;
        return;
      }
    }
    this.work.cells++;
    try {
      const value = this.run(cell, null, subject);
      const range =
        cell.verifiedAt === 0
          ? everywhere
          : isPatchable
            ? anyChange(cell.value, value)
            : changeOf(cell, value);
      if (range !== null) {
        cell.value = value;
        noteChange(cell, this.revision, range);
      }
      cell.verifiedAt = this.revision;
      cell.pieces = cell.newPieces;
    } finally {
      cell.newPieces = null;
    }
  }

  /**
   * Brings a value up to date in place, where all changes of what it asked for lie between two samples.
   * @param anew computes what it has to come to; null where nobody looks
   * @returns whether it is up to date
   */
  protected patched(subject: unknown, cell: Cell, patch: AnyPatch, anew: (() => unknown) | null): boolean {
    const reached = this.reachOf(subject, cell);
    if (reached === null) return false;
    const outer = this.active;
    const base = this.top;
    this.active = cell;
    cell.busy = true;
    cell.run++;
    let range: Stretch | null | undefined;
    let isDone = false;
    try {
      range = patch(subject as never, cell.key as never, cell.value as never, reached[0], reached[1]);
      isDone = true;
    } finally {
      cell.busy = false;
      this.active = outer;
      const asked = this.askedSince(base);
      // What it has asked for before it goes on hanging on; only what is new is written down.
      for (const other of asked) if (!cell.asked.includes(other)) cell.asked = [...cell.asked, other];
      // Half of it may be new.
      if (!isDone) cell.verifiedAt = 0;
    }
    if (range === undefined) return false;
    if (range !== null) noteChange(cell, this.revision, range);
    cell.verifiedAt = this.revision;
    if (anew !== null) this.audit?.(cell.value, anew());
    return true;
  }

  /** First and last sample in which what a cell asked for has changed; null where that cannot be told. */
  private reachOf(subject: unknown, cell: Cell): Stretch | null {
    let from = Number.POSITIVE_INFINITY;
    let to = Number.NEGATIVE_INFINITY;
    const { asked, verifiedAt: since } = cell;
    for (let k = 0; k < asked.length; k++) {
      const other = asked[k];
      if (!this.isRefreshed(subject, other)) return null;
      if (other.changedAt <= since) continue;
      const range = changedSince(other, since);
      if (range === null) return null;
      from = Math.min(from, range[0]);
      to = Math.max(to, range[1]);
    }
    return Number.isFinite(from) && Number.isFinite(to) ? [from, to] : null;
  }

  /**
   * For a patch that is being made: where a measure that its value hangs on has changed since the value was up to date.
   * @returns null where it has not
   */
  changeOf<S, K, V>(definition: MeasureDefinition<S, K, V>, key: K): Stretch | null {
    const since = this.active?.verifiedAt ?? 0;
    const cell = this.tables.cell(definition as AnyDefinition, key);
    return cell.changedAt <= since ? null : (changedSince(cell, since) ?? everywhere);
  }

  /** Takes what was asked for since the stack was that high; a list of just that length takes half the room of one that grew. */
  protected askedSince(base: number): readonly Cell[] {
    const count = this.top - base;
    this.top = base;
    if (count === 0) return none;
    const asked = new Array<Cell>(count);
    for (let k = 0; k < count; k++) asked[k] = this.waiting[base + k];
    return asked;
  }

  /** Brings what was asked for up to date; false where computing it throws. */
  private isRefreshed(subject: unknown, other: Cell): boolean {
    if (other.verifiedAt === this.revision || other.isInput) return true;
    try {
      this.refresh(subject, other);
      return true;
    } catch {
      return false;
    }
  }

  protected anyAskedChanged(subject: unknown, cell: Cell): boolean {
    const { asked, stretches, verifiedAt: since } = cell;
    for (let k = 0; k < asked.length; k++) {
      const other = asked[k];
      // Whoever asked may have caught this before: it is computed again, and meets the error itself.
      if (!this.isRefreshed(subject, other)) return true;
      if (other.changedAt <= since) continue;
      if (stretches === null || hasChangedIn(other, since, stretches[2 * k], stretches[2 * k + 1]))
        return true;
    }
    return false;
  }
}

/** What a cell's measure gives. */
function computed(subject: unknown, { definition, key }: Cell): unknown {
  return definition.compute(subject as never, key as never);
}

export type AnyPatch = Patch<never, never, never>;
