import { totalmem } from "node:os";
import { getHeapStatistics } from "node:v8";
import { type Budget, defaultBudget } from "./budget.ts";
import { bytesText } from "./size.ts";

/** What one shot may take. */
export interface Limits {
  /** Seconds. */
  readonly time: number;
  /** Bytes of memory that the program may take. */
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
  return Math.min(4_000_000_000, Math.floor(0.6 * roomOfMachine()));
}

/** Bytes that the machine has, or the container that the program runs in. */
export function roomOfMachine(): number {
  // 0 or an absurd number where no bound is set.
  const bound = process.constrainedMemory?.() ?? 0;
  return bound > 0 && bound < totalmem() ? bound : totalmem();
}

/** A run that may take more memory than the engine gives this program: it is to be started anew with more. */
export class NeedsRoom extends Error {
  override readonly name = "NeedsRoom";
  /** Bytes that the program may take. */
  readonly memory: number;

  constructor(memory: number) {
    super("NeedsRoom");
    this.memory = memory;
  }
}

/** Of what the engine may take, this share is told to end work: what grows between two looks must find room. */
const usable = 0.8;

/** Bytes that the main thread may take at most: where its objects have no more room, the engine ends the program. */
export function memoryHere(): number {
  return Math.floor(usable * getHeapStatistics().heap_size_limit);
}

/** Megabytes of room for objects with which {@link memoryHere} is at least so many bytes. */
export function roomFor(memory: number): number {
  return Math.ceil(memory / usable / 2 ** 20) + 1;
}

/** Why a shot was given up whose time was over. */
export function tookTooLong(seconds: number): string {
  return `Checking it took longer than ${seconds} s and was given up; --time-limit gives it more.`;
}

/** Why a shot was given up that filled the memory. */
export function tookTooMuch(bytes: number): string {
  return `Checking it took more than ${bytesText(bytes)} of memory and was given up; split the shot, or --memory-limit gives it more.`;
}
