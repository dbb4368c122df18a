import { defineConfig } from "vitest/config";
import { alias } from "./vitest.config.ts";

/** `npm run bench:trust` and `bench:causes`: compute the numbers of many notes again, and write how they stand to docs/trust.md. */
export default defineConfig({
  resolve: { alias },
  test: { include: ["tests/bench/trust/*.run.ts"], testTimeout: 3_600_000, maxWorkers: 1 },
});
