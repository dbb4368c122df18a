import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { expect, test } from "vitest";

const core = fileURLToPath(new URL("../../../packages/core/", import.meta.url));

/** Files of core that import another one as they are loaded, types left out. */
function importersOf(name: string): string[] {
  const files = readdirSync(core, { recursive: true, encoding: "utf8" }).filter(
    (file) => file.endsWith(".ts") && !/^(dist|node_modules)/.test(file),
  );
  const statement = new RegExp(`^(?:import|export) (?!type )[^;]*from "[^"]*${name}"`, "m");
  return files.filter((file) => statement.test(readFileSync(join(core, file), "utf8"))).sort();
}

test("the parser of expressions, which is slow to load, is loaded by nothing but the reader of own checks", () => {
  expect(importersOf("mathjs")).toEqual(["base/written-units.ts", "expressions/compile.ts"]);
  expect(importersOf("/compile.ts")).toEqual(["expressions/read-own-checks.ts"]);
  expect(importersOf("/written-units.ts")).toEqual([
    "expressions/compile.ts",
    "expressions/read-own-checks.ts",
  ]);
  expect(importersOf("/read-own-checks.ts")).toEqual([]);
});
