import type { Budget } from "../../base/budget.ts";
import type { Files } from "../../base/files/read.ts";
import type { Guard } from "../../base/guard.ts";
import type { ResultCache } from "./cache.ts";

/** With what one shot after the other is judged in a thread. */
export interface JudgeContext {
  readonly files: Files;
  readonly cache: ResultCache | null;
  readonly budget?: Budget | undefined;
  /** Ends what takes too long; left out in a thread that is ended from outside. */
  readonly guard?: Guard | undefined;
  /** Says that the user has asked to stop, where that is noticed between two turns of the thread. */
  readonly signal?: AbortSignal | undefined;
  /** Whether only such shots are judged whose memory needs no watching; others are {@link TooHeavyHere}. */
  readonly lightOnly?: boolean | undefined;
}

/** A shot that is to be judged in a thread whose memory is watched. */
export class TooHeavyHere extends Error {
  override readonly name = "TooHeavyHere";
}
