import {
  type AnyDefinition,
  type Cell,
  everywhere,
  type MeasureDefinition,
  newPiece,
  none,
  noteChange,
  type Seen,
  type Stretch,
  sameSeen,
} from "./memo-cell.ts";
import { type AnyPatch, MemoValues } from "./memo-values.ts";

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
export class Memo extends MemoValues {
  /** Whether pieces were done without being written down, and whether there was an edit since. */
  private hasPlainPieces = false;
  private isEdited = false;
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

  /**
   * Whether {@link keep} would write a piece down: who asks beforehand makes no name for it, and no list of what it sees,
   * where it would simply be done.
   */
  keepsPieces(): boolean {
    return this.active !== null && !this.isPlain(this.active);
  }

  /** Whether what is asked for is written down by the samples that are looked at: within a piece that looks at some. */
  looksAtPart(): boolean {
    return this.active?.looksAtPart === true;
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
}
