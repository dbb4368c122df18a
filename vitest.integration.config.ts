import { defineConfig } from "vitest/config";
import { alias, seed } from "./vitest.config.ts";

/** Tests that drive real programs from Debian packages; `.ci/run` installs those first. */
export default defineConfig({
  resolve: { alias },
  test: {
    include: ["tests/integration/**/*.test.ts"],
    testTimeout: 300_000,
    hookTimeout: 300_000,
    maxWorkers: 2,
    setupFiles: [seed],
    // What these tests start keeps nothing in their own modules.
    isolate: false,
  },
});
