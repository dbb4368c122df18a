/** Something wrong in a review file; what it speaks of is kept and written back. */
export interface ReviewProblem {
  /** Counted from 1; null where it is about no place in the text. */
  readonly line: number | null;
  /** What is wrong, what becomes of it and what to do: a sentence or two. */
  readonly message: string;
  /** Id of the entry that it is about, null where it is about none. */
  readonly id: string | null;
}

/** A value that stands where an entry is due, and its line. */
export interface FoundEntry {
  readonly value: unknown;
  line(): number;
}
