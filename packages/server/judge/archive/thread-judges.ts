import { Tinypool } from "tinypool";
import type { CachePlace, Judgement, Judges, JudgesOptions, ShotTask } from "./judges.ts";

/** What a worker thread is handed as it starts. */
export interface WorkerSetup {
  readonly cache: CachePlace | null;
}

/** What a worker thread is handed with each shot. */
export interface WorkerTask {
  readonly task: ShotTask;
  /** The worker writes 1 here when it begins: the time that a thread takes to start is not the shot's. */
  readonly begun: SharedArrayBuffer;
}

/** Seconds after which a thread that has not begun counts as broken. */
const startLimit = 60;

/** Milliseconds between two looks at whether a shot takes too long. */
const lookEvery = 100;

/**
 * Judges shots in worker threads. A shot that takes too long, or whose thread breaks, is an error of that shot; the
 * thread is replaced and the others go on.
 * @param worker what runs in the threads: a module whose default export takes a {@link WorkerTask}
 */
export function threadJudges(
  { count, timeLimit, cache }: JudgesOptions,
  worker: URL = new URL("./worker.js", import.meta.url),
): Judges {
  const pool = new Tinypool({
    filename: worker,
    minThreads: count,
    maxThreads: count,
    workerData: { cache } satisfies WorkerSetup,
  });
  const waiting = new Set<(error: unknown) => void>();
  // A thread that broke before it had begun with a shot: whoever waits for one would wait in vain.
  pool.on("error", (error: unknown) => {
    for (const giveUp of waiting) giveUp(error);
  });
  return {
    count,
    judge: (task) => judgeInThread(pool, task, timeLimit, waiting),
    close: () => pool.destroy(),
  };
}

async function judgeInThread(
  pool: Tinypool,
  task: ShotTask,
  timeLimit: number,
  waiting: Set<(error: unknown) => void>,
): Promise<Judgement> {
  const begun = new SharedArrayBuffer(4);
  const flag = new Int32Array(begun);
  const stopping = new AbortController();
  const handedOver = performance.now();
  let start: number | null = null;
  let reason: string | null = null;
  const giveUp = (why: string) => {
    reason ??= why;
    stopping.abort();
  };
  const breakOff = (error: unknown) => giveUp(brokenBy(error));
  const timer = setInterval(() => {
    const now = performance.now();
    if (start === null && Atomics.load(flag, 0) === 1) {
      start = now;
      waiting.delete(breakOff);
    }
    if (start === null && now - handedOver > startLimit * 1000) giveUp("The worker thread did not start.");
    if (start !== null && now - start > timeLimit * 1000) {
      giveUp(`Checking it took longer than ${timeLimit} s and was given up; --time-limit gives it more.`);
    }
  }, lookEvery);
  waiting.add(breakOff);
  try {
    return (await pool.run({ task, begun } satisfies WorkerTask, { signal: stopping.signal })) as Judgement;
  } catch (error) {
    return { kind: "error", message: reason ?? brokenBy(error) };
  } finally {
    waiting.delete(breakOff);
    clearInterval(timer);
  }
}

/** Why a thread broke, in words. */
function brokenBy(error: unknown): string {
  if ((error as { code?: unknown } | null)?.code === "ERR_WORKER_OUT_OF_MEMORY") {
    return "Checking it needed more memory than a worker thread has; split the shot.";
  }
  const what = (error instanceof Error ? error.message : String(error)).split("\n")[0];
  return `Checking it broke its worker thread (${what}). Please report this to Keyside's maintainers, with the file.`;
}
