/** Writes the JSON Schemas to dist/schema; a part of the build. */
import { mkdirSync, writeFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { schemaFiles } from "./dist/index.js";

const folder = fileURLToPath(new URL("dist/schema/", import.meta.url));
mkdirSync(folder, { recursive: true });
for (const [name, text] of schemaFiles()) writeFileSync(folder + name, text);
