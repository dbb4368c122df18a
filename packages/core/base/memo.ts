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
      this.waiting[this.top++] = cell;
    }
    if (cell.verifiedAt !== revision) this.refresh(subject, cell);
    return cell.value as V;
  }

  /** Says that an input has a new value; whatever was computed from it is looked at again when it is next read. */
  write<S, K, V>(definition: MeasureDefinition<S, K, V>, key: K, value: V): void {
    if (this.reads >= sweepEvery) this.sweep();
    const cell = this.cell(definition as MeasureDefinition<never, never, unknown>, key);
    cell.value = value;
    cell.isInput = true;
    cell.changedAt = ++this.revision;
    cell.verifiedAt = this.revision;
  }

  /** Takes an input back: it has the value that its measure computes until it is written again. */
  clear<S, K, V>(subject: S, definition: MeasureDefinition<S, K, V>, key: K): void {
    const cell = this.cell(definition as MeasureDefinition<never, never, unknown>, key);
    cell.value = definition.compute(subject, key);
    cell.isInput = false;
    cell.asked = none;
    cell.changedAt = ++this.revision;
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
    const outer = this.active;
    const base = this.top;
    this.active = cell;
    cell.busy = true;
    cell.run++;
    try {
      const value = cell.definition.compute(subject as never, cell.key as never);
      const isFirst = cell.verifiedAt === 0;
      if (isFirst || !(cell.definition.same ?? Object.is)(cell.value, value)) {
        cell.value = value;
        cell.changedAt = this.revision;
      }
      cell.verifiedAt = this.revision;
    } finally {
      cell.busy = false;
      cell.asked = this.askedSince(base);
      this.active = outer;
    }
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
    const since = cell.verifiedAt;
    for (const asked of cell.asked) {
      try {
        this.refresh(subject, asked);
      } catch {
        // Whoever asked may have caught this before: it is computed again, and meets the error itself.
        return true;
      }
      if (asked.changedAt > since) return true;
    }
    return false;
  }
}

export interface MeasureDefinition<S, K, V> {
  readonly name: string;
  readonly compute: (subject: S, key: K) => V;
  /** Whether two values are alike, so that nothing that was computed from the first has to be computed again. */
  readonly same?: ((before: V, after: V) => boolean) | undefined;
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
  };
}

/** What a cell has asked for before it is computed. */
const none: readonly Cell[] = [];

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
}
