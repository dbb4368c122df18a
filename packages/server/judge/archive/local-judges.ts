import { statSync } from "node:fs";
import { diskFiles, type Files } from "../../base/files/read.ts";
import { guardOf, MemoryIsFull, TimeIsOver, WasStopped } from "../../base/guard.ts";
import { defaultLimits, memoryHere, tookTooLong, tookTooMuch } from "../../base/limits.ts";
import { ResultCache } from "./cache.ts";
import { TooHeavyHere } from "./judge-context.ts";
import { judgeTask } from "./judge-task.ts";
import type { Judgement, Judges, JudgesOptions, ShotTask } from "./judges.ts";

export interface LocalOptions extends Omit<JudgesOptions, "count"> {
  /**
   * Starts whoever judges shots whose memory has to be watched; the first time that there is one. If left out, all are
   * judged here.
   */
  readonly forHeavy?: (() => Promise<Judges>) | undefined;
  /** Where the user stops the run: aborted here if a judgement that is under way notices it first. */
  readonly stopping?: AbortController | undefined;
}

/** Bytes of a file that may be read here: what reading it takes is bounded by its size. */
const lightFile = 4_000_000;

/**
 * Bytes of a file whose memory is not watched: it is judged here only up to a million poses, and beginning to watch would
 * cost its check 4 tenths of what an empty program takes (measured on a busy machine by tests/bench/start.mjs).
 */
const smallFile = 500_000;

/** Judges one shot after the other in this thread, where that starts quicker. Each can be ended all the same. */
export function localJudges(options: LocalOptions, files: Files = diskFiles): Judges {
  const { cache: place, budget, timeLimit, forHeavy, stopping } = options;
  const memory = Math.min(options.memoryLimit ?? defaultLimits().memory, memoryHere());
  const cache = place === null ? null : new ResultCache(place, true);
  let others: Promise<Judges> | null = null;
  const elsewhere = async (task: ShotTask, start: () => Promise<Judges>) => {
    others ??= start();
    return (await others).judge(task);
  };
  return {
    count: 1,
    async judge(task): Promise<Judgement> {
      const size = sizeOf(task.path);
      if (forHeavy !== undefined && size > lightFile) return elsewhere(task, forHeavy);
      // What modules of others do is bounded by nothing.
      const isSmall = size <= smallFile && task.plugins === undefined && forHeavy !== undefined;
      const watched = isSmall ? undefined : memory;
      const guard = guardOf({ seconds: timeLimit, memory: watched, catchesStop: stopping !== undefined });
      try {
        const lightOnly = forHeavy !== undefined;
        return await judgeTask(task, { files, cache, budget, guard, signal: stopping?.signal, lightOnly });
      } catch (error) {
        if (error instanceof TooHeavyHere && forHeavy !== undefined) return elsewhere(task, forHeavy);
        if (error instanceof TimeIsOver) return { kind: "error", message: tookTooLong(timeLimit) };
        if (error instanceof MemoryIsFull) {
          if (forHeavy !== undefined && (options.memoryLimit ?? 0) > memory) return elsewhere(task, forHeavy);
          return { kind: "error", message: tookTooMuch(memory) };
        }
        if (!(error instanceof WasStopped)) throw error;
        // Nothing came of it, and nothing is to be told of it.
        stopping?.abort();
        return new Promise(() => {});
      }
    },
    close: async () => {
      await (await others)?.close();
    },
  };
}

function sizeOf(path: string): number {
  return statSync(path, { throwIfNoEntry: false })?.size ?? 0;
}
