import { spawn, spawnSync } from "node:child_process";
import { fileURLToPath } from "node:url";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { type Ran, stackTrace, Workshop } from "./run-in-process.ts";
import { cleanDocument, poppingDocument } from "./shots-for-tests.ts";

const root = fileURLToPath(new URL("../../..", import.meta.url));
const command = fileURLToPath(new URL("../../../packages/server/bin/keyside.js", import.meta.url));

let shop: Workshop;
beforeAll(async () => {
  shop = await Workshop.open();
  await shop.put("pop.curves.json", poppingDocument());
  await shop.put("clean.curves.json", cleanDocument());
  // The command runs from what is built; an older build would test the past.
  const compiler = fileURLToPath(new URL("../../../node_modules/typescript/bin/tsc", import.meta.url));
  spawnSync(process.execPath, [compiler, "-b", "packages/server"], { cwd: root });
});
afterAll(() => shop.close());

function keyside(...argv: string[]): Ran {
  const { status, stdout, stderr } = spawnSync(process.execPath, [command, ...argv], {
    cwd: shop.folder,
    // The user's own cache is left alone.
    env: { ...process.env, XDG_CACHE_HOME: shop.path("cache") },
    encoding: "utf8",
    maxBuffer: 1 << 26,
  });
  return { code: status ?? -1, stdout, stderr };
}

describe("the command as a program", () => {
  test("exit codes reach whoever started it", () => {
    expect(keyside("check", "clean.curves.json", "--only", "pop").code).toBe(0);
    expect(keyside("check", "pop.curves.json", "--only", "pop", "--fail-on", "polish").code).toBe(1);
    expect(keyside("check", "pop.curves.json", "--olny", "pop").code).toBe(2);
    expect(keyside("check", "nowhere.curves.json").code).toBe(3);
  });

  test("output stands on stdout without colour, reasons on stderr without a stack", () => {
    const { stdout, stderr } = keyside("check", "pop.curves.json", "nowhere.curves.json", "--only", "pop");
    expect(stdout).toContain("pier_0010");
    expect(stdout).not.toContain("\u001b[");
    expect(stderr).toBe("keyside: nowhere.curves.json: There is no such file or folder.\n");
    expect(stderr).not.toMatch(stackTrace);
  });

  test("a long output arrives whole in a pipe", () => {
    const { stdout } = keyside("explain", "--format", "json");
    expect(JSON.parse(stdout).length).toBeGreaterThan(0);
  });

  test("a reader that stops reading ends the run without a word, as a closed pipe does", async () => {
    const child = spawn(process.execPath, [command, "schema", "config"], { cwd: shop.folder });
    let stderr = "";
    child.stderr.on("data", (data: Buffer) => {
      stderr += data.toString();
    });
    child.stdout.destroy();
    const code = await new Promise((done) => child.on("close", done));
    expect({ code, stderr }).toEqual({ code: 141, stderr: "" });
  });

  test("a configuration with units is read", async () => {
    await shop.put("units.json", { checks: { pop: { floor: "4 m", angleFloor: "3 rad" } } });
    const argv = ["check", "pop.curves.json", "--only", "pop", "--fail-on", "polish"];
    expect(keyside(...argv).code).toBe(1);
    expect(keyside(...argv, "--config", "units.json").code).toBe(0);
  });
});
