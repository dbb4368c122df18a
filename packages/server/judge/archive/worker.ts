import { readFileSync, statSync } from "node:fs";
import { Tinypool } from "tinypool";
import type { Files } from "../../base/files/read.ts";
import { ResultCache } from "./cache.ts";
import { judgeTask } from "./judge-task.ts";
import type { Judgement } from "./judges.ts";
import type { WorkerSetup, WorkerTask } from "./thread-judges.ts";

const { cache: place } = Tinypool.workerData as WorkerSetup;
const cache = place === null ? null : new ResultCache(place);

/** A thread has nothing else to do while it waits for the disk, and asking so is faster. */
const files: Files = {
  read: async (path) => readFileSync(path),
  async kind(path) {
    const found = statSync(path, { throwIfNoEntry: false });
    return found === undefined ? null : found.isDirectory() ? "folder" : "file";
  },
};

/** Runs in a worker thread: judges one shot. */
export default function judgeInWorker({ task, begun }: WorkerTask): Promise<Judgement> {
  Atomics.store(new Int32Array(begun), 0, 1);
  return judgeTask(task, files, cache);
}
