import { execFile, spawnSync } from "node:child_process";
import { fileURLToPath } from "node:url";
import { promisify } from "node:util";
import { expect, test } from "vitest";

const root = fileURLToPath(new URL("../../../..", import.meta.url));
const path = (name: string) => fileURLToPath(new URL(name, import.meta.url));

test("ten thousand edits leave the heap as it was", async () => {
  const compiler = path("../../../../node_modules/typescript/bin/tsc");
  spawnSync(process.execPath, [compiler, "-b", "packages/server"], { cwd: root });
  const { stdout } = await promisify(execFile)(process.execPath, ["--expose-gc", path("soak.mjs")], {
    cwd: root,
  });
  const { edits, before, after, told } = JSON.parse(stdout);
  expect(edits).toBe(10_000);
  expect(told).toBe(true);
  expect(after / before).toBeLessThan(1.1);
  expect(after / before).toBeGreaterThan(0.9);
});
