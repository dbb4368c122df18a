/** What a scene is, and what is recorded of how it was judged. */

export type Size = "barely" | "ordinary" | "strong";

/** What a supervisor would note. */
export interface Flaw {
  /** In the supervisor's words. */
  readonly what: string;
  /** The scene's own short word for it; `kinds.mjs` tells which checks may say it. */
  readonly kind: string;
  readonly size: Size;
  /** Nodes on which it shows, or whose keys cause it. */
  readonly nodes: readonly string[];
  readonly frames: readonly [number, number];
  /** 1 for what the supervisor would say first. */
  readonly order: number;
}

/** A shot that is written as a module. */
export interface Scene {
  readonly name: string;
  /** What happens. */
  readonly about: string;
  readonly flaws: readonly Flaw[];
  /** The shot that a supervisor would pass, as a document. */
  clean(): object;
  flawed(): object;
}

export type Half = "open" | "shut";

export interface SceneRecord {
  readonly name: string;
  readonly half: Half;
  readonly frames: number;
  readonly flaws: readonly { readonly kind: string; readonly size: Size; readonly isSaid: boolean }[];
  /** Notes on the clean scene: all of them are false. */
  readonly majors: number;
  readonly notes: number;
  /** Place, from 0, of the first note that says what the supervisor would say first; null where none does. */
  readonly firstSaidBy: number | null;
  /** Where none of the first two notes says it, but another does: it and what stands before it. */
  readonly late: readonly string[];
  /** Flaws that nobody said and notes on the clean scene, a line each. */
  readonly missed: readonly string[];
  readonly wrong: readonly string[];
}
