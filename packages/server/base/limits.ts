import { totalmem } from "node:os";
import { type Budget, defaultBudget } from "./budget.ts";
import { bytesText } from "./size.ts";

/** What one shot may take. */
export interface Limits {
  /** Seconds. */
  readonly time: number;
  /** Bytes of memory beside what the program itself takes. */
  readonly memory: number;
  readonly budget: Budget;
}

/** Seconds that one shot may take; common practice: far above what a long shot with many figures takes. */
const defaultTime = 60;

/** Limits where nothing else is chosen. */
export function defaultLimits(): Limits {
  return { time: defaultTime, memory: defaultMemory(), budget: defaultBudget };
}

/** 4 GB, or 6 tenths of what the machine, or the container, has: what is left over keeps it alive. */
function defaultMemory(): number {
  // 0 or an absurd number where no bound is set.
  const bound = process.constrainedMemory?.() ?? 0;
  const has = bound > 0 && bound < totalmem() ? bound : totalmem();
  return Math.min(4_000_000_000, Math.floor(0.6 * has));
}

/** Why a shot was given up whose time was over. */
export function tookTooLong(seconds: number): string {
  return `Checking it took longer than ${seconds} s and was given up; --time-limit gives it more.`;
}

/** Why a shot was given up that filled the memory. */
export function tookTooMuch(bytes: number): string {
  return `Checking it took more than ${bytesText(bytes)} of memory and was given up; split the shot, or --memory-limit gives it more.`;
}
