import { Script } from "node:vm";
import { isMainThread } from "node:worker_threads";
import { endedForMemory, withinMemory } from "./memory-watch.ts";

/** Work that was given up because its time was over. */
export class TimeIsOver extends Error {
  override readonly name = "TimeIsOver";
}

/** Work that was given up because it filled the memory. */
export class MemoryIsFull extends Error {
  override readonly name = "MemoryIsFull";
}

/** Work that the user has stopped. */
export class WasStopped extends Error {
  override readonly name = "WasStopped";
}

export interface GuardOptions {
  /** Seconds that all the work of the guard may take together. */
  readonly seconds: number;
  /** Bytes that the program may take while it works; watched in the main thread alone, and not if left out. */
  readonly memory?: number | undefined;
  /** Whether Ctrl-C ends the work alone, as {@link WasStopped}, and not the program. Watching memory implies it. */
  readonly catchesStop: boolean;
}

/** Whether an error tells that work was ended from outside, rather than what came of it. */
export function wasEnded(error: unknown): boolean {
  return error instanceof TimeIsOver || error instanceof MemoryIsFull || error instanceof WasStopped;
}

/** Does work that can be ended from outside, however long it would have gone on by itself. */
export type Guard = <T>(work: () => T) => T;

const slot = Symbol.for("keyside.guarded");
const held = globalThis as { [slot]?: () => unknown };
const script = new Script(`globalThis[Symbol.for("keyside.guarded")]()`);
const waiting = new Script("for (;;);");

/** The longest time that the engine takes, in milliseconds. */
const longest = 2 ** 31 - 1;

/**
 * A guard in this thread. The engine itself ends the work, in the middle of whatever loop it is; what it has begun to
 * change may be left half changed, and is to be thrown away. Starting a thread for a single shot would cost more than
 * judging it (a fifth of a second, for loading everything twice).
 */
export function guardOf({ seconds, memory, catchesStop }: GuardOptions): Guard {
  let left = seconds * 1000;
  const isWatched = memory !== undefined && isMainThread;
  const breakOnSigint = catchesStop || isWatched;
  return (work) => {
    // What is guarded already ends with what it is a part of.
    if (held[slot] !== undefined) return work();
    const start = performance.now();
    const timeout = Math.max(1, Math.min(longest, Math.ceil(left)));
    let result: ReturnType<typeof work>;
    const toResult = () => {
      result = work();
    };
    held[slot] = isWatched ? () => withinMemory(memory, toResult) : toResult;
    const undo = breakOnSigint ? dieOfTermination() : () => {};
    try {
      script.runInThisContext({ timeout, breakOnSigint });
      return result!;
    } catch (error) {
      const { code } = error as { code?: unknown };
      const isEnded = code === "ERR_SCRIPT_EXECUTION_TIMEOUT" || code === "ERR_SCRIPT_EXECUTION_INTERRUPTED";
      const isFull = isEnded && isWatched && endedForMemory();
      if (isFull && code === "ERR_SCRIPT_EXECUTION_TIMEOUT") takeSignal();
      if (isFull) throw new MemoryIsFull();
      if (code === "ERR_SCRIPT_EXECUTION_TIMEOUT") throw new TimeIsOver();
      if (code === "ERR_SCRIPT_EXECUTION_INTERRUPTED") throw new WasStopped();
      throw error;
    } finally {
      undo();
      delete held[slot];
      left -= performance.now() - start;
    }
  };
}

/** Both ended it: the signal may still be on its way, and would end the program. */
function takeSignal(): void {
  try {
    waiting.runInThisContext({ breakOnSigint: true, timeout: 500 });
  } catch {
    // It has come.
  }
}

/**
 * Lets a request to stop arrive that came while this thread was busy outside of a guard: the engine would not see it,
 * and a guard that begins takes it from whoever waits for it. To be called right before each guard, and before work
 * that takes long.
 * @throws WasStopped
 */
export async function unlessStopped(signal: AbortSignal | undefined): Promise<void> {
  if (signal === undefined) return;
  // The first turn may end the round of events in which the signal came: it is heard in the next round.
  for (let turn = 0; turn < 2; turn++) await new Promise((resolve) => setImmediate(resolve));
  if (signal.aborted) throw new WasStopped();
}

/** No guard: for work whose thread is ended from outside. */
export const unguarded: Guard = (work) => work();

/** Whoever waits for SIGTERM cannot be told of it while work goes on: it ends the program then, as it does of itself. */
function dieOfTermination(): () => void {
  const listeners = process.listeners("SIGTERM");
  for (const listener of listeners) process.off("SIGTERM", listener);
  return () => {
    for (const listener of listeners) process.on("SIGTERM", listener);
  };
}
