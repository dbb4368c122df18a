import { type AnyDefinition, type Cell, newCell } from "./memo-cell.ts";

/** How many measures have a slot. */
let slots = 0;

/** The cells of one measure: under no key and under numbers from -1 on, and under all other keys. */
interface Table {
  readonly byNumber: (Cell | undefined)[];
  byName: ReadonlyMap<unknown, Cell>;
}

const noNames: ReadonlyMap<unknown, Cell> = new Map();

/** The cells of a memo, by measure and key. */
export class MemoTables {
  /** By the measures' slots; empty where none of a measure's values is known. */
  private readonly tables: (Table | undefined)[] = [];

  /** How many cells there are. */
  get size(): number {
    let size = 0;
    for (const _ of this.cells()) size++;
    return size;
  }

  /** All cells, in no order that means anything. */
  *cells(): Generator<Cell> {
    for (const table of this.tables) {
      if (table === undefined) continue;
      for (const cell of table.byNumber) if (cell !== undefined) yield cell;
      yield* table.byName.values();
    }
  }

  /** The cell of a measure for a key; made where there is none. */
  cell(definition: AnyDefinition, key: unknown): Cell {
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

  /** Forgets cells. */
  forget(isGone: (cell: Cell) => boolean): void {
    for (const table of this.tables) {
      if (table === undefined) continue;
      const { byNumber, byName } = table;
      for (let slot = 0; slot < byNumber.length; slot++) {
        const cell = byNumber[slot];
        if (cell !== undefined && isGone(cell)) byNumber[slot] = undefined;
      }
      for (const [key, cell] of byName) if (isGone(cell)) (byName as Map<unknown, Cell>).delete(key);
    }
  }

  private newTable(definition: AnyDefinition): Table {
    const slot = definition.slot ?? slots++;
    definition.slot = slot;
    const table: Table = { byNumber: [], byName: noNames };
    while (this.tables.length <= slot) this.tables.push(undefined);
    this.tables[slot] = table;
    return table;
  }
}
