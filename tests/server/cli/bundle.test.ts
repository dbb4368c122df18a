import { spawnSync } from "node:child_process";
import { cp, mkdir, readFile, symlink, utimes, writeFile } from "node:fs/promises";
import { fileURLToPath } from "node:url";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { Workshop } from "./run-in-process.ts";
import { poppingDocument } from "./shots-for-tests.ts";

/** The command as it is shipped, in one file, against the modules that it was made of. */

const at = (path: string) => fileURLToPath(new URL(`../../../packages/server/${path}`, import.meta.url));
const dist = new URL("../../../packages/server/dist/", import.meta.url).href;

let shop: Workshop;
beforeAll(async () => {
  shop = await Workshop.open();
  await shop.put("pop.curves.json", poppingDocument());
  await shop.put(
    "plain.mjs",
    `import { run, processCommandIo } from ${JSON.stringify(`${dist}command.js`)};
     process.exitCode = await run(process.argv.slice(2), processCommandIo());`,
  );
});
afterAll(() => shop.close());

function node(...argv: string[]) {
  const { status, stdout, stderr } = spawnSync(process.execPath, argv, {
    cwd: shop.folder,
    encoding: "utf8",
    env: { ...process.env, XDG_CACHE_HOME: shop.path("cache") },
  });
  return { status, stdout, stderr };
}

const bundled = (...argv: string[]) => node(at("bin/keyside.js"), ...argv);
const plain = (...argv: string[]) => node("plain.mjs", ...argv);

describe("the command as one file", () => {
  test("is there, and the engine takes the code that was kept of it", () => {
    const ran = node(
      "--input-type=module",
      "-e",
      `import { readFileSync } from "node:fs";
       import { bundleFrom } from ${JSON.stringify(`${dist}base/bundle.js`)};
       const filename = ${JSON.stringify(at("dist/bundle/command.cjs"))};
       const source = readFileSync(filename, "latin1");
       const cachedData = readFileSync(filename + ".cache");
       const { script } = bundleFrom({ source, filename, dist: ${JSON.stringify(dist)}, cachedData });
       console.log(script.cachedDataRejected);`,
    );
    expect(ran).toEqual({ status: 0, stdout: "false\n", stderr: "" });
  });

  test.each([
    [["check", "pop.curves.json", "--no-cache", "--long"]],
    [["check", "pop.curves.json", "--no-cache", "--format", "sarif", "--jobs", "2", "--no-progress"]],
    [["explain", "pop"]],
    [["schema", "config"]],
    [["check", "--nonsense"]],
    [["sheet", "pop.curves.json"]],
  ])("%j: the same bytes as from the modules", (argv) => {
    const out = argv[0] === "sheet" ? ["--out", "sheet.html", "--force"] : [];
    expect(bundled(...argv, ...out)).toEqual(plain(...argv, ...out));
  });

  test("keeps results under the stamp of its modules", () => {
    expect(bundled("check", "pop.curves.json", "--cache", "kept").status).toBe(1);
    expect(node(at("bin/keyside.js"), "cache", "--cache", "kept").stdout).toContain(": 1 result");
    expect(plain("check", "pop.curves.json", "--cache", "kept").status).toBe(1);
    expect(node(at("bin/keyside.js"), "cache", "--cache", "kept").stdout).toContain(": 1 result");
  });

  test("hands plug-ins its own functions, and worker threads load them too", async () => {
    await mkdir(shop.path("plugged"));
    await shop.put("plugged/a.curves.json", poppingDocument());
    await shop.put("plugged/b.curves.json", poppingDocument());
    await writeFile(
      shop.path("plugged/plugin.mjs"),
      `export default ({ defineCheck, registry }) => ({
        reports: { names: () => ({ begin: () => String(registry.length > 30) + "\\n", shot: ({ file }) => file + "\\n", error: () => "", end: () => "" }) },
      });`,
    );
    await shop.put("plugged/keyside.config.json", { plugins: ["plugin.mjs"] });
    const config = [
      "--config",
      "plugged/keyside.config.json",
      "--format",
      "names",
      "--no-cache",
      "--no-progress",
      "--jobs",
      "2",
    ];
    const ran = bundled("check", "plugged", ...config);
    expect(ran.stderr).toBe("");
    expect(ran.stdout).toBe("true\nplugged/a.curves.json\nplugged/b.curves.json\n");
  });

  test("is left alone where the modules are newer, or where it is damaged", async () => {
    const folder = shop.path("copy/server");
    await mkdir(folder, { recursive: true });
    for (const name of ["bin", "dist", "package.json"])
      await cp(at(name), `${folder}/${name}`, { recursive: true });
    await symlink(at("../../node_modules"), shop.path("copy/node_modules"));
    const command = `${folder}/bin/keyside.js`;
    const bundle = `${folder}/dist/bundle/command.cjs`;
    const check = () => node(command, "explain", "pop");
    const right = plain("explain", "pop");
    // What a bundle says that is used, and what the modules say beside one that is not.
    await writeFile(bundle, (await readFile(bundle, "utf8")).replaceAll("Why it matters", "Why bundled"));
    const soon = new Date(Date.now() + 3_600_000);
    await utimes(bundle, soon, soon);
    expect(check().status).toBe(0);
    const later = new Date(Date.now() + 7_200_000);
    await utimes(`${folder}/dist/.tsbuildinfo`, later, later);
    expect(check()).toEqual(right);
    await utimes(`${folder}/dist/.tsbuildinfo`, new Date(0), new Date(0));
    await writeFile(`${bundle}.cache`, "no code of an engine");
    expect(check().status).toBe(0);
  });
});
