// @ts-check
/**
 * Makes and judges the shots of a run in two worker threads.
 * @import { CaptureRecord, Results, ShotRecord } from "./scores/records.d.ts"
 */
import { Worker } from "node:worker_threads";
import { faultsOf, sum } from "./report/tally.mjs";
import { reportFaults, reportFrames } from "./seeds.mjs";

const workers = 2;
/** A report begins with this many shots and goes on by so many until it has what it needs. */
const [firstShots, furtherShots] = [32, 8];
/** More shots than this cannot be needed: something is wrong with what is planted. */
const mostShots = 400;

/**
 * What a worker is asked for: a shot by its index in the set, or the recordings.
 * @typedef {{ shot: number } | { captures: true }} Job
 * @typedef {{ shot: ShotRecord | null } | { failed: string } | { captures: CaptureRecord[] }} Answer
 */

/**
 * @param {{ seed: string, commit: string | null, shots: number | null, checks: string[], bodies: string[] }} options
 * @returns {Promise<Results>}
 */
export async function runShots({ seed, commit, shots: wanted, checks, bodies }) {
  const pool = poolOf({ seed, checks, bodies });
  try {
    /** @type {Results} */
    const results = { seed, commit, shots: [], captures: [], failed: [] };
    const recorded = pool([{ captures: true }]);
    let made = 0;
    while (made < (wanted ?? mostShots)) {
      const count = wanted ?? (made === 0 ? firstShots : furtherShots);
      const jobs = Array.from({ length: count }, (_, i) => ({ shot: made + i }));
      made += count;
      for (const answer of await pool(jobs, (done) => tell(made - count + done, wanted ?? made))) {
        if ("failed" in answer) results.failed.push(answer.failed);
        else if ("shot" in answer && answer.shot !== null) results.shots.push(answer.shot);
      }
      const frames = sum(results.shots.map((shot) => shot.frames));
      if (wanted === null && faultsOf(results).length >= reportFaults && frames >= reportFrames) break;
    }
    process.stderr.write("\n");
    for (const answer of await recorded) {
      if ("failed" in answer) results.failed.push(answer.failed);
      else if ("captures" in answer) results.captures.push(...answer.captures);
    }
    return results;
  } finally {
    pool.end();
  }
}

/** @param {number} done @param {number} of */
const tell = (done, of) => process.stderr.write(`\r${done} of ${of} shots`);

/**
 * @param {object} workerData
 */
function poolOf(workerData) {
  const all = Array.from(
    { length: workers },
    () => new Worker(new URL("./worker.mjs", import.meta.url), { workerData }),
  );
  /** @type {{ job: Job, done: (answer: Answer) => void }[]} */
  const queue = [];
  /** @type {((error: Error) => void)[]} */
  const failing = [];
  const idle = [...all];
  const next = () => {
    while (idle.length > 0 && queue.length > 0) {
      const worker = /** @type {Worker} */ (idle.shift());
      const { job, done } = /** @type {(typeof queue)[0]} */ (queue.shift());
      worker.once("message", (/** @type {Answer} */ answer) => {
        idle.push(worker);
        done(answer);
        next();
      });
      worker.postMessage(job);
    }
  };
  for (const worker of all) {
    worker.on("error", (error) => {
      for (const fail of failing) fail(error);
    });
  }
  /**
   * @param {Job[]} jobs @param {(done: number) => void} [tell]
   * @returns {Promise<Answer[]>} in the order of the jobs
   */
  const pool = (jobs, tell = () => {}) => {
    let count = 0;
    const answers = jobs.map(
      (job) =>
        new Promise((resolve, reject) => {
          failing.push(reject);
          queue.push({
            job,
            done: (answer) => {
              tell(++count);
              resolve(answer);
            },
          });
        }),
    );
    next();
    return /** @type {Promise<Answer[]>} */ (Promise.all(answers));
  };
  pool.end = () => {
    for (const worker of all) void worker.terminate();
  };
  return pool;
}
