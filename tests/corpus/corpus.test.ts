import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { registry, resolveSettings } from "@keyside/core";
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { corpusModule } from "./load.ts";

interface Source {
  readonly name: string;
}

const { allSources, madeSource } = await corpusModule("sources.mjs");
const { judged } = await corpusModule("rows.mjs");
const { differenceOf } = await corpusModule("diff.mjs");
const { sourceLines } = await corpusModule("report.mjs");
const { runCorpus } = await corpusModule("command.mjs");

const committed = fileURLToPath(new URL("notes", import.meta.url));
const sources: readonly Source[] = allSources();
const sourceOf = (name: string) => sources.find((source) => source.name === name);

/** Runs the command; what it says, line by line. */
async function run(argv: readonly string[], place: { sources?: readonly Source[]; folder?: string } = {}) {
  const said: string[] = [];
  const complaints: string[] = [];
  const code: number = await runCorpus(argv, {
    sources,
    folder: committed,
    print: (line: string) => said.push(line),
    complain: (line: string) => complaints.push(line),
    ...place,
  });
  return { code, said: said.join("\n"), complaints: complaints.join("\n") };
}

describe("the committed corpus", () => {
  test("has a file for every source, and no other", () => {
    const files = sources.map(({ name }) => `${name}.txt`);
    expect(readdirSync(committed).toSorted()).toEqual(files.toSorted());
  });

  test.each(["steps_0110_v2", "forward-jump-at-24"])(
    "says of %s what the code says; else npm run corpus -- --write is due",
    async (name) => {
      const { code, said } = await run(["--source", name]);
      expect(said).toMatch(/^No difference: \d+ notes on 1 shots\.$/);
      expect(code).toBe(0);
    },
  );
});

describe("a changed setting shows", () => {
  const source = sourceOf("steps_0110_v2");
  const changedBy = async (choice: object) => {
    const [before, after] = [
      await judged(source),
      await judged(source, resolveSettings(registry, { checks: { pop: choice } })),
    ];
    return sourceLines("steps", differenceOf(before.rows, after.rows)).join("\n");
  };

  test("where a threshold silences a note", async () => {
    const values = { floor: { value: 0.5, unit: "H" }, angleFloor: { value: 60, unit: "deg" } };
    expect(await changedBy({ values })).toMatch(
      /^ {4}- major head, frame 58: deviation in angle [\d.]+ rad; keys head \S+ 58/m,
    );
  });

  test("where a note says another measure", async () => {
    const { rows } = await judged(source);
    const after = rows.map((row: { check: string }) =>
      row.check === "pop" ? { ...row, quantity: "deviation from the path" } : row,
    );
    expect(sourceLines("steps", differenceOf(rows, after)).join("\n")).toMatch(
      /^steps\n {2}pop\n {4}~ \w+ head, frame 58: .*quantity deviation in angle → deviation from the path$/,
    );
  });

  test("where a note gets another tier", async () => {
    expect(await changedBy({ tier: "polish" })).toContain("~ polish head, frame 58: tier major → polish");
  });
});

test("a shot that a program makes gives what its file gives", async () => {
  const file = new URL("../../demo/shots/steps_0110_v2.curves.json", import.meta.url);
  const made = madeSource("made", "made.mjs", () => readFileSync(file, "utf8"));
  expect(await judged(made)).toEqual(await judged(sourceOf("steps_0110_v2")));
});

describe("the command", () => {
  let folder: string;
  const some = sources.filter(({ name }) => name.startsWith("steps_0110"));
  const here = (argv: readonly string[], of = some) => run(argv, { sources: of, folder });
  const fileOf = (name: string) => join(folder, `${name}.txt`);
  const edit = (name: string, change: (text: string) => string) =>
    writeFileSync(fileOf(name), change(readFileSync(fileOf(name), "utf8")));
  beforeEach(() => {
    folder = mkdtempSync(join(tmpdir(), "corpus-"));
  });
  afterEach(() => rmSync(folder, { recursive: true }));

  test("tells of new sources, writes them on demand alone, and then finds no difference", async () => {
    const first = await here([]);
    expect(first.code).toBe(1);
    expect(first.said).toMatch(/^steps_0110_v1\n[\s\S]*^ {4}\+ [\s\S]*^all +0 +\d+ +0 +0$/m);
    expect(readdirSync(folder)).toEqual([]);
    const written = await here(["--write"]);
    expect(written.code).toBe(0);
    expect(written.said).toContain(first.said);
    expect(await here([])).toMatchObject({ code: 0, complaints: "" });
  });

  test("limits itself to the sources that are named, also in writing", async () => {
    expect((await here(["--write", "--source", "steps_0110_v2"])).said).not.toContain("steps_0110_v1");
    expect(readdirSync(folder)).toEqual(["steps_0110_v2.txt"]);
  });

  test("tells of what is gone, new and changed against the committed lines", async () => {
    await here(["--write"]);
    edit("steps_0110_v2", (text) =>
      text
        .replace(/^(pop +)major /m, "$1minor ")
        .replace(/^flat-foot +major .*\n/m, "")
        .concat("hitch  minor  hips  hips  3  0.1 m  spacing in the hitch, per frame  -\n"),
    );
    const { code, said } = await here([]);
    expect(code).toBe(1);
    expect(said).toContain("~ major head, frame 58: tier minor → major");
    expect(said).toContain("+ major foot_l, frames 34 to 40:");
    expect(said).toContain("- minor hips, frame 3: spacing in the hitch, per frame 0.1 m; no keys");
  });

  test("tells of a head that no longer counts what stands under it", async () => {
    await here(["--write"]);
    edit("steps_0110_v2", (text) => text.replace(/^# all .*$/m, "# all 0"));
    const { code, said } = await here([]);
    expect(code).toBe(1);
    expect(said).toMatch(/^steps_0110_v2\n {2}the notes are the same, but the head/);
  });

  test("names the line of a file that cannot be read, and how to go on", async () => {
    await here(["--write"]);
    edit("steps_0110_v2", (text) => `${text}=======\n`);
    const { code, said } = await here(["--source", "steps_0110_v2"]);
    expect(code).toBe(1);
    expect(said).toContain(fileOf("steps_0110_v2"));
    expect(said).toMatch(/Line \d+ is no note: =======\. .*\n.*npm run corpus -- --write/);
    await here(["--write"]);
    expect((await here([])).code).toBe(0);
  });

  test("takes out the file of a source that is no more, and no file that is not its own", async () => {
    await here(["--write"]);
    writeFileSync(fileOf("mine"), "my own words\n");
    const fewer = some.slice(0, 1);
    const { code, said } = await here([], fewer);
    expect(code).toBe(1);
    expect(said).toMatch(/steps_0110_v2\n {2}there is no such source any more; \d+ notes are gone/);
    expect(existsSync(fileOf("steps_0110_v2"))).toBe(true);
    await here(["--write"], fewer);
    expect(readdirSync(folder).toSorted()).toEqual(["mine.txt", "steps_0110_v1.txt"]);
  });

  test("does nothing for a source that there is not, or an option", async () => {
    expect(await here(["--write", "--source", "steps_0110_v3"])).toEqual({
      code: 2,
      said: "",
      complaints:
        '--source: there is no source "steps_0110_v3". Did you mean "steps_0110_v1"? ' +
        "The corpus has steps_0110_v1, steps_0110_v2.",
    });
    const { code, complaints } = await here(["--wriet"]);
    expect(code).toBe(2);
    expect(complaints).toMatch(/--wriet[\s\S]*Use: npm run corpus -- \[--write\] \[--source NAME\]/);
    expect(readdirSync(folder)).toEqual([]);
  });
});
