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
  type Seen,
  type Stretch,
  sameSeen,
} from "./memo-cell.ts";
import { MemoTables } from "./memo-tables.ts";

/** After reads at so many revisions, what has fallen out of use is forgotten. */
const sweepEvery = 64;

/**
 * Demand-driven computation that is remembered, and computed again only where an input changed.
 *
 * A measure asks for other measures while it computes; the memo writes down what it asked for. After an input
 * changes, a value is computed again only if something that it asked for really changed: a measure that comes out
 * the same as before stops the wave there. A shot that is edited therefore gives, by construction, what a fresh
 * computation gives: there is one code path. Where all that a value was computed from has changed between two samples
 * alone, it is brought up to date there ({@link MeasureDefinition.patch}) instead.
 */
export class Memo {
  /** Counts edits. A cell verified at the current revision is up to date. */
  revision = 1;
  private readonly tables = new MemoTables();
  private active: Cell | null = null;
  /** What the measures that are being computed have asked for so far, those of the inner ones on top. */
  private readonly waiting: Cell[] = [];
  private top = 0;
  /** For what kept pieces ask for: which stretch of each. Those of the piece that is being computed lie on top. */
  private readonly stretches: number[] = [];
  private stretchTop = 0;
  /** The stretch of samples that the piece which is being computed looks at. */
  private from = Number.NEGATIVE_INFINITY;
  private to = Number.POSITIVE_INFINITY;
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
  /** Whether pieces were done without being written down, and whether there was an edit since. */
  private hasPlainPieces = false;
  private isEdited = false;
  /** Revision of the last read from outside, and at how many revisions there was one since the last sweep. */
  private readAt = 0;
  private reads = 0;
  private sweptAt = 0;

  /** How many values are remembered, inputs included. */
  get size(): number {
    return this.tables.size;
  }

  /** The values that are up to date, kept pieces apart; for tests, which hold them against those of a fresh study. */
  *valuesNow(): Generator<readonly [definition: AnyDefinition, key: unknown, value: unknown]> {
    for (const { verifiedAt, definition, key, value } of this.tables.cells())
      if (verifiedAt === this.revision) yield [definition, key, value];
  }

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
   * A piece of a measure's work that is kept apart, by the measure's key and a name of its own: it is done again only
   * where something that it asked for has changed within the samples that it looks at. Of a series that tells which
   * samples have changed (`isSeries`) a piece must look at no others, and `sees` must hold all else that it hangs on.
   * Outside of any measure it is simply done, and so is any piece where nobody has edited yet and {@link isPatching} does
   * not say that they will: to write it down costs more than most of them do.
   * @param name tells a measure's pieces apart
   * @param from first and last sample that is looked at, both included
   * @param sees numbers, texts and arrays of numbers, by value
   */
  keep<S, V>(subject: S, name: string, from: number, to: number, sees: readonly Seen[], compute: () => V): V {
    const owner = this.active;
    if (owner === null || this.isPlain(owner)) return compute();
    const kept = owner.pieces?.get(name);
    if (kept !== undefined && kept.verifiedAt !== 0 && sameSeen(kept.sees, sees)) {
      if (kept.verifiedAt === this.revision || !this.anyAskedChanged(subject, kept)) {
        if (Number.isFinite(from)) this.work.keptPieces++;
        this.keepPiece(owner, kept);
        if (this.audit !== null)
          this.audit(kept.value, this.runPart(newPiece(name, none), from, to, compute));
        return kept.value as V;
      }
    }
    const cell = newPiece(name, sees);
    cell.value = this.runPart(cell, from, to, compute);
    if (Number.isFinite(from)) this.work.pieces++;
    return this.takePiece(owner, cell) as V;
  }

  /**
   * A piece of a measure's work that is kept as by {@link keep}, looks at all samples, and is brought up to date in place
   * where what it asked for has changed between two samples alone. It is simply done where {@link keep} says so.
   * @param sees numbers, texts and arrays of numbers, by value
   * @param patch brings the value up to date, as `MeasureDefinition.patch` does; it asks for nothing that `compute` would
   *   not ask for
   */
  keepPatched<S, V>(
    subject: S,
    name: string,
    sees: readonly Seen[],
    compute: () => V,
    patch: (value: V, from: number, to: number) => Stretch | null | undefined,
  ): V {
    const owner = this.active;
    if (owner === null || this.isPlain(owner)) return compute();
    const kept = owner.newPieces?.get(name) ?? owner.pieces?.get(name);
    if (kept !== undefined && kept.verifiedAt !== 0 && sameSeen(kept.sees, sees)) {
      if (kept.verifiedAt === this.revision || !this.anyAskedChanged(subject, kept)) {
        this.keepPiece(owner, kept);
        if (this.audit !== null) this.audit(kept.value, this.run(newPiece(name, none), compute));
        return kept.value as V;
      }
      const anew = this.audit === null ? null : () => this.run(newPiece(name, none), compute);
      const patchPiece: AnyPatch = (_, __, value, first, last) => patch(value as V, first, last);
      if (this.isPatching && this.patched(subject, kept, patchPiece, anew)) {
        this.work.patches++;
        this.askFor(owner, kept);
        return kept.value as V;
      }
    }
    const cell = newPiece(name, sees);
    cell.value = this.run(cell, compute);
    return this.takePiece(owner, cell) as V;
  }

  /**
   * Whether a piece of a measure's work is not told from the rest of it: before the first edit of what is not said to be
   * edited. Within a piece that looks at a stretch alone it always is: what it asks for would count
   * for that stretch.
   */
  private isPlain(owner: Cell): boolean {
    if (this.isPatching || this.isEdited || owner.looksAtPart) return false;
    this.hasPlainPieces = true;
    return true;
  }

  private keepPiece(owner: Cell, piece: Cell): void {
    piece.verifiedAt = this.revision;
    this.askFor(owner, piece);
  }

  private takePiece(owner: Cell, piece: Cell): unknown {
    piece.changedAt = this.revision;
    piece.verifiedAt = this.revision;
    this.askFor(owner, piece);
    return piece.value;
  }

  /** Lets the measure that is being computed hang on a piece of it. */
  private askFor(owner: Cell, piece: Cell): void {
    if (owner.looksAtPart) this.noteStretch(false);
    this.waiting[this.top++] = piece;
    owner.newPieces ??= new Map();
    owner.newPieces.set(piece.key as string, piece);
  }

  private runPart<V>(cell: Cell, from: number, to: number, compute: () => V): V {
    const { from: outerFrom, to: outerTo } = this;
    const base = this.stretchTop;
    cell.looksAtPart = true;
    this.from = from;
    this.to = to;
    try {
      return this.run(cell, compute);
    } finally {
      cell.stretches = Float64Array.from(this.stretches.slice(base, this.stretchTop));
      this.stretchTop = base;
      this.from = outerFrom;
      this.to = outerTo;
    }
  }

  /**
   * Runs a cell's work and writes down what it asks for.
   * @param compute null for that of its measure, for a subject: a closure for each would cost more than many a measure
   */
  private run<V>(cell: Cell, compute: (() => V) | null, subject?: unknown): V {
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
  private noteStretch(isPart: boolean): void {
    this.stretches[this.stretchTop++] = isPart ? this.from : Number.NEGATIVE_INFINITY;
    this.stretches[this.stretchTop++] = isPart ? this.to : Number.POSITIVE_INFINITY;
  }

  /** Says that an input has a new value; whatever was computed from it is looked at again when it is next read. */
  write<S, K, V>(definition: MeasureDefinition<S, K, V>, key: K, value: V): void {
    if (this.reads >= sweepEvery) this.sweep();
    if (this.hasPlainPieces) this.isEdited = true;
    const cell = this.tables.cell(definition as AnyDefinition, key);
    const range =
      cell.verifiedAt === 0 ? everywhere : (definition.changed?.(cell.value as V, value, key) ?? everywhere);
    cell.value = value;
    cell.isInput = true;
    this.revision++;
    noteChange(cell, this.revision, range);
    cell.verifiedAt = this.revision;
  }

  /** Takes an input back: it has the value that its measure computes until it is written again. */
  clear<S, K, V>(subject: S, definition: MeasureDefinition<S, K, V>, key: K): void {
    if (this.hasPlainPieces) this.isEdited = true;
    const cell = this.tables.cell(definition as AnyDefinition, key);
    cell.value = definition.compute(subject, key);
    cell.isInput = false;
    cell.asked = none;
    this.revision++;
    noteChange(cell, this.revision, everywhere);
    cell.verifiedAt = this.revision;
  }

  /**
   * Forgets whatever nobody has asked for, even indirectly, since the sweep before: values of nodes and curves that
   * are gone. What a remembered value has asked for was looked at no earlier than that value itself, so nothing that
   * is kept leans on something forgotten.
   */
  private sweep(): void {
    this.tables.forget((cell) => {
      cell.askedBy = null;
      return !cell.isInput && cell.verifiedAt < this.sweptAt;
    });
    this.sweptAt = this.revision;
    this.reads = 0;
  }

  private refresh(subject: unknown, cell: Cell): void {
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
  private patched(subject: unknown, cell: Cell, patch: AnyPatch, anew: (() => unknown) | null): boolean {
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
    let [from, to] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
    const { asked, verifiedAt: since } = cell;
    for (let k = 0; k < asked.length; k++) {
      const other = asked[k];
      if (other.verifiedAt !== this.revision && !other.isInput) {
        try {
          this.refresh(subject, other);
        } catch {
          return null;
        }
      }
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
  private askedSince(base: number): readonly Cell[] {
    const count = this.top - base;
    this.top = base;
    if (count === 0) return none;
    const asked = new Array<Cell>(count);
    for (let k = 0; k < count; k++) asked[k] = this.waiting[base + k];
    return asked;
  }

  private anyAskedChanged(subject: unknown, cell: Cell): boolean {
    const { asked, stretches, verifiedAt: since } = cell;
    for (let k = 0; k < asked.length; k++) {
      const other = asked[k];
      if (other.verifiedAt !== this.revision && !other.isInput) {
        try {
          this.refresh(subject, other);
        } catch {
          // Whoever asked may have caught this before: it is computed again, and meets the error itself.
          return true;
        }
      }
      if (other.changedAt <= since) continue;
      if (stretches === null || hasChangedIn(other, since, stretches[2 * k], stretches[2 * k + 1]))
        return true;
    }
    return false;
  }
}

type AnyPatch = Patch<never, never, never>;

/** What a cell's measure gives. */
function computed(subject: unknown, { definition, key }: Cell): unknown {
  return definition.compute(subject as never, key as never);
}
