import { defineConfig } from "vitest/config";
import { alias } from "./vitest.config.ts";

/** `npm run bench:trust`: computes the numbers of many notes again and writes how they agree to docs/trust.md. */
export default defineConfig({
  resolve: { alias },
  test: { include: ["tests/bench/trust/*.run.ts"], testTimeout: 3_600_000, maxWorkers: 1 },
});
