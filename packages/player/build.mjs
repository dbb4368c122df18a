// Puts the element into one file that a page can take in as a script, without modules.
import { fileURLToPath } from "node:url";
import { rolldown } from "rolldown";

const here = (path) => fileURLToPath(new URL(path, import.meta.url));
const bundle = await rolldown({ input: here("dist/index.js"), logLevel: "warn" });
await bundle.write({
  file: here("dist/keyside-player.js"),
  format: "iife",
  name: "keysidePlayer",
  minify: true,
});
