import { describe, expect, test } from "vitest";
import { type Job, Scheduler } from "../../../../packages/server/serve/feed/scheduler.ts";
import { HandTimers } from "./timers.ts";

interface Probe extends Job {
  settled: boolean;
  readonly log: string[];
}

/** A job of three steps of 3 ms each that writes down what becomes of it. */
function probe(timers: HandTimers, name: string, log: string[] = []): Probe {
  return {
    settled: true,
    log,
    isSettled() {
      return this.settled;
    },
    *steps() {
      log.push(`${name} begins`);
      for (let step = 1; step <= 3; step++) {
        timers.pass(3);
        yield step;
      }
      log.push(`${name} computed`);
    },
    done: () => void log.push(`${name} done`),
    failed: (error) => void log.push(`${name} failed: ${error}`),
  };
}

describe("the scheduler", () => {
  test("folds requests that wait into one computation", () => {
    const timers = new HandTimers();
    const scheduler = new Scheduler(timers);
    const job = probe(timers, "a");
    for (let i = 0; i < 100; i++) scheduler.request(job);
    timers.settle();
    expect(job.log).toEqual(["a begins", "a computed", "a done"]);
  });

  test("gives up a computation when a newer request comes, and begins anew", () => {
    const timers = new HandTimers();
    const scheduler = new Scheduler(timers);
    const job = probe(timers, "a");
    scheduler.request(job);
    timers.turn();
    scheduler.request(job);
    timers.settle();
    expect(job.log).toEqual(["a begins", "a begins", "a computed", "a done"]);
  });

  test("does not tell of a result when something newer arrived after it was computed", () => {
    const timers = new HandTimers();
    const scheduler = new Scheduler(timers);
    const job = probe(timers, "a");
    scheduler.request(job);
    while (job.log.at(-1) !== "a computed") timers.turn();
    job.settled = false;
    for (let i = 0; i < 5; i++) timers.turn();
    expect(job.log).toEqual(["a begins", "a computed"]);
    job.settled = true;
    timers.settle();
    expect(job.log).toEqual(["a begins", "a computed", "a begins", "a computed", "a done"]);
  });

  test("lets messages have their turn between steps", () => {
    const timers = new HandTimers();
    const scheduler = new Scheduler(timers);
    const job = probe(timers, "a");
    scheduler.request(job);
    let turns = 0;
    while (timers.turn()) turns++;
    // 9 ms of computing in slices of 4 ms, and a turn before it is told.
    expect(turns).toBeGreaterThanOrEqual(3);
  });

  test("goes on to the next job where one waits for what has arrived", () => {
    const timers = new HandTimers();
    const scheduler = new Scheduler(timers);
    const log: string[] = [];
    const [a, b] = [probe(timers, "a", log), probe(timers, "b", log)];
    a.settled = false;
    scheduler.request(a);
    scheduler.request(b);
    for (let i = 0; i < 10; i++) timers.turn();
    expect(log).toEqual(["b begins", "b computed", "b done"]);
    a.settled = true;
    timers.settle();
    expect(log.slice(3)).toEqual(["a begins", "a computed", "a done"]);
  });

  test("where runs are to be finished, tells the run that a newer request overtakes, then begins anew", () => {
    const timers = new HandTimers();
    const scheduler = new Scheduler(timers);
    const job = { ...probe(timers, "a"), runsToEnd: true };
    scheduler.request(job);
    timers.turn();
    scheduler.request(job);
    job.settled = false;
    while (job.log.at(-1) !== "a done") timers.turn();
    expect(job.log).toEqual(["a begins", "a computed", "a done"]);
    job.settled = true;
    timers.settle();
    expect(job.log.slice(3)).toEqual(["a begins", "a computed", "a done"]);
  });

  test("where runs are to be finished, is never silent for 100 ms while a request comes every millisecond and more have arrived", () => {
    const timers = new HandTimers();
    const scheduler = new Scheduler(timers);
    const told: number[] = [];
    const job: Job = {
      ...probe(timers, "a"),
      runsToEnd: true,
      isSettled: () => false,
      done: () => void told.push(timers.now()),
    };
    while (timers.now() < 2000) {
      scheduler.request(job);
      timers.pass(1);
      timers.turn();
    }
    const silences = told.map((at, i) => at - (told[i - 1] ?? 0));
    expect(told.length).toBeGreaterThan(19);
    expect(Math.max(...silences)).toBeLessThanOrEqual(100);
  });

  test("gives up no more than the run under way at a key pressed, so that judging goes on at a pause of 50 ms", () => {
    const timers = new HandTimers();
    const scheduler = new Scheduler(timers);
    const job = probe(timers, "a");
    // A key every 5 ms, which is too fast for a run of 9 ms.
    for (let key = 0; key < 40; key++) {
      scheduler.request(job);
      timers.turn();
      timers.pass(2);
    }
    expect(job.log).not.toContain("a done");
    const pausedAt = timers.now();
    while (job.log.at(-1) !== "a done") expect(timers.turn()).toBe(true);
    expect(timers.now() - pausedAt).toBeLessThan(50);
  });

  test("tells of a failure as such, and goes on", () => {
    const timers = new HandTimers();
    const scheduler = new Scheduler(timers);
    const log: string[] = [];
    const bad: Job = {
      ...probe(timers, "bad", log),
      isSettled: () => true,
      *steps() {
        yield 1;
        throw new Error("no");
      },
    };
    scheduler.request(bad);
    scheduler.request(probe(timers, "b", log));
    timers.settle();
    expect(log).toEqual(["bad failed: Error: no", "b begins", "b computed", "b done"]);
  });

  test("forgets what is dropped", () => {
    const timers = new HandTimers();
    const scheduler = new Scheduler(timers);
    const job = probe(timers, "a");
    scheduler.request(job);
    timers.turn();
    scheduler.drop(job);
    timers.settle();
    expect(job.log).toEqual(["a begins"]);
  });
});
