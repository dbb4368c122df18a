import { fileURLToPath } from "node:url";
import { defineConfig } from "vitest/config";

const source = (name: string) => fileURLToPath(new URL(`packages/${name}/index.ts`, import.meta.url));

/** Packages are tested from their sources, so that a test run needs no build. */
export const alias = {
  // The longer names go first: an alias holds for all that begins with it.
  "@keyside/core/internal": fileURLToPath(new URL("packages/core/internal.ts", import.meta.url)),
  "@keyside/core/curves": fileURLToPath(new URL("packages/core/curves.ts", import.meta.url)),
  "@keyside/core/examples": fileURLToPath(new URL("packages/core/faults/examples.ts", import.meta.url)),
  "@keyside/core": source("core"),
  "@keyside/adapters": source("adapters"),
  "@keyside/player/motion": fileURLToPath(new URL("packages/player/motion.ts", import.meta.url)),
  "@keyside/player/packed": fileURLToPath(new URL("packages/player/packed.ts", import.meta.url)),
  "@keyside/player/unpack": fileURLToPath(new URL("packages/player/unpack.ts", import.meta.url)),
  "@keyside/desk/link": fileURLToPath(new URL("packages/desk/link.ts", import.meta.url)),
  "@keyside/server": source("server"),
};

/** Folders of tests that change what belongs to the whole process: each file has modules of its own. */
const apart = ["tests/server/serve/transport/**", "tests/demo/**", "tests/fuzz/**"];

/** What every test file loads first. */
export const seed = fileURLToPath(new URL("tests/seed.ts", import.meta.url));

export default defineConfig({
  resolve: { alias },
  test: {
    // No test depends on speed: these end what hangs, on a machine that does much else beside.
    testTimeout: 600_000,
    hookTimeout: 600_000,
    maxWorkers: 2,
    setupFiles: [seed],
    // Modules that tests write, as plug-ins, are loaded by Node itself, as they are in a run.
    server: { deps: { external: [/\/keyside-command-\w+\//] } },
    projects: [
      {
        extends: true,
        test: {
          name: "shared",
          include: ["tests/**/*.test.ts"],
          exclude: ["tests/integration/**", ...apart],
          // What computes keeps nothing between two calls, so that its files can share its modules: loading these for each
          // of 200 files took longer than the tests.
          isolate: false,
        },
      },
      { extends: true, test: { name: "apart", include: apart.map((folder) => `${folder}/*.test.ts`) } },
    ],
  },
});
