// Puts the page's script into one file, and the page and its style beside it: these three are all that the desk serves.
import { copyFileSync, mkdirSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { rolldown } from "rolldown";

const here = (path) => fileURLToPath(new URL(path, import.meta.url));
mkdirSync(here("dist/page"), { recursive: true });
const bundle = await rolldown({ input: here("dist/index.js"), logLevel: "warn" });
await bundle.write({ file: here("dist/page/desk.js"), format: "iife", minify: true });
for (const name of ["index.html", "desk.css"]) copyFileSync(here(name), here(`dist/page/${name}`));
