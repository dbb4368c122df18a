import type { Finding } from "../../check.ts";

/** With numbers in working units. */
export interface TwinningFinding extends Finding {
  /** Names of the figures that act together; left out where the arms of one figure do. */
  readonly figures?: readonly string[];
  readonly numbers: {
    readonly correlation: number;
    readonly offset: number;
    readonly pose: number;
  };
}
