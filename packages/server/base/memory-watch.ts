import { setFlagsFromString } from "node:v8";
import { runInNewContext } from "node:vm";
import { Worker } from "node:worker_threads";

/*
 * A thread that works cannot look at its own memory. Another one looks, every few milliseconds; where there is too much,
 * it ends the work as Ctrl-C does, which the engine answers in the middle of any loop. Starting it takes some 4 ms of
 * this thread (measured); what it is made of loads beside. Judging in the other thread instead would take some 200 ms,
 * for everything is loaded twice then.
 */

/** States of the work: nothing is watched, it goes on, it is being ended. */
const [idle, working, ending] = [0, 1, 2];

/** Milliseconds between two looks. */
const lookEvery = 20;

/** Milliseconds in which the memory that was collected is given back, by threads that a busy machine lets wait; common practice. */
const settling = 300;

/** CommonJS, so that it starts without a file of its own. */
const watcher = `
const { workerData } = require("node:worker_threads");
const state = new Int32Array(workerData, 0, 1);
const limit = new Float64Array(workerData, 8, 1);
setInterval(() => {
  if (Atomics.load(state, 0) !== ${working} || process.memoryUsage.rss() <= limit[0]) return;
  if (Atomics.compareExchange(state, 0, ${working}, ${ending}) === ${working}) process.kill(process.pid, "SIGINT");
}, ${lookEvery});
`;

/** Whether work of this thread can be ended from beside: Windows ends the whole program instead. */
const isAble = process.platform !== "win32";

let shared: { readonly state: Int32Array; readonly limit: Float64Array } | null = null;

function watched(): NonNullable<typeof shared> {
  if (shared !== null) return shared;
  const buffer = new SharedArrayBuffer(16);
  const worker = new Worker(watcher, { eval: true, workerData: buffer, execArgv: [], stdin: false });
  worker.unref();
  // Where no thread can be started, the work goes on without being watched, as bounded as its budget makes it.
  worker.on("error", () => {});
  shared = { state: new Int32Array(buffer, 0, 1), limit: new Float64Array(buffer, 8, 1) };
  return shared;
}

/**
 * Does work of which the program's memory is watched. It has to run where SIGINT ends it.
 * @param limit bytes that the program may take
 */
export function withinMemory(limit: number, work: () => void): void {
  if (!isAble) {
    work();
    return;
  }
  const { state, limit: most } = watched();
  clear(limit);
  most[0] = mostAfter(limit);
  Atomics.store(state, 0, working);
  try {
    work();
  } finally {
    // The signal is on its way: it must find the work, not what comes behind it.
    if (Atomics.compareExchange(state, 0, working, idle) === ending) for (;;);
  }
}

/** Whether the work that has just been ended was so for its memory. The next may begin then. */
export function endedForMemory(): boolean {
  return shared !== null && Atomics.exchange(shared.state, 0, idle) === ending;
}

/** Whether work was done before, which may have left something. */
let hasWorked = false;

/**
 * Where what was given up before still fills the memory, though nothing holds it, the next work has half the limit for
 * itself: the system takes memory back when it likes.
 */
function mostAfter(limit: number): number {
  const here = hasWorked ? process.memoryUsage.rss() : 0;
  hasWorked = true;
  return here > limit ? here + limit / 2 : limit;
}

/** What was given up, or done, before may still lie about: the next must not be charged with it. */
function clear(limit: number): void {
  const { rss } = process.memoryUsage;
  if (rss() <= limit / 2) return;
  collect();
  const until = performance.now() + settling;
  const asleep = new Int32Array(new SharedArrayBuffer(4));
  while (rss() > limit && performance.now() < until) Atomics.wait(asleep, 0, 0, lookEvery);
}

function collect(): void {
  setFlagsFromString("--expose-gc");
  (runInNewContext("gc") as () => void)();
}
