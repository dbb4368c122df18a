import type { Unit } from "./quantity.ts";

/** A number that was measured. */
export interface Measured {
  /** What was measured, in words, for example "deviation from the path". */
  readonly quantity: string;
  readonly value: number;
  readonly unit: Unit;
}

/** What the number should have been, in the same unit. */
export interface Expected {
  readonly min?: number;
  readonly max?: number;
  readonly unit: Unit;
  readonly source: string;
}

/** A series behind a note, for plots: one number per judged frame. */
export interface Evidence {
  readonly label: string;
  readonly unit: Unit;
  /** Frame of the first value, in the document's numbering, and frames from one value to the next. */
  readonly firstFrame: number;
  readonly step: number;
  readonly values: readonly number[];
}
