import { readdirSync, readFileSync } from "node:fs";
import { dirname, relative, resolve } from "node:path";
import { fileURLToPath } from "node:url";
import { registry } from "@keyside/core";
import { describe, expect, test } from "vitest";
import { shotsModule } from "./load.ts";
import type { FaultRecord, FixFound, PlainNote, Results, ShotRecord } from "./scores/records.d.ts";
import type { FaultKind } from "./types.d.ts";

const { faultKinds } = await shotsModule("faults/index.mjs");
const { optionsIn } = await shotsModule("options.mjs");
const { changedFiles, seedOfCommit } = await shotsModule("seeds.mjs");
const { closing, fullReport, opening, replacedBetween, shortReport } = await shotsModule("report/pages.mjs");
const { picture } = await shotsModule("report/picture.mjs");
const tables = await shotsModule("report/tables.mjs");
const { firstNotesSay, quantileOf, rowOf, tallyOf } = await shotsModule("report/tally.mjs");
const { tinyBuild, tinyKinds, tinyPlan } = await shotsModule("scores/tiny.mjs");

const checks = registry.map(({ name }) => name);
const at: PlainNote = {
  index: 0,
  check: "pop",
  tier: "major",
  joint: "head",
  seenAt: "head",
  from: 3,
  to: 4,
  message: "",
};

const fix: FixFound = {
  found: true,
  name: "pop",
  sketch: false,
  cleared: true,
  left: 0,
  changed: 1,
  added: 0,
  moves: 1,
  outside: 0,
  astray: false,
  plant: false,
  prop: false,
  otherFigure: false,
  frozen: false,
};

const fault = (more: Partial<FaultRecord> = {}): FaultRecord => ({
  kind: "pop",
  checks: ["pop"],
  strength: 1,
  size: 15,
  unit: "°",
  measured: 15,
  figure: "waver",
  joint: "head",
  from: 3,
  to: 4,
  plannedKeys: 1,
  overlaps: true,
  sharesLimb: false,
  weight: 0.2,
  said: true,
  note: at,
  sharesNote: false,
  rightKey: "planned",
  gone: 0,
  nearby: [],
  fix,
  ...more,
});
const missed = (more: Partial<FaultRecord> = {}) =>
  fault({ said: false, note: null, rightKey: null, fix: null, ...more });

const shot = (more: Partial<ShotRecord> = {}): ShotRecord => ({
  index: 0,
  name: "one",
  body: "two legs",
  stage: "splined",
  spacing: 5,
  frames: 200,
  twin: [],
  full: { all: 6, major: 4, minor: 2 },
  faults: [fault(), missed({ strength: 0 }), missed({ kind: "wrong weight", checks: [], strength: 2 })],
  biggest: { fault: 0, saidBy: 1 },
  dropped: [
    { kind: "pop", strength: 2, reason: "too weak alone" },
    { kind: "hitch", strength: -1, reason: "no place" },
  ],
  ...more,
});

const results = (shots: ShotRecord[]): Results => ({
  seed: "a seed",
  commit: null,
  shots,
  captures: [{ name: "jump.bvh", frames: 50, notes: { all: 2, major: 1, minor: 1 } }],
  failed: [],
});

describe("adding up", () => {
  test("said, right key, duplicates and fixes are shares of what they are about", () => {
    const tally = tallyOf([
      fault(),
      fault({ rightKey: "restored", gone: 2, strength: 2 }),
      fault({ rightKey: null, gone: 1, fix: { ...fix, cleared: false, changed: 5 } }),
      missed({ gone: 1 }),
      fault({ fix: { found: false } }),
      fault({ fix: { ...fix, plant: true, changed: 3 } }),
    ]);
    expect(tally).toMatchObject({
      planted: 6,
      said: { hits: 5, of: 6 },
      byStrength: [{ of: 0 }, { hits: 4, of: 5 }, { hits: 1, of: 1 }],
      rightKey: { hits: 4, of: 5 },
      planned: { hits: 3, of: 5 },
      duplicates: 3 / 5,
      saidElse: { hits: 1, of: 1 },
      fixes: {
        found: { hits: 4, of: 5 },
        cleared: { hits: 3, of: 4 },
        sound: { hits: 2, of: 4 },
        plant: { hits: 1, of: 4 },
        changed: 2,
      },
    });
  });

  test("a sketch is no fix: it has a count of its own, and what it breaks is no damage of a fix", () => {
    const tally = tallyOf([
      fault(),
      fault({ fix: { ...fix, sketch: true, plant: true, changed: 400 } }),
      fault({ fix: { ...fix, changed: 30, added: 2, moves: 3 } }),
      fault({ fix: { ...fix, astray: true } }),
      fault({ fix: { found: false } }),
    ]);
    expect(tally.fixes).toMatchObject({
      found: { hits: 3, of: 5 },
      verified: { hits: 2, of: 5 },
      sketches: { hits: 1, of: 5 },
      damage: { hits: 1, of: 3 },
      plant: { hits: 0, of: 3 },
      keys: 1,
      moves: 1,
    });
    expect(tally.fixes.keysWorst).toBeGreaterThan(25);
    expect(tally.fixes.movesWorst).toBeGreaterThan(2);
  });

  test("a fault stands in its check's row, or in that of the first check that says it", () => {
    expect(rowOf({ kind: "pop", checks: ["hitch"] }, checks)).toBe("pop");
    expect(rowOf({ kind: "hard stop", checks: ["pop", "hard-stop"] }, checks)).toBe("hard-stop");
    expect(rowOf({ kind: "knock", checks: ["no such check", "hitch", "pop"] }, checks)).toBe("hitch");
    expect(rowOf({ kind: "wrong weight", checks: [] }, checks)).toBeNull();
  });

  test("the first notes say the biggest fault, of the shots that have one", () => {
    const shots = [0, 1, 4, null].map((saidBy) => shot({ biggest: { fault: 0, saidBy } }));
    const all = results([...shots, shot({ biggest: null })]);
    expect(firstNotesSay(all, 1)).toEqual({ hits: 1, of: 4 });
    expect(firstNotesSay(all, 2)).toEqual({ hits: 2, of: 4 });
  });

  test("quantiles lie between the numbers", () => {
    expect(quantileOf([4, 1, 3, 2], 0.5)).toBe(2.5);
    expect(quantileOf([1, 2, 3], 1)).toBe(3);
    expect(quantileOf([], 0.5)).toBeNull();
  });
});

describe("tables", () => {
  test("by check: shares at each strength, the interval of all, and kinds that no check names", () => {
    const table: string = tables.byCheck(results([shot()]), checks);
    expect(table.split("\n").slice(2)).toEqual([
      "| `pop` | 2 | 0.00 | 1.00 | — | 0.50 (0.09–0.91) | 1.00 |",
      "| wrong weight (no check names it) | 1 | — | — | 0.00 | 0.00 (0.00–0.79) | — |",
      "| all | 3 | 0.00 | 1.00 | 0.00 | 0.33 (0.06–0.79) | 1.00 |",
    ]);
    expect(tables.unplanted(results([shot()]), ["pop", "hitch"])).toBe("No fault stands for `hitch`.");
  });

  test("false notes by tier per 1,000 frames, by kind of shot and of captures", () => {
    const table: string = tables.falseNotes(
      results([shot({ twin: [at, { ...at, tier: "minor" }] }), shot({ stage: "dense", frames: 800 })]),
    );
    expect(table.split("\n").slice(2)).toEqual([
      "| splined | 200 | 0.00 | 5.00 | 5.00 | 0.00 | 10.00 |",
      "| dense | 800 | 0.00 | 0.00 | 0.00 | 0.00 | 0.00 |",
      "| all | 1000 | 0.00 | 1.00 | 1.00 | 0.00 | 2.00 |",
      "| recording jump.bvh | 50 | 0.00 | 20.00 | 20.00 | 0.00 | 40.00 |",
    ]);
  });

  test("what is dropped is counted by kind and reason", () => {
    const table: string = tables.byKind(results([shot(), shot({ faults: [] })]));
    expect(table.split("\n").slice(2)).toEqual([
      "| hitch | 0 | — |  | 2 |  |",
      "| pop | 2 | 1 of 2 | `pop` 1 | 0 | too weak alone 2 |",
      "| wrong weight | 1 | 0 of 1 |  | 0 |  |",
    ]);
  });

  test("notes to read are those per 100 frames on twins, faulty shots and captures", () => {
    expect(tables.summary(results([shot({ twin: [at] })]))).toContain("captures | 0.50, 3.00, 4.00 |");
  });

  test("the report names its commit or its seed", () => {
    const text = shortReport({ ...results([shot()]), commit: "0123456789abcdef" }, checks);
    expect(text).toContain("drawn from commit 0123456789ab");
    expect(fullReport(results([shot()]), checks)).toContain('drawn from seed "a seed"');
  });

  test("goes between the markers of a page, and nowhere else", () => {
    const page = `# Title\n\n${opening}\nold\n${closing}\n\nbelow\n`;
    expect(replacedBetween(page, "new", "page")).toBe(`# Title\n\n${opening}\nnew\n${closing}\n\nbelow\n`);
    expect(() => replacedBetween("# Title\n", "new", "README.md")).toThrow(/README\.md has to hold/);
    expect(() => replacedBetween(`${closing}${opening}`, "new", "page")).toThrow(/has to hold/);
    for (const name of ["README.md", "docs/shots-bench.md"]) {
      const path = fileURLToPath(new URL(`../../../${name}`, import.meta.url));
      expect(() => replacedBetween(readFileSync(path, "utf8"), "new", name)).not.toThrow();
    }
  });
});

describe("seeds", () => {
  const git = (status: string) => (command: string[]) => (command[0] === "rev-parse" ? "abc123\n" : status);
  test("a report's seed is its commit, as long as nothing but documentation is changed", () => {
    expect(seedOfCommit("", git(""))).toEqual({ seed: "commit abc123", commit: "abc123" });
    expect(seedOfCommit("", git(" M docs/shots-bench.md\n M README.md\n"))).toMatchObject({
      commit: "abc123",
    });
    expect(() => seedOfCommit("", git(" M packages/core/index.ts\n?? tests/a.mjs\n"))).toThrow(
      /not committed: packages\/core\/index\.ts, tests\/a\.mjs\. Commit them, or give a seed: --seed TEXT/,
    );
  });

  test("renamed files count under both names", () => {
    expect(changedFiles('R  docs/a.md -> packages/a.md\n?? "docs/b c.md"\n')).toEqual([
      "docs/a.md",
      "packages/a.md",
      "docs/b c.md",
    ]);
  });

  test("what can be asked for, and what cannot", () => {
    const options = (...args: string[]) => optionsIn(args, checks);
    expect(options()).toMatchObject({ seed: "development", shots: 24, report: false });
    expect(options("--report")).toMatchObject({ seed: null, shots: null });
    expect(options("--report", "--seed", "mine", "--write")).toMatchObject({ seed: "mine", write: true });
    expect(options("--check", "pop", "--check", "hitch").checks).toEqual(["pop", "hitch"]);
    expect(() => options("--check", "pops")).toThrow(/no check named pops/);
    expect(() => options("--write")).toThrow(/--write needs --report/);
    expect(() => options("--report", "--write", "--shots", "3")).toThrow(/--write needs --report/);
    expect(() => options("--misses", "few")).toThrow(/--misses takes a whole number/);
  });
});

test("every kind of fault names checks that there are", () => {
  const kinds: FaultKind[] = faultKinds;
  const named = new Set(kinds.flatMap((kind) => kind.checks));
  expect([...named].filter((name) => !checks.includes(name))).toEqual([]);
  expect(named.size).toBeGreaterThan(30);
});

test("a picture shows figure, twin, path and frames", () => {
  const [kind] = tinyKinds();
  const [place] = kind.places();
  const built = tinyBuild(tinyPlan(), [{ kind, strength: 2, place, seed: "" }]);
  const twin = tinyBuild(tinyPlan(), []);
  const svg: string = picture({
    title: "a < b",
    poses: built.poses,
    twin: twin.poses,
    figure: "waver",
    joint: "hand_l",
    from: 30,
    to: 31,
  });
  expect(svg).toMatch(/^<svg .*<\/svg>$/s);
  expect(svg).toContain("a &lt; b");
  expect(svg).not.toContain("NaN");
  // Five panels with a figure and its twin, of eight bones each.
  expect(svg.match(/stroke-linecap/g)).toHaveLength(5 * 2 * 8);
});

describe("honesty", () => {
  const root = fileURLToPath(new URL(".", import.meta.url));
  const files = readdirSync(root, { recursive: true, encoding: "utf8" }).filter(
    (path) => /\.(mjs|ts)$/.test(path) && !path.endsWith(".test.ts"),
  );
  const imported = (path: string) =>
    [
      ...readFileSync(`${root}/${path}`, "utf8").matchAll(
        /(?:^(?:import|export|\}).* from |@import .* from |\bimport\(|^import )["']([^"']+)["']/gm,
      ),
    ].map(([, name]) => name!);

  test("nothing here reads checks, faults or fixes of the program, or the older bench, by a path", () => {
    expect(files.length).toBeGreaterThan(20);
    const repository = fileURLToPath(new URL("../../..", import.meta.url));
    for (const path of files) {
      for (const name of imported(path).filter((one) => one.startsWith("."))) {
        const from = relative(repository, resolve(root, dirname(path), name));
        expect(from).toMatch(/^(tests\/bench\/(shots\/|measure\.mjs)|demo\/motion\/)/);
      }
      for (const name of imported(path).filter((one) => !one.startsWith("."))) {
        expect(name).toMatch(/^(node:[a-z_]+|vitest|fast-check|@keyside\/(core|adapters))$/);
      }
    }
  });

  test("only the scoring asks the program, in one file, through its public API; building only writes with it", () => {
    const asking = files.flatMap((path) => {
      const text = readFileSync(`${root}/${path}`, "utf8");
      // Types alone are named by "import type" and by "@import" in comments.
      return [...text.matchAll(/^import (?!type)([^;]*?) from "@keyside\/[^"]*"/gm)].map(([, what]) => [
        path,
        what,
      ]);
    });
    const others = asking.filter(([path]) => path !== "scores/program.mjs");
    expect(others).toEqual([["build.mjs", "{ writeDocument }"]]);
    expect(asking.length).toBeGreaterThan(others.length);
    const dynamic = files.filter((path) =>
      /import\(\s*["'`]@keyside/.test(readFileSync(`${root}/${path}`, "utf8")),
    );
    expect(dynamic).toEqual([]);
  });
});
