import { existsSync, readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { registry } from "@keyside/core";
import { expect, test } from "vitest";

/** Every check has all that a check has to have: what is forgotten is told by name. */

const root = fileURLToPath(new URL("../../", import.meta.url));
// biome-ignore lint/suspicious/noExplicitAny: the benches are plain JavaScript
const load = (path: string): Promise<any> =>
  import(/* @vite-ignore */ new URL(`../bench/${path}`, import.meta.url).href);

test.each([["a home with check, fix and examples", ["check.ts", "fix.ts", "examples.ts"]]])(
  "every check has %s",
  (_, files) => {
    const missing = registry.flatMap(({ family, name }) =>
      files
        .map((file) => `packages/core/faults/${family}/${name}/${file}`)
        .filter((path) => !existsSync(root + path)),
    );
    expect(missing).toEqual([]);
  },
);

test("every check has a page, a picture and a line in the list of pages", () => {
  const list = readFileSync(`${root}docs/checks/README.md`, "utf8");
  const missing = registry.flatMap(({ name }) => [
    ...[`docs/checks/${name}.md`, `docs/checks/pictures/${name}.svg`].filter(
      (path) => !existsSync(root + path),
    ),
    ...(list.includes(`(${name}.md)`) ? [] : [`docs/checks/README.md: ${name}`]),
  ]);
  expect(missing).toEqual([]);
});

test("every check that does not ripen has a row in a bench", async () => {
  const { injectors } = await load("faults/injectors/index.mjs");
  const { faultKinds } = await load("shots/faults/index.mjs");
  const rows = new Set([
    ...injectors.map(({ check }: { check: string }) => check),
    ...faultKinds.flatMap(({ checks }: { checks: readonly string[] }) => checks),
  ]);
  const missing = registry.filter(({ name, ripening }) => ripening === undefined && !rows.has(name));
  expect(missing.map(({ name }) => name)).toEqual([]);
});
