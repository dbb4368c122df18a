import { mkdir, readdir, readFile } from "node:fs/promises";
import { fileURLToPath } from "node:url";
import { Ajv2020 } from "ajv/dist/2020.js";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { reportJsonSchema, reportSchema } from "../../../packages/core/notes/report-schema.ts";
import { stackTrace, Workshop } from "./run-in-process.ts";
import { cleanDocument, poppingDocument } from "./shots-for-tests.ts";

let shop: Workshop;
beforeAll(async () => {
  shop = await Workshop.open();
  await shop.put("pop.curves.json", JSON.stringify(poppingDocument(), null, 1));
  await shop.put("clean.curves.json", cleanDocument());
});
afterAll(() => shop.close());

const quay = fileURLToPath(new URL("../../../demo/shots/quay_0070_v1.curves.json", import.meta.url));

describe("exit codes", () => {
  test("0 where nothing is found", async () => {
    expect((await shop.run(["check", "clean.curves.json", "--only", "pop"])).code).toBe(0);
  });

  test("1 at the tier that fails, 0 below it", async () => {
    const { stdout } = await shop.run(["check", "pop.curves.json", "--only", "pop", "--format", "json"]);
    const [note] = reportSchema.parse(JSON.parse(stdout)).shots[0].notes;
    expect(note.check).toBe("pop");
    const fails = (tier: string) =>
      shop.run(["check", "pop.curves.json", "--only", "pop", "--fail-on", tier]);
    expect((await fails("polish")).code).toBe(1);
    expect((await fails("broken")).code).toBe(0);
    expect((await fails(note.tier)).code).toBe(1);
  });

  test.each<[readonly string[], string]>([
    [["chekc", "pop.curves.json"], "unknown command 'chekc' (Did you mean check?)"],
    [["check", "--formt", "json", "pop.curves.json"], "unknown option '--formt' (Did you mean --format?)"],
    [["check", "--format", "jsn", "pop.curves.json"], 'Did you mean "json"?'],
    [["check", "--fail-on", "majr", "pop.curves.json"], 'Did you mean "major"?'],
    [["check", "--style", "snapy", "pop.curves.json"], 'Did you mean "snappy"?'],
    [["check", "--only", "popp", "pop.curves.json"], 'There is no check "popp". Did you mean "pop"?'],
    [["check", "--only", ",", "pop.curves.json"], "Name at least one check."],
    [["check", "--rate", "film", "pop.curves.json"], "A rate is a number above 0"],
    [["check", "--rate", "0", "pop.curves.json"], "A rate is a number above 0"],
    [["calibrate", "--out", "c.json"], "missing required argument 'path'"],
    [["check", "pop.curves.json", "--stdin-filename", "x.bvh"], "it goes with the path -."],
    [["check", "-", "pop.curves.json"], "The path - stands alone"],
    [["check", "-", "--changed-since", "HEAD"], "The path - stands alone"],
    [["check", "--out"], "option '--out <FILE>' argument missing"],
    [["check", "--config", "nowhere.json", "pop.curves.json"], "nowhere.json: There is no such file"],
    [["explain", "popp"], 'There is no check "popp". Did you mean "pop"?'],
    [["explain", "pop", "hitch"], "too many arguments"],
    [["schema", "reprot"], 'Did you mean "report"?'],
    [["convert", "pop.curves.json"], "missing required argument 'out'"],
    [
      ["convert", "pop.curves.json", "pop.txt"],
      "Files of this kind are not written; name it *.curves.json, *.bvh, *.gltf, *.glb, *.csv.",
    ],
  ])("2 for %j", async (argv, reason) => {
    const { code, stdout, stderr } = await shop.run(argv);
    expect(code).toBe(2);
    expect(stdout).toBe("");
    expect(stderr).toContain(reason);
    expect(stderr.trim().split("\n")).toHaveLength(1);
    expect(stderr).toMatch(/^keyside: /);
  });

  test("2, with help, for no command at all", async () => {
    const { code, stderr } = await shop.run([]);
    expect(code).toBe(2);
    expect(stderr).toContain("keyside check shots/");
  });
});

describe("the report as JSON", () => {
  test("agrees with its published schema and names the causing key's line and column", async () => {
    const { stdout } = await shop.run(["check", "pop.curves.json", "clean.curves.json", "--format", "json"]);
    const data = JSON.parse(stdout);
    const validate = new Ajv2020({ strict: false }).compile(reportJsonSchema());
    expect(validate(data), JSON.stringify(validate.errors)).toBe(true);
    const report = reportSchema.parse(data);
    expect(report.shots.map((shot) => shot.file)).toEqual(["clean.curves.json", "pop.curves.json"]);
    const [, shot] = report.shots;
    expect(shot).toMatchObject({ name: "pier_0010", frameRate: 24, range: [1, 96] });
    const pop = shot.notes.find((note) => note.check === "pop");
    const key = pop?.keys[0];
    expect(key).toMatchObject({ node: "post", channel: "rotation.z", frame: 48 });
    // The place is that of the key's own bracket.
    const text = await readFile(shop.path("pop.curves.json"), "utf8");
    const rest = text
      .split("\n")
      .slice((key?.line ?? 0) - 1)
      .join("\n")
      .slice((key?.column ?? 0) - 1);
    expect(rest.replace(/\s+/g, "")).toMatch(/^\[48,/);
  });

  test("holds only the tiers that are asked for", async () => {
    const { stdout } = await shop.run(["check", "pop.curves.json", "--format", "json", "--tier", "broken"]);
    expect(JSON.parse(stdout).shots[0].notes).toEqual([]);
  });
});

describe("the report as text", () => {
  test("is taken in at a glance: a line for each note, the reason once, and what to do next", async () => {
    const { stdout } = await shop.run(["check", "pop.curves.json", "clean.curves.json"]);
    expect(stdout).toMatch(/^pier_0010 {2}pop\.curves\.json, 24 fps, frames 1 to 96$/m);
    expect(stdout).toMatch(/\n {2}tier +frames +part +check +measured +limit +first key\n/);
    const row = /^ {2}major {2}48 +post +pop +\S+° +at most \S+° +post rotation\.z 48$/m;
    expect(stdout).toMatch(row);
    expect(stdout.match(/^ {4}pop {2,}Nothing with weight/gm)).toHaveLength(1);
    expect(stdout).toMatch(/\n\d+ notes? in 2 shots: /);
    for (const next of ["--long", "keyside fix FILE", "keyside sheet FILE"])
      expect(stdout).toContain(`\n  ${next}`);
  });

  test("has the heaviest note first, in columns that stand under their heads", async () => {
    const argv = ["check", quay, "--no-cache"];
    const { stdout } = await shop.run(argv);
    const lines = stdout.split("\n");
    const first = lines.findIndex((line) => /^ {2}tier /.test(line));
    const head = lines[first] ?? "";
    const rows = lines.slice(first + 1, lines.indexOf("", first));
    const { shots } = reportSchema.parse(JSON.parse((await shop.run([...argv, "--format", "json"])).stdout));
    const notes = shots[0]?.notes ?? [];
    expect(notes.length).toBeGreaterThan(5);
    const at = head.indexOf("check");
    expect(rows.map((row) => row.slice(at).split(" ")[0])).toEqual(notes.map(({ check }) => check));
    for (const row of rows) {
      for (const { index = 0 } of head.matchAll(/\S+(?: \S+)*/g)) expect(row[index - 1] ?? " ").toBe(" ");
    }
  });

  test.each([40, 60, 80, 100])("fits %d columns, and says nothing by colour alone", async (columns) => {
    // In full, the line with the frames is not broken.
    for (const more of columns < 60 ? [[]] : [[], ["--long"]]) {
      const { stdout } = await shop.run(["check", quay, "--no-cache", ...more], { columns });
      const [, ...lines] = stdout.split("\n");
      for (const line of lines) expect(line.length, line).toBeLessThanOrEqual(columns);
      expect(stdout).not.toContain("\u001b[");
      expect(stdout).toContain("major");
    }
  });

  test("is for a person: --long with another format is refused", async () => {
    const { code, stderr } = await shop.run(["check", "pop.curves.json", "--long", "--format", "json"]);
    expect(code).toBe(2);
    expect(stderr).toContain("--long is for the text report");
  });

  test("stands by shot and part in full, wrapped, without colour where nobody can see it", async () => {
    const argv = ["check", "pop.curves.json", "--only", "pop", "--long"];
    const { stdout } = await shop.run(argv, { columns: 60 });
    expect(stdout).not.toContain("\u001b[");
    expect(stdout).toMatch(/^pier_0010 {2}pop\.curves\.json, 24 fps, frames 1 to 96\n/);
    expect(stdout).toMatch(/\n {2}\w+\n {4}(major|minor|polish) {2}pop, frames? /);
    expect(stdout).toMatch(/\n {6}keys {2}post rotation\.z frame 48 \d+:\d+/);
    expect(stdout).toMatch(/\n\d+ notes? in 1 shot: /);
    for (const line of stdout.split("\n").slice(1)) expect(line.length).toBeLessThanOrEqual(60);
  });

  test("has colour at a terminal", async () => {
    const argv = ["check", "pop.curves.json", "--only", "pop"];
    const coloured = await shop.run(argv, { isTTY: true });
    expect(coloured.stdout).toContain("\u001b[");
    const plain = await shop.run(argv, { isTTY: true, env: { NO_COLOR: "1" } });
    expect(plain.stdout).not.toContain("\u001b[");
  });

  test("counts what it does not show", async () => {
    const { stdout } = await shop.run(["check", "pop.curves.json", "--only", "pop", "--tier", "broken"]);
    expect(stdout).toContain("No notes at this tier.");
    expect(stdout).toMatch(/\(\d+ lighter than broken not shown\)/);
  });
});

describe("--out", () => {
  test("writes the report, and overwrites only when told to", async () => {
    const argv = ["check", "clean.curves.json", "--only", "pop", "--format", "json", "--out", "report.json"];
    const first = await shop.run(argv);
    expect(first).toMatchObject({
      code: 0,
      stdout: "0 notes in 1 shot; written to report.json.\n",
      stderr: "",
    });
    expect(
      reportSchema.parse(JSON.parse(await readFile(shop.path("report.json"), "utf8"))).shots,
    ).toHaveLength(1);
    const again = await shop.run(argv);
    expect(again.code).toBe(2);
    expect(again.stderr).toBe("keyside: report.json is there already; --force overwrites it.\n");
    expect((await shop.run([...argv, "--force"])).code).toBe(0);
    expect((await readdir(shop.folder)).filter((name) => name.endsWith(".part"))).toEqual([]);
  });

  test("into a folder that is not there is exit code 3", async () => {
    const { code, stderr } = await shop.run(["check", "clean.curves.json", "--out", "no/report.txt"]);
    expect(code).toBe(3);
    expect(stderr).toBe(
      "keyside: no/report.txt: The folder in which it is to be written does not exist; make it first.\n",
    );
  });
});

describe("configuration", () => {
  test("the nearest one upward holds", async () => {
    await mkdir(shop.path("show/seq/blocking"), { recursive: true });
    await shop.put("show/keyside.config.json", {
      checks: { pop: false },
      ignore: ["seq/blocking/**"],
    });
    await shop.put("show/seq/a.curves.json", poppingDocument());
    await shop.put("show/seq/blocking/b.curves.json", poppingDocument());
    const json = async (...argv: string[]) =>
      reportSchema.parse(JSON.parse((await shop.run(["check", ...argv, "--format", "json"])).stdout));
    const held = await json("show");
    expect(held.shots.map((shot) => shot.file)).toEqual(["show/seq/a.curves.json"]);
    expect(held.shots[0].notes.map((note) => note.check)).not.toContain("pop");
    // A file that is named is checked though its folder is left out; the command line goes before the file.
    const named = await json("show/seq/blocking/b.curves.json", "--only", "pop");
    expect(named.shots[0].notes.map((note) => note.check)).toContain("pop");
  });

  test("a faulty one is named with its place and ends with 2, whether it was asked for or found; the rest is judged", async () => {
    await shop.put("bad.json", { checks: { pops: false } });
    const asked = await shop.run(["check", "clean.curves.json", "--config", "bad.json"]);
    expect(asked.code).toBe(2);
    expect(asked.stderr).toBe(
      'keyside: bad.json: checks.pops: There is no check of this name. Did you mean "pop"?\n',
    );
    await mkdir(shop.path("faulty"), { recursive: true });
    await shop.put("faulty/keyside.config.json", "{ rate: 24 }");
    await shop.put("faulty/a.curves.json", cleanDocument());
    const found = await shop.run(["check", "faulty/a.curves.json", "clean.curves.json", "--only", "pop"]);
    expect(found.code).toBe(2);
    expect(found.stderr).toContain("keyside.config.json: This is not JSON. Line 1, column 3: ");
    expect(found.stdout).toContain("0 notes in 1 shot");
  });

  test("failOn and tiers come from it", async () => {
    await shop.put("strict.json", { failOn: "polish", checks: { pop: { tier: "polish" } } });
    const argv = ["check", "pop.curves.json", "--only", "pop", "--config", "strict.json"];
    const { code, stdout } = await shop.run([...argv, "--format", "json"]);
    expect(code).toBe(1);
    expect(JSON.parse(stdout).shots[0].notes[0].tier).toBe("polish");
    expect((await shop.run([...argv, "--fail-on", "major"])).code).toBe(0);
  });
});

test("a figure that no shot has is wrong use", async () => {
  const { code, stderr } = await shop.run(["check", "clean.curves.json", "--figure", "heron"]);
  expect(code).toBe(2);
  expect(stderr).toMatch(/No shot has a figure "heron"/);
});

test("a figure's notes alone", async () => {
  const notes = async (...argv: string[]) =>
    JSON.parse((await shop.run(["check", "pop.curves.json", "--format", "json", ...argv])).stdout).shots[0]
      .notes;
  const all: { figure: string | null }[] = await notes();
  const own: { figure: string | null }[] = await notes("--figure", "post");
  expect(own.length).toBeGreaterThan(0);
  expect(own).toEqual(all.filter((note) => note.figure === "post"));
});

test("--rate judges the frames that will be seen", async () => {
  // At 24 of its 48 frames per second the odd frames are seen, and the stray key on frame 48 is not.
  const document = poppingDocument();
  await shop.put("fast.curves.json", { ...document, shot: { ...document.shot, frameRate: 48 } });
  const argv = ["check", "fast.curves.json", "--only", "pop", "--fail-on", "polish"];
  expect((await shop.run(argv)).code).toBe(1);
  expect((await shop.run([...argv, "--rate", "24"])).code).toBe(0);
  expect((await shop.run([...argv, "--rate", "48/1"])).code).toBe(1);
});

test("help names the commands, examples and exit codes, and leaves stderr alone", async () => {
  const { code, stdout, stderr } = await shop.run(["--help"]);
  expect(code).toBe(0);
  expect(stderr).toBe("");
  for (const word of ["check", "explain", "schema", "convert", "Examples:", "Exit codes:"]) {
    expect(stdout).toContain(word);
  }
  expect((await shop.run(["check", "--help"])).stdout).toContain("--fail-on");
  expect(stdout).not.toMatch(stackTrace);
});

test("every option is described for users", async () => {
  const help = (await shop.run(["check", "--help"])).stdout;
  const docs = await readFile(new URL("../../../docs/command.md", import.meta.url), "utf8");
  const options = [...help.matchAll(/^ {2}(?:-\w, )?(--[a-z-]+)/gm)].map((match) => match[1]);
  expect(options).toContain("--fail-on");
  for (const option of options) if (option !== "--help") expect(docs).toContain(`\`${option}`);
});
