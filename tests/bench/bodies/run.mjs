// @ts-check
/** `npm run bench:bodies`: what is said of skeletons of many habits and builds; `-- --write` puts it into docs/bodies.md. */
import { readFileSync, writeFileSync } from "node:fs";
import { judged } from "./judge.mjs";
import { suite } from "./suite.mjs";
import { page } from "./table.mjs";

const marks = ["<!-- bench:bodies -->", "<!-- /bench:bodies -->"];
const text = page(suite.map(judged));
if (process.argv.includes("--write")) {
  const file = new URL("../../../docs/bodies.md", import.meta.url);
  const before = readFileSync(file, "utf8");
  const [from, to] = [before.indexOf(marks[0]), before.indexOf(marks[1])];
  if (from < 0 || to < from) throw new Error(`docs/bodies.md has lost ${marks[0]} or ${marks[1]}.`);
  writeFileSync(file, `${before.slice(0, from + marks[0].length)}\n${text}${before.slice(to)}`);
}
process.stdout.write(text);
