import { execFile } from "node:child_process";
import { realpathSync } from "node:fs";
import { cp, mkdir, mkdtemp, readdir, readFile, rm, symlink } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join, relative } from "node:path";
import { fileURLToPath } from "node:url";
import { promisify } from "node:util";
import { afterAll, beforeAll, describe, expect, test } from "vitest";

/** `npm run new-check`, in a copy of the program's sources. */

const root = fileURLToPath(new URL("../../", import.meta.url));
const run = promisify(execFile);
let house = "";
const home = () => join(house, "packages/core/faults/spacing/late-settle");

beforeAll(async () => {
  house = await mkdtemp(join(tmpdir(), "keyside-house-"));
  const isSource = (path: string) => !/\/(dist|node_modules|out)$/.test(path);
  for (const part of [
    "packages",
    "demo",
    "docs",
    "tests/core",
    "tests/support",
    "tests/demo",
    "tests/server",
  ]) {
    await mkdir(join(house, part, ".."), { recursive: true });
    await cp(join(root, part), join(house, part), { recursive: true, filter: isSource });
  }
  for (const file of [
    "package.json",
    "vitest.config.ts",
    "tsconfig.json",
    "tsconfig.base.json",
    "tests/seed.ts",
  ]) {
    await cp(join(root, file), join(house, file));
  }
  await symlink(join(root, "node_modules"), join(house, "node_modules"));
  await mkdir(join(house, "tests/fixtures"));
});
afterAll(() => rm(house, { recursive: true, force: true }));

const newCheck = (...words: string[]) =>
  run(process.execPath, ["packages/new-check.mjs", ...words], { cwd: house });
const refused = (...words: string[]) =>
  newCheck(...words).then(
    () => "",
    ({ stderr }: { stderr: string }) => stderr,
  );

const examples = "tests/core/faults/examples.test.ts";
const provocations = "tests/demo/provocations.test.ts";

interface Outcome {
  /** How many tests of each file passed. */
  readonly passed: ReadonlyMap<string, number>;
  /** What each failed test says. */
  readonly failed: readonly string[];
}

/** What the report of a run says of one file. */
interface FileResult {
  readonly name: string;
  readonly assertionResults: readonly {
    readonly status: string;
    readonly fullName: string;
    readonly failureMessages: readonly string[];
  }[];
}

/** Runs test files of the copy on one check. */
async function tested(...files: string[]): Promise<Outcome> {
  const argv = ["vitest", "run", ...files, "-t", "^late-settle", "--reporter", "json"];
  const { stdout } = await run("npx", argv, { cwd: house, maxBuffer: 1e8 }).catch((error) => error);
  const { testResults }: { testResults: FileResult[] } = JSON.parse(stdout.slice(stdout.indexOf("{")));
  const passed = new Map(
    testResults.map(({ name, assertionResults }) => [
      relative(realpathSync(house), name),
      assertionResults.filter(({ status }) => status === "passed").length,
    ]),
  );
  const failed = testResults
    .flatMap(({ assertionResults }) => assertionResults)
    .filter(({ status }) => status === "failed")
    .map(({ fullName, failureMessages }) => `${fullName}: ${failureMessages.join(" ")}`);
  return { passed, failed };
}

describe("npm run new-check", () => {
  test("refuses what is no family, no name, or there already", async () => {
    expect(await refused("spacings", "late-settle")).toContain('There is no family "spacings"');
    expect(await refused("spacing", "Late Settle")).toContain("is no name");
    expect(await refused("spacing", "pop")).toContain("packages/core/faults/spacing/pop is there already");
    expect(await refused("spacing")).toContain("A family and a name are needed");
  });

  test("writes a fault's home, which is not green before it is filled in, and then is", async () => {
    const { stdout } = await newCheck("spacing", "late-settle");
    expect(stdout).toContain("Fill in what says FILL IN");
    expect((await readdir(home())).sort()).toEqual(["check.ts", "examples.ts", "fix.ts"]);
    expect(await refused("spacing", "late-settle")).toContain("is there already");
    expect((await tested(examples)).failed.length).toBeGreaterThan(0);

    // Nothing outside the folder is touched from here on.
    await cp(join(root, "tests/fixtures/late-settle"), home(), { recursive: true });
    const { passed, failed } = await tested(examples, provocations);
    expect(failed).toEqual([]);
    expect(passed.get(examples)).toBeGreaterThan(6);
    expect(passed.get(provocations)).toBe(1);
    // Its types hold with those of all others.
    await run("npx", ["tsc", "--noEmit", "--project", "packages/core"], { cwd: house });
    expect(await readFile(join(home(), "check.ts"), "utf8")).not.toContain("FILL IN");
  });
});
