/** What a memo knows of one value: how it is computed, what it is, when it last changed, what it has asked for. */

/** First and last place of a value that a change reaches, in the unit of its measure. */
export type Stretch = readonly [from: number, to: number];

/** What a kept piece of work can hang on besides measures, by value. */
export type Seen = number | string | ArrayLike<number>;

/** A stretch that holds all there is. */
export const everywhere: Stretch = [Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY];

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
  /** Whether a kept piece of work that looks at a stretch of samples reads nothing but those of it. */
  readonly isSeries?: boolean | undefined;
  /**
   * Brings a value up to date in place, where all that it was computed from has changed between two samples alone (both
   * included). It must come out as `compute` would give it, to the last bit.
   * @returns where the value has changed, null where it is alike; undefined where it cannot, the value untouched
   */
  readonly patch?: Patch<S, K, V> | undefined;
  /** Where memos keep its values; given to it when it is first asked for. A number costs less to look up than an object. */
  slot?: number | undefined;
}

export type Patch<S, K, V> = (
  subject: S,
  key: K,
  value: V,
  from: number,
  to: number,
) => Stretch | null | undefined;

export type AnyDefinition = MeasureDefinition<never, never, unknown>;

export interface Cell {
  readonly definition: AnyDefinition;
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
  /** Whether it is a kept piece of another cell's work, and whether that looks at a stretch of samples alone. */
  isPiece: boolean;
  looksAtPart: boolean;
  /** Of a measure that tells where it changes: revision, first and last place of each change, the last one at the end. */
  changes: number[] | null;
  /** Of a piece that looks at a part: the stretch of each cell in `asked` that it looks at, two numbers each. */
  stretches: Float64Array | null;
  /** Of a piece: what it hangs on besides. */
  sees: readonly Seen[];
  /** Pieces of its work, by name: those of its last computation, and of the one that is under way. */
  pieces: Map<string, Cell> | null;
  newPieces: Map<string, Cell> | null;
}

/** What a cell has asked for before it is computed. */
export const none: readonly never[] = [];

export function newCell(definition: AnyDefinition, key: unknown): Cell {
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
    looksAtPart: false,
    changes: null,
    stretches: null,
    sees: none,
    pieces: null,
    newPieces: null,
  };
}

/** What all kept pieces of work are cells of. */
const pieces: AnyDefinition = { name: "piece", compute: () => undefined };

/** A piece of another cell's work, with what it hangs on. */
export function newPiece(name: string, sees: readonly Seen[]): Cell {
  const cell = newCell(pieces, name);
  cell.isPiece = true;
  cell.sees = sees.map(ownSeen);
  return cell;
}

/** Where a value that was computed again differs from the one before; null where it is alike. */
export function changeOf(cell: Cell, value: unknown): Stretch | null {
  const { changed, same } = cell.definition;
  if (changed !== undefined) return changed(cell.value as never, value as never, cell.key as never);
  return ((same as typeof Object.is | undefined) ?? Object.is)(cell.value, value) ? null : everywhere;
}

/**
 * Where a value that was computed anew differs from one that shares series with others which are written to in place: they
 * cannot be compared any more.
 */
export function anyChange(before: unknown, after: unknown): Stretch | null {
  return Object.is(before, after) && (typeof after !== "object" || after === null) ? null : everywhere;
}

/** So many changes of a cell are told apart. */
const mostChanges = 8;

/** Writes down that a cell has another value since a revision, and in which stretch of it. */
export function noteChange(cell: Cell, revision: number, [from, to]: Stretch): void {
  const isFirst = cell.changedAt === 0;
  cell.changedAt = revision;
  // Before it has a value nobody hangs on it, and most values never change.
  if (isFirst || cell.definition.changed === undefined) return;
  cell.changes ??= [];
  const { changes } = cell;
  changes.push(revision, from, to);
  if (changes.length <= 3 * mostChanges) return;
  // The two oldest become one, which counts as made when the later one was.
  changes[4] = Math.min(changes[1], changes[4]);
  changes[5] = Math.max(changes[2], changes[5]);
  changes.copyWithin(0, 3);
  changes.length -= 3;
}

/** Whether a cell has changed in a stretch after some revision. */
export function hasChangedIn({ changes }: Cell, since: number, from: number, to: number): boolean {
  if (changes === null) return true;
  for (let at = changes.length - 3; at >= 0 && changes[at] > since; at -= 3)
    if (changes[at + 1] <= to && changes[at + 2] >= from) return true;
  return false;
}

/** The samples in which a cell has changed after some revision; null where it does not tell, or not by samples. */
export function changedSince({ definition, changes }: Cell, since: number): Stretch | null {
  if (changes === null || definition.isBySample !== true) return null;
  let from = Number.POSITIVE_INFINITY;
  let to = Number.NEGATIVE_INFINITY;
  for (let at = changes.length - 3; at >= 0 && changes[at] > since; at -= 3) {
    from = Math.min(from, changes[at + 1]);
    to = Math.max(to, changes[at + 2]);
  }
  return [from, to];
}

export function sameSeen(before: readonly Seen[], after: readonly Seen[]): boolean {
  if (before.length !== after.length) return false;
  for (let k = 0; k < before.length; k++) {
    const a = before[k];
    const b = after[k];
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
