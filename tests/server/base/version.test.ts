import { readFile } from "node:fs/promises";
import { expect, test } from "vitest";
import { version } from "../../../packages/server/base/version.ts";

test("the command names the package's version", async () => {
  const text = await readFile(new URL("../../../packages/server/package.json", import.meta.url), "utf8");
  expect(version).toBe(JSON.parse(text).version);
});
