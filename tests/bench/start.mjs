// npm run bench:start [-- ROUNDS]: what the start of the command costs, and watching its memory, beside an empty program.
import { spawnSync } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";

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

const at = (path) => fileURLToPath(new URL(`../../${path}`, import.meta.url));
const command = at("packages/server/bin/keyside.js");
const shot = at("demo/shots/jetty_0040_v2.curves.json");
const place = mkdtempSync(join(tmpdir(), "keyside-start-"));
// The processor time of a whole program, threads too, as it is told by the program itself at its end.
const told = join(place, "told.cjs");
writeFileSync(
  told,
  `process.on("exit", () => { const { user, system } = process.cpuUsage(); require("node:fs").writeSync(3, String(user + system)); });`,
);
const modules = join(place, "modules.mjs");
writeFileSync(
  modules,
  `import { run, processCommandIo } from ${JSON.stringify(new URL("../../packages/server/dist/command.js", import.meta.url).href)};
  process.exitCode = await run(process.argv.slice(2), processCommandIo());`,
);
const kept = ["--cache", join(place, "kept")];
const starts = {
  "node -e 0": ["-e", "0"],
  "keyside --version": [command, "--version"],
  "keyside check of a small shot, as modules": [modules, "check", shot, "--no-cache"],
  "keyside check of a small shot, as one file": [command, "check", shot, "--no-cache"],
  "keyside check of an unchanged shot, as modules": [modules, "check", shot, ...kept],
  "keyside check of an unchanged shot, as one file": [command, "check", shot, ...kept],
};
const processor = new Map(Object.keys(starts).map((name) => [name, []]));
for (let round = 0; round < rounds; round++) {
  for (const [name, argv] of Object.entries(starts)) {
    const { output } = spawnSync(process.execPath, ["-r", told, ...argv], {
      stdio: ["ignore", "ignore", "ignore", "pipe"],
    });
    processor.get(name).push(Number(output[3]) / 1000);
  }
}
rmSync(place, { recursive: true });
const base = processor.get("node -e 0");
console.log(`\nprocessor time, median of ${rounds} rounds; each ratio is that of a round`);
for (const [name, values] of processor) {
  const ratio = median(values.map((value, round) => value / base[round]));
  console.log(`${name}: ${median(values).toFixed(0)} ms, ${ratio.toFixed(2)} × node -e 0`);
}
