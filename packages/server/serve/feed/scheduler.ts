import type { Pending, Timers } from "./environment.ts";

/** Something that is computed again and again, in steps between which it can be given up. */
export interface Job {
  /**
   * Whether a run, once begun, is brought to its end and told, whatever arrives meanwhile; the next run takes that up.
   * Otherwise the run is given up, and nothing is told that is not of the newest.
   */
  readonly runsToEnd?: boolean;
  /**
   * Whether all that has arrived for it has been taken in. A run does not begin before; one that is not to be finished
   * whatever arrives does not end before.
   */
  isSettled(): boolean;
  steps(): Generator<unknown, void>;
  /** The computation came to its end; unless it is finished whatever arrives, nothing newer has arrived. */
  done(): void;
  /** The computation threw; whatever was known before still stands. */
  failed(error: unknown): void;
}

/** Milliseconds of computing after which messages get their turn. */
const slice = 4;

/**
 * Milliseconds after which a job that is to be finished begins although what has arrived for it has not all been taken
 * in: half of the 100 within which its notes are to be told.
 */
const longestWait = 50;

/**
 * Runs jobs one after the other, in slices, so that messages can arrive in between. Asking for a job that waits folds
 * the two into one; asking for one that runs gives the run up and begins it anew, or, where the job's runs are to be
 * finished, begins it anew once it has ended.
 */
export class Scheduler {
  private readonly timers: Timers;
  /** The jobs that wait, in their order, and since when. */
  private readonly queue = new Map<Job, number>();
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
    if (this.active?.job === job && job.runsToEnd !== true) this.giveUp();
    this.enqueue(job);
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

  private enqueue(job: Job): void {
    if (!this.queue.has(job)) this.queue.set(job, this.timers.now());
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
    if (active.job.runsToEnd !== true && !active.job.isSettled()) {
      this.giveUp();
      this.enqueue(active.job);
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
    const now = this.timers.now();
    for (const [job, since] of this.queue) {
      const hasWaited = job.runsToEnd === true && now - since >= longestWait;
      if (!job.isSettled() && !hasWaited) continue;
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
