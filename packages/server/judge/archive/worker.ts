import { Tinypool } from "tinypool";
import { threadFiles } from "../../base/files/read.ts";
import { ResultCache } from "./cache.ts";
import { judgeTask } from "./judge-task.ts";
import type { Judgement } from "./judges.ts";
import type { WorkerSetup, WorkerTask } from "./thread-judges.ts";

const { cache: place, budget } = Tinypool.workerData as WorkerSetup;
const cache = place === null ? null : new ResultCache(place);

/** Runs in a worker thread: judges one shot. */
export default function judgeInWorker({ task, begun }: WorkerTask): Promise<Judgement> {
  Atomics.store(new Int32Array(begun), 0, 1);
  return judgeTask(task, { files: threadFiles, cache, budget });
}
