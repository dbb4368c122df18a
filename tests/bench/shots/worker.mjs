// @ts-check
/**
 * Makes and judges the shots that it is asked for, one after another.
 * @import { Answer, Job } from "./run-shots.mjs"
 */
import { parentPort, workerData } from "node:worker_threads";
import { captures, program } from "./scores/program.mjs";
import { countsOf, scoreShot } from "./scores/score-shot.mjs";
import { planAt, plantedShot, stage } from "./shots.mjs";

const port = /** @type {import("node:worker_threads").MessagePort} */ (parentPort);
const { seed, checks, bodies } = workerData;
const asked = program();

port.on("message", (/** @type {Job} */ job) => port.postMessage(answered(job)));

/** @param {Job} job @returns {Answer} */
function answered(job) {
  try {
    return "shot" in job ? { shot: shotOf(job.shot) } : { captures: captures().map(judged) };
  } catch (error) {
    const what = "shot" in job ? `shot ${job.shot}` : "the recordings";
    return { failed: `${what}: ${error instanceof Error ? error.stack : error}` };
  }
}

/** @param {number} index */
function shotOf(index) {
  if (bodies.length > 0 && !bodies.includes(planAt(seed, index).body)) return null;
  const planted = plantedShot(seed, index);
  const isWanted = (/** @type {{ checks: readonly string[] }} */ kind) =>
    checks.length === 0 || kind.checks.some((name) => checks.includes(name));
  const record = scoreShot(planted, asked, stage, isWanted);
  return { ...record, index, faults: record.faults.filter(isWanted) };
}

/** @param {ReturnType<typeof captures>[0]} recording */
function judged({ name, shot, frames }) {
  return { name, frames, notes: countsOf(asked.notes(shot)) };
}
