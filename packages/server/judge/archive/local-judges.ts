import { diskFiles, type Files } from "../../base/files/read.ts";
import { ResultCache } from "./cache.ts";
import { judgeTask } from "./judge-task.ts";
import type { Judges, JudgesOptions } from "./judges.ts";

/** Judges one shot after the other in this thread. A shot that hangs cannot be given up here. */
export function localJudges({ cache }: Pick<JudgesOptions, "cache">, files: Files = diskFiles): Judges {
  const results = cache === null ? null : new ResultCache(cache);
  return {
    count: 1,
    judge: (task) => judgeTask(task, files, results),
    close: async () => {},
  };
}
