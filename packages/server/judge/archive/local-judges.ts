import { statSync } from "node:fs";
import { diskFiles, type Files } from "../../base/files/read.ts";
import { guardOf, TimeIsOver, WasStopped } from "../../base/guard.ts";
import { tookTooLong } from "../../base/limits.ts";
import { ResultCache } from "./cache.ts";
import { TooHeavyHere } from "./judge-context.ts";
import { judgeTask } from "./judge-task.ts";
import type { Judgement, Judges, JudgesOptions, ShotTask } from "./judges.ts";

export interface LocalOptions extends Omit<JudgesOptions, "count" | "memoryLimit"> {
  /**
   * Starts whoever judges shots whose memory has to be watched; the first time that there is one. If left out, all are
   * judged here.
   */
  readonly forHeavy?: (() => Promise<Judges>) | undefined;
  /** Called where the user has stopped a judgement that was under way here. */
  readonly stopped?: (() => void) | undefined;
}

/** Bytes of a file that may be read here: what reading it takes is bounded by its size. */
const lightFile = 4_000_000;

/** Judges one shot after the other in this thread, where that starts quicker. Each can be ended all the same. */
export function localJudges(options: LocalOptions, files: Files = diskFiles): Judges {
  const { cache: place, budget, timeLimit, forHeavy, stopped } = options;
  const cache = place === null ? null : new ResultCache(place);
  let others: Promise<Judges> | null = null;
  const elsewhere = async (task: ShotTask, start: () => Promise<Judges>) => {
    others ??= start();
    return (await others).judge(task);
  };
  return {
    count: 1,
    async judge(task): Promise<Judgement> {
      if (forHeavy !== undefined && sizeOf(task.path) > lightFile) return elsewhere(task, forHeavy);
      const guard = guardOf({ seconds: timeLimit, catchesStop: stopped !== undefined });
      try {
        return await judgeTask(task, { files, cache, budget, guard, lightOnly: forHeavy !== undefined });
      } catch (error) {
        if (error instanceof TooHeavyHere && forHeavy !== undefined) return elsewhere(task, forHeavy);
        if (error instanceof TimeIsOver) return { kind: "error", message: tookTooLong(timeLimit) };
        if (!(error instanceof WasStopped)) throw error;
        // Nothing came of it, and nothing is to be told of it.
        stopped?.();
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
