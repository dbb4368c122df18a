/** Writes docs/checks, docs/strengths.md, docs/styles.md and docs/host-messages.md: `npm run docs`. Pages of checks that are no more are taken away. */
import { existsSync, mkdirSync, readdirSync, readFileSync, renameSync, rmSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { generatedDocs } from "./pages.mjs";

const docs = fileURLToPath(new URL("..", import.meta.url));
const files = generatedDocs();
let written = 0;
for (const [name, text] of files) {
  const path = join(docs, name);
  if (existsSync(path) && readFileSync(path, "utf8") === text) continue;
  mkdirSync(dirname(path), { recursive: true });
  writeFileSync(`${path}.new`, text);
  renameSync(`${path}.new`, path);
  written++;
}
let gone = 0;
for (const folder of ["checks", "checks/pictures"]) {
  for (const entry of readdirSync(join(docs, folder), { withFileTypes: true })) {
    if (!entry.isFile() || files.has(`${folder}/${entry.name}`)) continue;
    rmSync(join(docs, folder, entry.name));
    gone++;
  }
}
console.log(`docs: ${files.size} files, ${written} written, ${gone} taken away`);
