import type { Pending, Timers } from "./environment.ts";

/** Something that is computed again and again, in steps between which it can be given up. */
export interface Job {
  /** Whether all that has arrived for it has been taken in; it is neither begun nor finished before. */
  isSettled(): boolean;
  steps(): Generator<unknown, void>;
  /** The computation came to its end, and nothing newer has arrived. */
  done(): void;
  /** The computation threw; whatever was known before still stands. */
  failed(error: unknown): void;
}

/** Milliseconds of computing after which messages get their turn. */
const slice = 4;

/**
 * Runs jobs one after the other, in slices, so that messages can arrive in between. Asking for a job that waits folds
 * the two into one; asking for one that runs gives the run up and begins it anew.
 */
export class Scheduler {
  private readonly timers: Timers;
  private readonly queue = new Set<Job>();
  private active: {
    readonly job: Job;
    readonly steps: Generator<unknown, void>;
    isComputed: boolean;
  } | null = null;
  private armed: Pending | null = null;

  constructor(timers: Timers) {
    this.timers = timers;
  }

  request(job: Job): void {
    if (this.active?.job === job) this.giveUp();
    this.queue.add(job);
    this.arm();
  }

  /** Forgets a job, whether it waits or runs. */
  drop(job: Job): void {
    if (this.active?.job === job) this.giveUp();
    this.queue.delete(job);
  }

  dispose(): void {
    if (this.active !== null) this.giveUp();
    this.queue.clear();
    this.armed?.cancel();
    this.armed = null;
  }

  private giveUp(): void {
    this.active?.steps.return();
    this.active = null;
  }

  private arm(): void {
    if (this.armed !== null || (this.active === null && this.queue.size === 0)) return;
    this.armed = this.timers.soon(() => {
      this.armed = null;
      this.turn();
      this.arm();
    });
  }

  private turn(): void {
    const { active } = this;
    if (active === null) {
      this.begin();
      return;
    }
    if (!active.job.isSettled()) {
      this.giveUp();
      this.queue.add(active.job);
      return;
    }
    if (active.isComputed) {
      // Between computing and here, whatever was on its way had its turn to arrive.
      this.active = null;
      active.job.done();
      return;
    }
    this.step();
  }

  private begin(): void {
    for (const job of this.queue) {
      if (!job.isSettled()) continue;
      this.queue.delete(job);
      this.active = { job, steps: job.steps(), isComputed: false };
      this.step();
      return;
    }
  }

  private step(): void {
    const { active } = this;
    if (active === null) return;
    const until = this.timers.now() + slice;
    try {
      do {
        if (active.steps.next().done !== true) continue;
        active.isComputed = true;
        return;
      } while (this.timers.now() < until);
    } catch (error) {
      this.active = null;
      active.job.failed(error);
    }
  }
}
