/** After reads at so many revisions, what has fallen out of use is forgotten. */
const sweepEvery = 64;

/**
 * Demand-driven computation that is remembered, and computed again only where an input changed.
 *
 * A measure asks for other measures while it computes; the memo writes down what it asked for. After an input
 * changes, a value is computed again only if something that it asked for really changed: a measure that comes out
 * the same as before stops the wave there. A shot that is edited therefore gives, by construction, what a fresh
 * computation gives: there is one code path.
 */
export class Memo {
  /** Counts edits. A cell verified at the current revision is up to date. */
  revision = 1;
  /** By the measures' slots; empty where none of a measure's values is known. */
  private readonly tables: (Table | undefined)[] = [];
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
  /** Counts what was computed, kept pieces apart: what tests look at. */
  readonly work = { cells: 0, pieces: 0, keptPieces: 0 };
  /** Called with what was kept and with what computing it now gives; for tests, which see that they are equal. */
  audit: ((kept: unknown, now: unknown) => void) | null = null;
  /** Revision of the last read from outside, and at how many revisions there was one since the last sweep. */
  private readAt = 0;
  private reads = 0;
  private sweptAt = 0;

  /** How many values are remembered, inputs included. */
  get size(): number {
    let size = 0;
    for (const table of this.tables)
      if (table !== undefined) size += table.byNumber.filter(isCell).length + table.byName.size;
    return size;
  }

  /** Value of a measure for a key, computed if it has to be. */
  read<S, K, V>(subject: S, definition: MeasureDefinition<S, K, V>, key: K): V {
    const cell = this.cell(definition as MeasureDefinition<never, never, unknown>, key);
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
      if (active.isPiece)
        this.noteStretch(definition.changed !== undefined && definition.isBySample === true);
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
    if (active === null || !active.isPiece || definition.changed === undefined)
      return this.read(subject, definition, key);
    const cell = this.cell(definition as MeasureDefinition<never, never, unknown>, key);
    this.stretches[this.stretchTop++] = from;
    this.stretches[this.stretchTop++] = to;
    this.waiting[this.top++] = cell;
    if (cell.verifiedAt !== this.revision) this.refresh(subject, cell);
    return cell.value as V;
  }

  /**
   * A piece of a measure's work that is kept apart, by the measure's key and a name of its own: it is done again only
   * where something that it asked for has changed within the samples that it looks at. Of a measure that tells which
   * samples have changed (`isBySample`) a piece must look at no others, and `sees` must hold all else that it hangs on.
   * Outside of any measure it is simply done.
   * @param name tells a measure's pieces apart
   * @param from first and last sample that is looked at, both included
   * @param sees numbers, texts and arrays of numbers, by value
   */
  keep<S, V>(subject: S, name: string, from: number, to: number, sees: readonly Seen[], compute: () => V): V {
    const owner = this.active;
    if (owner === null) return compute();
    let cell = owner.pieces?.get(name);
    if (cell !== undefined && cell.verifiedAt !== 0 && sameSeen(cell.sees, sees)) {
      if (cell.verifiedAt === this.revision || !this.anyAskedChanged(subject, cell)) {
        cell.verifiedAt = this.revision;
        this.work.keptPieces++;
        this.askFor(owner, cell);
        if (this.audit !== null)
          this.audit(cell.value, this.runPiece(newCell(pieces, name), from, to, compute));
        return cell.value as V;
      }
    }
    cell = newCell(pieces, name);
    cell.isPiece = true;
    cell.sees = sees.map(ownSeen);
    cell.value = this.runPiece(cell, from, to, compute);
    cell.changedAt = this.revision;
    cell.verifiedAt = this.revision;
    this.work.pieces++;
    this.askFor(owner, cell);
    return cell.value as V;
  }

  /** Lets the measure that is being computed hang on a piece of it. */
  private askFor(owner: Cell, piece: Cell): void {
    if (owner.isPiece) this.noteStretch(false);
    this.waiting[this.top++] = piece;
    owner.newPieces ??= new Map();
    owner.newPieces.set(piece.key as string, piece);
  }

  private runPiece<V>(cell: Cell, from: number, to: number, compute: () => V): V {
    const { active: owner, from: outerFrom, to: outerTo } = this;
    const [base, stretchBase] = [this.top, this.stretchTop];
    cell.isPiece = true;
    cell.run++;
    this.active = cell;
    this.from = from;
    this.to = to;
    try {
      return compute();
    } finally {
      cell.stretches = Float64Array.from(this.stretches.slice(stretchBase, this.stretchTop));
      this.stretchTop = stretchBase;
      cell.asked = this.askedSince(base);
      this.active = owner;
      this.from = outerFrom;
      this.to = outerTo;
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
    const cell = this.cell(definition as MeasureDefinition<never, never, unknown>, key);
    const range =
      cell.verifiedAt === 0 ? everywhere : (definition.changed?.(cell.value as V, value, key) ?? everywhere);
    cell.value = value;
    cell.isInput = true;
    this.revision++;
    this.markChanged(cell, range);
    cell.verifiedAt = this.revision;
  }

  /** Takes an input back: it has the value that its measure computes until it is written again. */
  clear<S, K, V>(subject: S, definition: MeasureDefinition<S, K, V>, key: K): void {
    const cell = this.cell(definition as MeasureDefinition<never, never, unknown>, key);
    cell.value = definition.compute(subject, key);
    cell.isInput = false;
    cell.asked = none;
    this.revision++;
    this.markChanged(cell, everywhere);
    cell.verifiedAt = this.revision;
  }

  /**
   * Forgets whatever nobody has asked for, even indirectly, since the sweep before: values of nodes and curves that
   * are gone. What a remembered value has asked for was looked at no earlier than that value itself, so nothing that
   * is kept leans on something forgotten.
   */
  private sweep(): void {
    const isGone = (cell: Cell) => {
      cell.askedBy = null;
      return !cell.isInput && cell.verifiedAt < this.sweptAt;
    };
    for (const table of this.tables) {
      if (table === undefined) continue;
      const { byNumber, byName } = table;
      for (let slot = 0; slot < byNumber.length; slot++) {
        const cell = byNumber[slot];
        if (cell !== undefined && isGone(cell)) byNumber[slot] = undefined;
      }
      for (const [key, cell] of byName) if (isGone(cell)) (byName as Map<unknown, Cell>).delete(key);
    }
    this.sweptAt = this.revision;
    this.reads = 0;
  }

  private cell(definition: MeasureDefinition<never, never, unknown>, key: unknown): Cell {
    const table = this.tables[definition.slot ?? -1] ?? this.newTable(definition);
    // Most keys are indices of nodes, figures and curves, from -1 on, or there is none, as for measures of the whole
    // shot: a slot of an array costs less than a hash.
    const slot = typeof key === "number" ? key + 2 : key === undefined ? 0 : -1;
    if (slot >= 0) {
      const { byNumber } = table;
      const known = byNumber[slot];
      if (known !== undefined) return known;
      const cell = newCell(definition, key);
      while (byNumber.length <= slot) byNumber.push(undefined);
      byNumber[slot] = cell;
      return cell;
    }
    const cell = table.byName.get(key);
    if (cell !== undefined) return cell;
    const made = newCell(definition, key);
    // Few measures have names for keys: the others do without a map.
    if (table.byName === noNames) table.byName = new Map();
    (table.byName as Map<unknown, Cell>).set(key, made);
    return made;
  }

  private newTable(definition: MeasureDefinition<never, never, unknown>): Table {
    const slot = definition.slot ?? slots++;
    definition.slot = slot;
    const table: Table = { byNumber: [], byName: noNames };
    while (this.tables.length <= slot) this.tables.push(undefined);
    this.tables[slot] = table;
    return table;
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
      cell.verifiedAt = 0;
      cell.changedAt = this.revision;
      return;
    }
    const outer = this.active;
    const base = this.top;
    this.active = cell;
    cell.busy = true;
    cell.run++;
    cell.newPieces = null;
    this.work.cells++;
    try {
      const value = cell.definition.compute(subject as never, cell.key as never);
      const range = cell.verifiedAt === 0 ? everywhere : changeOf(cell, value);
      if (range !== null) {
        cell.value = value;
        this.markChanged(cell, range);
      }
      cell.verifiedAt = this.revision;
      cell.pieces = cell.newPieces;
    } finally {
      cell.busy = false;
      cell.newPieces = null;
      cell.asked = this.askedSince(base);
      this.active = outer;
    }
  }

  /** Says that a cell has another value, and in which stretch of it. */
  private markChanged(cell: Cell, range: Stretch): void {
    cell.changedAt = this.revision;
    if (cell.definition.changed === undefined) return;
    cell.changes ??= [];
    const { changes } = cell;
    changes.push(this.revision, range[0], range[1]);
    if (changes.length <= 3 * mostChanges) return;
    // The two oldest become one, which counts as made when the later one was.
    changes[4] = Math.min(changes[1], changes[4]);
    changes[5] = Math.max(changes[2], changes[5]);
    changes.splice(0, 3);
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

/** First and last place of a value that a change reaches, in the unit of its measure. */
export type Stretch = readonly [from: number, to: number];

/** What a kept piece of work can hang on besides measures, by value. */
export type Seen = number | string | ArrayLike<number>;

const everywhere: Stretch = [Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY];
/** So many changes of a cell are told apart. */
const mostChanges = 8;

/** Where a value that was computed again differs from the one before; null where it is alike. */
function changeOf(cell: Cell, value: unknown): Stretch | null {
  const { changed, same } = cell.definition;
  if (changed !== undefined) return changed(cell.value, value, cell.key as never);
  return (same ?? Object.is)(cell.value, value) ? null : everywhere;
}

/** Whether a cell has changed in a stretch after some revision. */
function hasChangedIn({ changes }: Cell, since: number, from: number, to: number): boolean {
  if (changes === null) return true;
  for (let at = changes.length - 3; at >= 0 && changes[at] > since; at -= 3)
    if (changes[at + 1] <= to && changes[at + 2] >= from) return true;
  return false;
}

function sameSeen(before: readonly Seen[], after: readonly Seen[]): boolean {
  if (before.length !== after.length) return false;
  for (let k = 0; k < before.length; k++) {
    const [a, b] = [before[k], after[k]];
    if (typeof a === "object" && typeof b === "object") {
      if (a.length !== b.length) return false;
      for (let i = 0; i < a.length; i++) if (!Object.is(a[i], b[i])) return false;
    } else if (!Object.is(a, b)) return false;
  }
  return true;
}

/** A copy that keeps no larger array alive. */
function ownSeen(seen: Seen): Seen {
  return typeof seen === "object" ? Float64Array.from(seen) : seen;
}

export interface MeasureDefinition<S, K, V> {
  readonly name: string;
  readonly compute: (subject: S, key: K) => V;
  /** Whether two values are alike, so that nothing that was computed from the first has to be computed again. */
  readonly same?: ((before: V, after: V) => boolean) | undefined;
  /**
   * In place of {@link same}: the stretch in which two values differ, both ends included; null where they are alike. It may
   * be longer than it is, never shorter.
   */
  readonly changed?: ((before: V, after: V, key: K) => Stretch | null) | undefined;
  /** Whether `changed` counts samples of the grid. */
  readonly isBySample?: boolean | undefined;
  /** Where memos keep its values; given to it when it is first asked for. A number costs less to look up than an object. */
  slot?: number | undefined;
}

/** How many measures have a slot. */
let slots = 0;

/** The cells of one measure: under no key and under numbers from -1 on, and under all other keys. */
interface Table {
  readonly byNumber: (Cell | undefined)[];
  byName: ReadonlyMap<unknown, Cell>;
}

const noNames: ReadonlyMap<unknown, Cell> = new Map();

function isCell(cell: Cell | undefined): boolean {
  return cell !== undefined;
}

function newCell(definition: MeasureDefinition<never, never, unknown>, key: unknown): Cell {
  return {
    definition,
    key,
    value: undefined,
    changedAt: 0,
    verifiedAt: 0,
    asked: none,
    isInput: false,
    busy: false,
    run: 0,
    askedBy: null,
    askedInRun: 0,
    isPiece: false,
    changes: null,
    stretches: null,
    sees: none,
    pieces: null,
    newPieces: null,
  };
}

/** What all kept pieces of work are cells of. */
const pieces: MeasureDefinition<never, never, unknown> = { name: "piece", compute: () => undefined };

/** What a cell has asked for before it is computed. */
const none: readonly never[] = [];

interface Cell {
  readonly definition: MeasureDefinition<never, never, unknown>;
  readonly key: unknown;
  value: unknown;
  changedAt: number;
  verifiedAt: number;
  asked: readonly Cell[];
  isInput: boolean;
  busy: boolean;
  /** Counts computations of the cell. */
  run: number;
  /** The cell that asked for this one last, and in which of its computations. */
  askedBy: Cell | null;
  askedInRun: number;
  /** Whether it is a kept piece of another cell's work. */
  isPiece: boolean;
  /** Of a measure that tells where it changes: revision, first and last place of each change, the last one at the end. */
  changes: number[] | null;
  /** Of a piece: the stretch of each cell in `asked` that it looks at, two numbers each. */
  stretches: Float64Array | null;
  /** Of a piece: what it hangs on besides. */
  sees: readonly Seen[];
  /** Pieces of its work, by name: those of its last computation, and of the one that is under way. */
  pieces: Map<string, Cell> | null;
  newPieces: Map<string, Cell> | null;
}
