/** Puts the built command into one file, with the code that this machine's engine makes of it; a part of the build. */
import { readFileSync, writeFileSync } from "node:fs";
import { relative, sep } from "node:path";
import { fileURLToPath } from "node:url";
import { build } from "esbuild";
import { bundleFrom } from "./dist/base/bundle.js";
import { toolStamp } from "./dist/judge/archive/stamp.js";

const dist = new URL("dist/", import.meta.url).href;
const folder = fileURLToPath(dist);
const filename = fileURLToPath(new URL("bundle/command.cjs", dist));

/**
 * A module in the bundle still knows where it would stand: workers and pages of the docs are found from there. What is
 * imported by a computed name, as plug-ins are, is imported by whoever loads the bundle: a script from kept code cannot.
 */
const surroundings = {
  name: "surroundings",
  setup(build) {
    build.onLoad({ filter: /\/packages\/(?:server|adapters|core)\/dist\/.*\.js$/ }, ({ path }) => {
      const text = readFileSync(path, "utf8");
      const name = relative(folder, path).split(sep).join("/");
      const contents = text
        .replaceAll("import.meta.url", `urlOf(${JSON.stringify(name)})`)
        .replaceAll(
          "import(__rewriteRelativeImportExtension(",
          "importHere(__rewriteRelativeImportExtension(",
        );
      return { contents, loader: "js" };
    });
  },
};

const stamp = toolStamp();
const { outputFiles } = await build({
  entryPoints: [fileURLToPath(new URL("command.js", dist))],
  bundle: true,
  write: false,
  platform: "node",
  format: "cjs",
  target: "node20",
  // Names stay, so that whoever reports an error tells where it came from.
  minifyWhitespace: true,
  // It starts threads from files of its own, which have to stand where it looks for them.
  external: ["tinypool"],
  plugins: [surroundings],
  define: stamp === null ? {} : { stampOfBundle: JSON.stringify(stamp) },
  logLevel: "warning",
});
// The bundler spells out what is not ASCII, but not in regular expressions.
const ascii = outputFiles[0].text.replace(
  /[^\0-\x7f]/g,
  (char) => `\\u${char.charCodeAt(0).toString(16).padStart(4, "0")}`,
);
const source = `(function (module, exports, require, urlOf, importHere) {${ascii}\n})`;
const { mkdirSync } = await import("node:fs");
mkdirSync(fileURLToPath(new URL("bundle/", dist)), { recursive: true });

const { exports, script } = bundleFrom({ source, filename, dist });
// What has run is compiled, and is kept as it is: a check of a shot with notes.
const sample = fileURLToPath(new URL("../../demo/shots/quay_0070_v1.curves.json", import.meta.url));
await exports.run(["check", sample, "--no-cache", "--no-progress"], {
  ...exports.processCommandIo(),
  stdout() {},
  stdoutTaken: async () => {},
  stderr() {},
});
writeFileSync(filename, source);
writeFileSync(`${filename}.cache`, script.createCachedData());
