import { mkdir, mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { foreignAdapter, foreignCheck, pluginText } from "./plugins-for-tests.ts";
import { Workshop } from "./run-in-process.ts";
import { cleanDocument, poppingDocument } from "./shots-for-tests.ts";

let shop: Workshop;
beforeEach(async () => {
  shop = await Workshop.open();
  await shop.put("ball.curves.json", cleanDocument());
  await shop.put("studio.mjs", pluginText(foreignCheck()));
  await shop.put("keyside.config.json", { plugins: ["./studio.mjs"] });
});
afterEach(() => shop.close());

const only = ["check", "ball.curves.json", "--only", "always", "--no-cache"];

describe("a check of a plug-in", () => {
  test("is run, told and set like any other", async () => {
    const { stdout, code } = await shop.run([...only, "--format", "json"]);
    const [note] = JSON.parse(stdout).shots[0].notes;
    expect(note).toMatchObject({ check: "always", measured: { value: 2, unit: "m" } });
    expect(code).toBe(1);
    await shop.put("keyside.config.json", {
      plugins: ["./studio.mjs"],
      checks: { always: { size: "3 m", tier: "polish" } },
    });
    const set = JSON.parse((await shop.run([...only, "--format", "json"])).stdout).shots[0].notes[0];
    expect(set).toMatchObject({ tier: "polish", measured: { value: 3 } });
    const given = await shop.run([...only, "--set", "always.size=4", "--format", "json"]);
    expect(JSON.parse(given.stdout).shots[0].notes[0].measured.value).toBe(4);
    const bad = await shop.run([...only, "--set", "always.size=44"]);
    expect(bad).toMatchObject({ code: 2, stdout: "" });
    expect(bad.stderr).toContain("--set always.size: 44 m is above the most allowed, 9 m.");
    expect((await shop.run([...only, "--skip", "always"])).code).toBe(0);
  });

  test.each(["text", "json", "jsonl", "sarif", "junit", "html"])("is in the report %s", async (format) => {
    const { stdout } = await shop.run([...only, "--format", format]);
    expect(stdout).toContain("always");
    // What a rule, and the table of checks, say stands in the metadata of the check.
    if (format === "sarif" || format === "html") expect(stdout).toContain("Finds whatever there is.");
  });

  test("is listed and explained, in the configuration in force, and in its schema", async () => {
    expect((await shop.run(["explain"])).stdout).toMatch(/^ {2}always +Finds whatever there is\.$/m);
    const explained = (await shop.run(["explain", "always"])).stdout;
    expect(explained).toContain("How large. Source: for tests.");
    expect(explained).toContain(shop.path("studio.mjs"));
    const config = JSON.parse((await shop.run(["config", ".", "--format", "json"])).stdout);
    expect(config.run.plugins.value).toBe(shop.path("studio.mjs"));
    expect(config.checks.always).toMatchObject({
      size: { value: 2, unit: "m", from: "default" },
      module: { value: shop.path("studio.mjs") },
    });
    const schema = JSON.parse((await shop.run(["schema", "config"])).stdout);
    expect(schema.properties.checks.properties.always.anyOf[1].properties.size).toBeDefined();
  });

  test("fails alone, and the run says so", async () => {
    await shop.put("ball.curves.json", poppingDocument());
    await shop.put(
      "studio.mjs",
      pluginText(foreignCheck({ find: `() => { throw new Error("out of lace"); }` })),
    );
    const { code, stderr, stdout } = await shop.run(["check", "ball.curves.json", "--no-cache"]);
    expect(code).toBe(3);
    expect(stdout).toContain("pop");
    expect(stderr).toMatch(/The check always failed on \S+ ?.*: out of lace\. .*its module\./);
  });

  test("yields to one of the program's, and may load slowly", async () => {
    await shop.put("ball.curves.json", poppingDocument());
    const yielding = pluginText(
      foreignCheck({
        yieldsTo: '["pop"]',
        find: `(study, node) => [{
      node, figure: -1, from: 0, to: 99, measured: { quantity: "size", value: 1, unit: "m" },
      expected: { unit: "m", source: "tests" }, excess: 2, size: 1, fault: null }].filter(() => false)`,
      }),
    );
    await shop.put(
      "studio.mjs",
      yielding.replace("() => ({", "async () => (await new Promise((go) => setTimeout(go, 5)), {"),
    );
    const { code, stderr } = await shop.run(["check", "ball.curves.json", "--no-cache"]);
    expect(stderr).toBe("");
    expect(code).toBe(1);
  });
});

describe("modules that cannot be used", () => {
  const config = /keyside\.config\.json: plugins\.0: \.\/studio\.mjs: /;
  const entry = (parts: string) => `export default () => (${parts});\n`;

  test.each<[string, string | null, string | RegExp]>([
    [
      "is not there",
      null,
      "There is no such file or folder. Paths count from the folder of the configuration.",
    ],
    [
      "has no default export",
      "export const checks = [];",
      "Its default export has to be a function: export default (keyside) =>",
    ],
    ["cannot be read", "export default (\n{ oh no };", /It cannot be loaded( at line 2)?: Unexpected/],
    [
      "imports what is not there",
      'import "./helper.mjs";\nexport default () => ({});',
      /It cannot be loaded: .*helper\.mjs/,
    ],
    [
      "fails",
      "\nexport default () => {\n  throw new Error('no paper');\n};",
      "Its default export failed at line 3: no paper.",
    ],
    ["gives no object", entry("[]"), "Its default export has to give an object"],
    ["gives something else", entry("{ check: [] }"), 'A plug-in gives no "check". Did you mean "checks"?'],
    ["gives checks that are no list", entry("{ checks: {} }"), "checks: a list of checks is wanted."],
    [
      "gives a check that is taken",
      pluginText(foreignCheck({ name: '"pop"' })),
      'checks.0 ("pop"): name: another check is called "pop" already.',
    ],
    [
      "gives a check twice",
      pluginText(foreignCheck(), foreignCheck()),
      'checks.1 ("always"): name: another check is called "always" already.',
    ],
    [
      "gives a check without a reason",
      pluginText(foreignCheck({ why: "" })),
      'checks.0 ("always"): why: it is missing.',
    ],
    [
      "gives a setting of no unit",
      pluginText(foreignCheck({ settings: '{ size: { default: 1, what: "size", source: "tests" } }' })),
      /checks\.0 \("always"\): settings\.size\.unit: it is one of/,
    ],
    ["gives adapters that are no list", entry("{ adapters: {} }"), "adapters: a list of adapters is wanted."],
    ["gives an adapter that is none", entry("{ adapters: [3] }"), "adapters.0: an object is wanted"],
    [
      "gives an adapter that is taken",
      entry(`{ adapters: [${foreignAdapter({ name: '"bvh"', endings: '[".bvh"]' })}] }`),
      /adapters\.0 \("bvh"\): name: another adapter is called "bvh" already; endings: files that end with \.bvh/,
    ],
    [
      "gives an adapter of no ending",
      entry(`{ adapters: [${foreignAdapter({ endings: '["odd"]' })}] }`),
      'adapters.0 ("odd"): endings: "odd" is none',
    ],
    [
      "gives an adapter that does nothing",
      entry(`{ adapters: [${foreignAdapter({ read: "undefined" })}] }`),
      'adapters.0 ("odd"): it neither reads nor writes',
    ],
    [
      "gives an adapter with a slip of the pen",
      entry(`{ adapters: [${foreignAdapter({ raed: "() => null" })}] }`),
      'an adapter has no "raed". Did you mean "read"?',
    ],
    [
      "gives an adapter without what it cannot carry",
      entry(`{ adapters: [${foreignAdapter({ cannotCarry: "undefined" })}] }`),
      "cannotCarry: it is missing",
    ],
    [
      "gives a report that is taken",
      entry("{ reports: { sarif: () => null } }"),
      "reports.sarif: another report has this name.",
    ],
  ])("one that %s", async (_, text, message) => {
    if (text === null) await rm(shop.path("studio.mjs"));
    else await shop.put("studio.mjs", text);
    const named = ["check", "ball.curves.json", "--no-cache", "--config", "keyside.config.json"];
    const { code, stderr, stdout } = await shop.run(named);
    expect(stderr).toMatch(config);
    if (message instanceof RegExp) expect(stderr).toMatch(message);
    else expect(stderr).toContain(message);
    expect(stderr.trimEnd().split("\n")).toHaveLength(1);
    expect({ code, stdout }).toEqual({ code: 2, stdout: "" });
    // Found, not named: an error of each shot that it holds for.
    expect(await shop.run(["check", "ball.curves.json", "--no-cache"])).toMatchObject({ code: 3 });
    // What needs no plug-in goes on; what may, says why it is missing.
    expect(await shop.run(["explain", "pop"])).toMatchObject({ code: 0, stderr: "" });
    expect((await shop.run(["explain", "always"])).stderr).toMatch(config);
    expect((await shop.run(only)).stderr).toMatch(config);
  });

  test("an adapter or a report that fails names its module", async () => {
    await shop.put(
      "studio.mjs",
      entry(`{
      adapters: [${foreignAdapter({ read: `(bytes) => { if (bytes[0] === 120) throw new Error("an x"); return {}; }`, write: '() => ({ files: [{ name: "../a", content: "" }], lost: [] })' })}],
      reports: {
        cross: () => ({ begin: () => "", shot: () => { throw new Error("no ink"); }, error: () => "", end: () => "" }),
        mute: () => ({ begin: () => null, shot: () => "", error: () => "", end: () => "" }),
        half: () => ({ begin: () => "" }),
      },
    }`),
    );
    await shop.put("a.odd", "x");
    await shop.put("b.odd", "y");
    const read = await shop.run(["check", "a.odd", "b.odd", "--no-cache"]);
    expect(read.code).toBe(3);
    const module = shop.path("studio.mjs");
    expect(read.stderr).toContain(`a.odd: ${module}: The adapter "odd" failed in read at line 2: an x.`);
    expect(read.stderr).toContain(`b.odd: ${module}: The adapter "odd" gave no result`);
    const written = await shop.run(["convert", "ball.curves.json", "ball.odd"]);
    expect(written.code).toBe(3);
    expect(written.stderr).toContain('The adapter "odd" gave no files');
    const report = (format: string) =>
      shop.run(["check", "ball.curves.json", "--no-cache", "--format", format]);
    expect(await report("cross")).toMatchObject({
      code: 3,
      stderr: `keyside: ${module}: The report cross failed at line 4: no ink.\n`,
    });
    expect((await report("mute")).stderr).toContain('The report mute: "begin" has to give a text.');
    expect((await report("half")).stderr).toContain('The report half has no function "shot"');
  });
});

describe("whose code is run", () => {
  test("none for a configuration that is only found beside a shot", async () => {
    const elsewhere = await mkdtemp(join(tmpdir(), "keyside-elsewhere-"));
    const trace = join(elsewhere, "ran");
    await shop.put(
      "studio.mjs",
      `import { writeFileSync } from "node:fs";\nwriteFileSync(${JSON.stringify(trace)}, "");\n${pluginText(foreignCheck())}`,
    );
    try {
      const shot = shop.path("ball.curves.json");
      const { code, stderr, stdout } = await shop.run(["check", shot, "--no-cache"], { cwd: elsewhere });
      expect(code).toBe(3);
      expect(stderr).toContain("plugins.0: ./studio.mjs is code, and is not run");
      expect(stderr).toContain(`--config, or run Keyside in ${shop.folder}.`);
      expect(stdout).not.toContain("always");
      await expect(rm(trace)).rejects.toThrow(/ENOENT/);
      const named = ["check", shot, "--no-cache", "--config", shop.path("keyside.config.json")];
      expect((await shop.run(named, { cwd: elsewhere })).stdout).toContain("always");
      await rm(trace);
    } finally {
      await rm(elsewhere, { recursive: true });
    }
  });

  test("that of a configuration above the folder, whose checks one beside a shot may set", async () => {
    await mkdir(shop.path("show/shots"), { recursive: true });
    await shop.put("show/shots/ball.curves.json", cleanDocument());
    const inShow = { cwd: shop.path("show") };
    const shot = ["check", "shots/ball.curves.json", "--no-cache", "--only", "always", "--format", "json"];
    const measured = async () =>
      JSON.parse((await shop.run(shot, inShow)).stdout).shots[0].notes[0].measured.value;
    expect(await measured()).toBe(2);
    await shop.put("show/shots/keyside.config.json", { checks: { always: { size: 5 } } });
    expect(await measured()).toBe(5);
    await shop.put("show/shots/keyside.config.json", {
      plugins: ["../../studio.mjs"],
      checks: { always: { size: 6 } },
    });
    expect(await measured()).toBe(6);
    await shop.put("show/shots/keyside.config.json", { plugins: ["./studio.mjs"] });
    await shop.put("show/shots/studio.mjs", "throw new Error('must not run');");
    expect((await shop.run(shot, inShow)).stderr).toContain(
      "plugins.0: ./studio.mjs is code, and is not run",
    );
  });
});

describe("results that are kept", () => {
  test("know the content of modules, and of what those import by relative paths", async () => {
    await shop.put("helper.mjs", "export const size = 2;\n");
    await shop.put(
      "studio.mjs",
      `import { size } from "./helper.mjs";\n${pluginText(
        foreignCheck({
          find: `(study, node) => [{
      node, figure: -1, from: 0, to: 1, measured: { quantity: "size", value: size, unit: "m" },
      expected: { unit: "m", source: "tests" }, excess: 2, size: 1, fault: null }]`,
        }),
      )}`,
    );
    const argv = ["check", "ball.curves.json", "--only", "always", "--format", "json", "--cache", "kept"];
    const run = async () => JSON.parse((await shop.run(argv)).stdout).shots[0].notes[0].measured.value;
    expect(await run()).toBe(2);
    expect(await run()).toBe(2);
    await shop.put("helper.mjs", "export const size = 7;\n");
    expect(await run()).toBe(7);
    await shop.put("studio.mjs", pluginText(foreignCheck()).replace("default: 2", "default: 8"));
    expect(await run()).toBe(8);
  });
});
