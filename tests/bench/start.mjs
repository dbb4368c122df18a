// node tests/bench/start.mjs [ROUNDS]: what watching its memory costs the start of a command, beside an empty program.
import { spawnSync } from "node:child_process";

const module = new URL("../../packages/server/dist/base/memory-watch.js", import.meta.url).href;
const load = `import { withinMemory } from ${JSON.stringify(module)};`;
const programs = {
  "node -e 0": ["-e", "0"],
  "what watches, loaded": ["--input-type=module", "-e", load],
  "a watch begun and ended": ["--input-type=module", "-e", `${load} withinMemory(1e15, () => {});`],
};
const rounds = Number(process.argv[2] ?? 30);
const walls = new Map(Object.keys(programs).map((name) => [name, []]));
// Taken in turns, so that what else the machine does meets all alike.
for (let round = 0; round < rounds; round++) {
  for (const [name, argv] of Object.entries(programs)) {
    const start = performance.now();
    spawnSync(process.execPath, argv);
    walls.get(name).push(performance.now() - start);
  }
}
const median = (values) => [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)];
const empty = median(walls.get("node -e 0"));
const loaded = median(walls.get("what watches, loaded"));
for (const [name, values] of walls) {
  console.log(`${name}: ${median(values).toFixed(1)} ms, ${(median(values) / empty).toFixed(2)} × node -e 0`);
}
const cost = median(walls.get("a watch begun and ended")) - loaded;
console.log(
  `the watch alone: ${cost.toFixed(1)} ms, ${(cost / empty).toFixed(2)} × node -e 0; 30 ms are allowed`,
);
