import { Script } from "node:vm";

/** Work that was given up because its time was over. */
export class TimeIsOver extends Error {
  override readonly name = "TimeIsOver";
}

/** Work that the user has stopped. */
export class WasStopped extends Error {
  override readonly name = "WasStopped";
}

export interface GuardOptions {
  /** Seconds that all the work of the guard may take together. */
  readonly seconds: number;
  /** Whether Ctrl-C ends the work alone, as {@link WasStopped}, and not the program. */
  readonly catchesStop: boolean;
}

/** Does work that can be ended from outside, however long it would have gone on by itself. */
export type Guard = <T>(work: () => T) => T;

const slot = Symbol.for("keyside.guarded");
const held = globalThis as { [slot]?: () => unknown };
const script = new Script(`globalThis[Symbol.for("keyside.guarded")]()`);

/** The longest time that the engine takes, in milliseconds. */
const longest = 2 ** 31 - 1;

/**
 * A guard in this thread. The engine itself ends the work, in the middle of whatever loop it is; what it has begun to
 * change may be left half changed, and is to be thrown away. Starting a thread for a single shot would cost more than
 * judging it (a fifth of a second, for loading everything twice).
 */
export function guardOf({ seconds, catchesStop }: GuardOptions): Guard {
  let left = seconds * 1000;
  return (work) => {
    const start = performance.now();
    const timeout = Math.max(1, Math.min(longest, Math.ceil(left)));
    let result: ReturnType<typeof work>;
    held[slot] = () => {
      result = work();
    };
    const undo = catchesStop ? dieOfTermination() : () => {};
    try {
      script.runInThisContext({ timeout, breakOnSigint: catchesStop });
      return result!;
    } catch (error) {
      const { code } = error as { code?: unknown };
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
