import type { Timers } from "../../../../packages/server/serve/feed/environment.ts";

/** Timers that go only when they are told to. */
export class HandTimers implements Timers {
  private clock = 0;
  private queue: (() => void)[] = [];

  now(): number {
    return this.clock;
  }

  soon(run: () => void): { cancel(): void } {
    this.queue.push(run);
    return {
      cancel: () => {
        this.queue = this.queue.filter((other) => other !== run);
      },
    };
  }

  after(_milliseconds: number, run: () => void): { cancel(): void } {
    return this.soon(run);
  }

  /** Lets time pass. */
  pass(milliseconds: number): void {
    this.clock += milliseconds;
  }

  /** Lets everything that waits have one turn; tells whether anything waited. */
  turn(): boolean {
    const { queue } = this;
    this.queue = [];
    for (const run of queue) run();
    return queue.length > 0;
  }

  /** Turns until nothing waits. */
  settle(): void {
    while (this.turn());
  }
}
