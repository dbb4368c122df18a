import { Tinypool } from "tinypool";
import { type Budget, defaultBudget } from "../../base/budget.ts";
import { defaultLimits, tookTooLong, tookTooMuch } from "../../base/limits.ts";
import type { CachePlace, Judgement, Judges, JudgesOptions, ShotTask } from "./judges.ts";
import { Turns } from "./turns.ts";

/** What a worker thread is handed as it starts. */
export interface WorkerSetup {
  readonly cache: CachePlace | null;
  readonly budget: Budget;
}

/** What a worker thread is handed with each shot. */
export interface WorkerTask {
  readonly task: ShotTask;
  /** The worker writes 1 here when it begins: the time that a thread takes to start is not the shot's. */
  readonly begun: SharedArrayBuffer;
}

/** Seconds after which a thread that has not begun counts as broken. */
const startLimit = 60;

/** Milliseconds between two looks at whether a shot takes too long, or too much. */
const lookEvery = 50;

/** Milliseconds in which the memory of a thread that was ended is given back; common practice. */
const settling = 300;

/** Why a judgement was broken off; what is to be judged again alone is none of its own making. */
type Ending = { readonly message: string } | "set aside";

/**
 * Judges shots in worker threads. A shot that takes too long, or whose thread breaks, is an error of that shot; the
 * thread is replaced and the others go on.
 *
 * Memory is that of the whole program: the arrays of one thread are not told from those of another. Where it grows
 * beyond its limit, all that are under way are broken off and judged again, one alone at a time; then it is known whose
 * it is.
 * @param worker what runs in the threads: a module whose default export takes a {@link WorkerTask}
 */
export function threadJudges(
  options: JudgesOptions,
  worker: URL = new URL("./worker.js", import.meta.url),
): Judges {
  const { count, timeLimit, memoryLimit = defaultLimits().memory, budget = defaultBudget, cache } = options;
  const pool = new Tinypool({
    filename: worker,
    minThreads: count,
    maxThreads: count,
    workerData: { cache, budget } satisfies WorkerSetup,
    resourceLimits: {
      maxOldGenerationSizeMb: Math.ceil(memoryLimit / 2 ** 20),
      ...(options.young === undefined ? {} : { maxYoungGenerationSizeMb: options.young }),
    },
  });
  const waiting = new Set<(error: unknown) => void>();
  // A thread that broke before it had begun with a shot: whoever waits for one would wait in vain.
  pool.on("error", (error: unknown) => {
    for (const giveUp of waiting) giveUp(error);
  });
  const turns = new Turns();
  const limits = { timeLimit, memoryLimit };
  return {
    count,
    async judge(task) {
      const first = await turns.beside(() => judgeInThread(pool, task, limits, waiting));
      if (first !== "set aside") return first;
      const again = await turns.alone(async () => {
        await new Promise((resolve) => setTimeout(resolve, settling));
        return judgeInThread(pool, task, limits, waiting);
      });
      return again === "set aside" ? { kind: "error", message: tookTooMuch(memoryLimit) } : again;
    },
    close: () => pool.destroy(),
  };
}

async function judgeInThread(
  pool: Tinypool,
  task: ShotTask,
  { timeLimit, memoryLimit }: { readonly timeLimit: number; readonly memoryLimit: number },
  waiting: Set<(error: unknown) => void>,
): Promise<Judgement | "set aside"> {
  const begun = new SharedArrayBuffer(4);
  const flag = new Int32Array(begun);
  const stopping = new AbortController();
  const handedOver = performance.now();
  let start: number | null = null;
  let ending: Ending | null = null;
  const giveUp = (why: Ending) => {
    ending ??= why;
    stopping.abort();
  };
  const breakOff = (error: unknown) => giveUp({ message: brokenBy(error) });
  const timer = setInterval(() => {
    const now = performance.now();
    if (start === null && Atomics.load(flag, 0) === 1) {
      start = now;
      waiting.delete(breakOff);
    }
    if (start === null && now - handedOver > startLimit * 1000) {
      giveUp({ message: "The worker thread did not start." });
    }
    if (start !== null && now - start > timeLimit * 1000) giveUp({ message: tookTooLong(timeLimit) });
    if (start !== null && process.memoryUsage.rss() > memoryLimit) giveUp("set aside");
  }, lookEvery);
  waiting.add(breakOff);
  try {
    return (await pool.run({ task, begun } satisfies WorkerTask, { signal: stopping.signal })) as Judgement;
  } catch (error) {
    if (ending === "set aside") return ending;
    return { kind: "error", message: (ending as { message: string } | null)?.message ?? brokenBy(error) };
  } finally {
    waiting.delete(breakOff);
    clearInterval(timer);
  }
}

/** Why a thread broke, in words. */
function brokenBy(error: unknown): string {
  if ((error as { code?: unknown } | null)?.code === "ERR_WORKER_OUT_OF_MEMORY") {
    return "Checking it needed more memory than a worker thread has; split the shot, or --memory-limit gives it more.";
  }
  const what = (error instanceof Error ? error.message : String(error)).split("\n")[0];
  return `Checking it broke its worker thread (${what}). Please report this to Keyside's maintainers, with the file.`;
}
