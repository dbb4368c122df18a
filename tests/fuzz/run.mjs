// npm run fuzz -- [--minutes N] [--seed S] [--inputs N] [--whole-way]
import { mkdirSync, writeFileSync } from "node:fs";
import { parseArgs } from "node:util";
import { fuzz } from "./fuzz.mjs";
import { builtLibrary } from "./library.mjs";
import { finds as earlier, seeds } from "./seeds.mjs";
import { targetsOf } from "./targets.mjs";

const { values } = parseArgs({
  options: {
    minutes: { type: "string", default: "1" },
    inputs: { type: "string" },
    seed: { type: "string", default: String(Date.now() % 2 ** 31) },
    "whole-way": { type: "boolean", default: false },
    out: { type: "string", default: "fuzz-finds" },
  },
});
const targets = targetsOf(await builtLibrary());
for (const { target, name, text } of earlier()) {
  for (const group of Object.values(targets)) await group[target]?.(text);
  console.log(`known: ${name}`);
}
const most = values.inputs === undefined ? Number.POSITIVE_INFINITY : Number(values.inputs);
const until =
  values.inputs === undefined ? Date.now() + 60_000 * Number(values.minutes) : Number.POSITIVE_INFINITY;
const group = values["whole-way"] ? targets.wholeWay : targets.reading;
const start = process.cpuUsage();
const { counts, finds } = await fuzz(group, seeds(), Number(values.seed), (count) => {
  if (count > 0 && count % 50_000 === 0) console.log(`${count} inputs`);
  return count < most && ((count & 63) !== 0 || Date.now() < until);
});
const total = Object.values(counts).reduce((sum, count) => sum + count, 0);
const seconds = Math.round(process.cpuUsage(start).user / 1e6);
console.log(`seed ${values.seed}: ${total} inputs, ${finds.length} finds, ${seconds} s of processor time`);
for (const [name, count] of Object.entries(counts)) console.log(`  ${name}: ${count}`);
const kinds = new Map();
for (const find of finds) {
  const key = `${find.name}: ${find.what.split("\n").slice(0, 2).join(" ").slice(0, 160)}`;
  kinds.set(key, [...(kinds.get(key) ?? []), find]);
}
if (finds.length > 0) mkdirSync(values.out, { recursive: true });
for (const [index, [key, [first, ...rest]]] of [...kinds].entries()) {
  const file = `${values.out}/${first.name}.${values.seed}-${index}`;
  writeFileSync(file, first.text);
  console.log(`${1 + rest.length} × ${key}\n${first.what.split("\n").slice(1, 4).join("\n")}\n  ${file}`);
}
process.exitCode = finds.length === 0 ? 0 : 1;
