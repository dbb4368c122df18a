/**
 * The fault bench: known faults in clean motion, and what the checks say. `npm run bench:faults` measures all checks
 * and writes docs/fault-bench.md; `--check NAME` (may be repeated) measures some and writes nothing, `--quick` takes
 * fewer placements and writes nothing, `--misses` lists what was not found.
 */
import { renameSync, writeFileSync } from "node:fs";
import { availableParallelism } from "node:os";
import { fileURLToPath } from "node:url";
import { parseArgs } from "node:util";
import { Worker } from "node:worker_threads";
import { registry } from "@keyside/core";
import { injectors } from "./injectors/index.mjs";
import { missesOf, reportOf } from "./report.mjs";

const { values } = parseArgs({
  options: {
    check: { type: "string", multiple: true },
    quick: { type: "boolean", default: false },
    misses: { type: "boolean", default: false },
  },
});
const wanted = values.quick ? 8 : 24;
const known = new Set(registry.map(({ name }) => name));
const unknown = [...injectors.map(({ check }) => check), ...(values.check ?? [])].filter(
  (name) => !known.has(name),
);
if (unknown.length > 0) {
  console.error(`There are no checks of these names: ${[...new Set(unknown)].join(", ")}.`);
  process.exit(1);
}
const jobs = injectors
  .map(({ check }) => check)
  .filter((name) => values.check === undefined || values.check.includes(name));

const started = performance.now();
const [clean, measured] = await Promise.all([inWorker({ kind: "clean" }), shared(jobs)]);
const report = reportOf({ registry, injectors, clean: clean[0], measured, wanted });
console.log(report);
if (values.misses) console.log(`\n${missesOf(measured)}`);
console.error(`${((performance.now() - started) / 1000).toFixed(0)} s`);
if (!values.quick && values.check === undefined) {
  const path = fileURLToPath(new URL("../../../docs/fault-bench.md", import.meta.url));
  writeFileSync(`${path}.new`, `${report}\n`);
  renameSync(`${path}.new`, path);
}

/** Spreads the injectors over workers; each takes the next one when it is done. */
async function shared(names) {
  const queue = [...names];
  const done = new Map();
  const workers = Math.max(1, Math.min(names.length, availableParallelism()));
  await Promise.all(
    Array.from({ length: workers }, async () => {
      for (const result of await inWorker({ kind: "faults", wanted }, queue)) done.set(result.check, result);
    }),
  );
  return names.map((name) => done.get(name));
}

/** Runs a worker; with a queue it is handed one name after another. @returns what it sent back */
function inWorker(workerData, queue = null) {
  return new Promise((resolve, reject) => {
    const worker = new Worker(new URL("./worker.mjs", import.meta.url), { workerData });
    const results = [];
    worker.on("error", reject);
    worker.on("exit", (code) =>
      code === 0 ? resolve(results) : reject(new Error(`A worker ended with code ${code}.`)),
    );
    worker.on("message", (message) => {
      if (message.result !== undefined) results.push(message.result);
      if (message.ready === true) worker.postMessage({ next: queue?.shift() ?? null });
    });
  });
}
