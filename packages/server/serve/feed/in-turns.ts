import type { Timers } from "./environment.ts";

/** Milliseconds of computing after which messages get their turn. */
const slice = 8;

/**
 * Runs a computation in steps to its end, giving messages that have arrived their turn in between.
 * @param check throws where nobody waits for the outcome any more; the computation is given up then
 */
export async function inTurns<T>(
  steps: Generator<unknown, T>,
  timers: Timers,
  check: () => void,
): Promise<T> {
  try {
    for (;;) {
      check();
      const until = timers.now() + slice;
      do {
        const { done, value } = steps.next();
        if (done === true) return value;
      } while (timers.now() < until);
      await new Promise<void>((resolve) => timers.soon(resolve));
    }
  } finally {
    steps.return?.(undefined as never);
  }
}
