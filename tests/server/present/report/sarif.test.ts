import { existsSync } from "node:fs";
import { createRequire } from "node:module";
import { fileURLToPath } from "node:url";
import { Ajv, type AnySchemaObject } from "ajv";
import addFormats from "ajv-formats";
import { expect, test } from "vitest";
import { registry } from "../../../../packages/core/index.ts";
import type { ReportWriter } from "../../../../packages/server/judge/archive/report-writer.ts";
import { artifactsListed, sarifWriter } from "../../../../packages/server/present/report/sarif.ts";
import { uriReference } from "../../../../packages/server/present/text/uri.ts";
import { brokenNote, nasty, reportedNote, reportedShot, written } from "./reported.ts";

/** The schema of OASIS's technical committee (2.1.0-rtm.5), as a package of general use ships it. */
const schema = createRequire(import.meta.url)(
  "@microsoft/jest-sarif/lib/schemas/sarif-2.1.0-rtm.5.json",
) as AnySchemaObject;

/** It is written in draft 4, of which only the id and the dialect are taken off; its patterns are written without the u flag. */
function compiled() {
  const { id: _id, $schema: _draft, ...rest } = schema;
  const ajv = new Ajv({ strict: false, allErrors: true, unicodeRegExp: false });
  (addFormats as unknown as (to: Ajv) => void)(ajv);
  return ajv.compile(rest);
}
const validate = compiled();

// biome-ignore lint/suspicious/noExplicitAny: a document of another standard is looked into
function sarif(...args: Parameters<typeof written> extends [unknown, ...infer Rest] ? Rest : never): any {
  const log = JSON.parse(written(sarifWriter({ lightest: "polish" }), ...args));
  validate(log);
  expect(validate.errors ?? []).toEqual([]);
  return log;
}

test("the schema refuses what is no SARIF", () => {
  expect(validate({ version: "2.1.0", runs: [{ tool: { driver: {} } }] })).toBe(false);
  expect(
    validate({ version: "2.1.0", runs: [{ tool: { driver: { name: "x" } }, results: [{ level: "bad" }] }] }),
  ).toBe(false);
});

test("a run without shots is valid", () => {
  const [run] = sarif([]).runs;
  expect(run).toMatchObject({
    results: [],
    columnKind: "utf16CodeUnits",
    invocations: [{ executionSuccessful: true }],
  });
  expect(run.tool.driver).toMatchObject({ name: "Keyside", semanticVersion: "1.2.3", rules: [] });
});

test("a note is a result at its first key, its other keys beside it", () => {
  const [run] = sarif([reportedShot({ notes: [reportedNote()] })]).runs;
  const [result] = run.results;
  expect(result).toMatchObject({
    ruleId: "hard-stop",
    ruleIndex: 0,
    level: "warning",
    kind: "fail",
    rank: 72,
    message: { text: "Left hand stops in 1 frame. To fix it: Let it settle over 4 frames." },
    partialFingerprints: { "keysideNote/v1": "jetty_0040:00112233aabbccdd" },
  });
  expect(result.locations[0].physicalLocation).toEqual({
    artifactLocation: { uri: "show/jetty_0040.curves.json", index: 0 },
    region: { startLine: 12, startColumn: 9 },
  });
  expect(result.relatedLocations).toHaveLength(1);
  expect(result.relatedLocations[0].physicalLocation.region).toEqual({ startLine: 18, startColumn: 9 });
  expect(run.artifacts[0].location.uri).toBe("show/jetty_0040.curves.json");
  expect(result).not.toHaveProperty("baselineState");
  expect(result).not.toHaveProperty("suppressions");
});

test("rules tell what the check tells of itself", () => {
  const [run] = sarif([
    reportedShot({ notes: [reportedNote(), reportedNote({ tier: "minor", fingerprint: "1" })] }),
  ]).runs;
  expect(run.results.map((result: { ruleIndex: number }) => result.ruleIndex)).toEqual([0, 0]);
  const [rule] = run.tool.driver.rules;
  expect(run.tool.driver.rules).toHaveLength(1);
  expect(rule).toMatchObject({
    id: "hard-stop",
    defaultConfiguration: { level: "warning" },
    properties: { tags: ["spacing"] },
  });
  expect(rule.help.markdown).toContain("**Why it matters**");
});

test("rules of what is no check of the registry are made from their notes", () => {
  const mild = { ...brokenNote, check: "unknown-member", tier: "polish" as const };
  const own = reportedNote({ check: "prop-speed", why: "Props are heavy." });
  const [run] = sarif([reportedShot({ notes: [brokenNote, mild, own] })]).runs;
  const rules = run.tool.driver.rules as { id: string; properties: { tags: string[] } }[];
  expect(rules.map(({ id, properties }) => [id, properties.tags[0]])).toEqual([
    ["missing-parent", "document"],
    ["unknown-member", "document"],
    ["prop-speed", "own"],
  ]);
});

test("levels follow tiers", () => {
  const notes = (["major", "minor", "polish"] as const).map((tier, i) =>
    reportedNote({ tier, fingerprint: `${i}` }),
  );
  const [run] = sarif([reportedShot({ notes: [brokenNote, ...notes] })]).runs;
  expect(run.results.map(({ level }: { level: string }) => level)).toEqual([
    "error",
    "warning",
    "note",
    "note",
  ]);
  expect(run.results[0].locations[0].physicalLocation.region).toEqual({ startLine: 3, startColumn: 5 });
});

test("every location has a region; one without text is the file as a whole", () => {
  const key = { node: "hand_l", channel: "rotation.z" as const, frame: 40, line: null, column: null };
  const notes = [
    reportedNote({ keys: [key, key] }),
    reportedNote({ keys: [], fingerprint: "2" }),
    reportedNote({ keys: [], place: { line: 5, column: 13, endLine: 5, endColumn: 20 }, fingerprint: "3" }),
  ];
  const [run] = sarif([reportedShot({ notes })]).runs;
  const regions = run.results.map(
    // biome-ignore lint/suspicious/noExplicitAny: a document of another standard is looked into
    ({ locations }: any) => locations[0].physicalLocation.region,
  );
  const ends = { startLine: 5, startColumn: 13, endLine: 5, endColumn: 20 };
  expect(regions).toEqual([{ startLine: 1 }, { startLine: 1 }, ends]);
  expect(run.results[0].relatedLocations[0].physicalLocation.region).toEqual({ startLine: 1 });
});

test("regions end where the text of a key ends", () => {
  const key = { node: "a", channel: "rotation.z" as const, frame: 40 };
  const keys = [3, 4].map((line) => ({ ...key, line, column: 7, endLine: line + 1, endColumn: 9 }));
  const [run] = sarif([reportedShot({ notes: [reportedNote({ keys })] })]).runs;
  const [{ locations, relatedLocations }] = run.results;
  expect(locations[0].physicalLocation.region).toEqual({
    ...{ startLine: 3, startColumn: 7, endLine: 4, endColumn: 9 },
  });
  expect(relatedLocations[0].physicalLocation.region).toMatchObject({ endLine: 5, endColumn: 9 });
});

test("names of rules are not their ids, and each rule leads to a page of the docs that is there", () => {
  const notes = registry.map(({ name }) => reportedNote({ check: name, fingerprint: name }));
  const own = reportedNote({ check: "prop-speed", fingerprint: "own" });
  const unused = reportedNote({ check: "unused-waiver", fingerprint: "unused" });
  const [run] = sarif([reportedShot({ notes: [brokenNote, own, unused, ...notes] })]).runs;
  const { rules, informationUri } = run.tool.driver;
  expect(rules).toHaveLength(registry.length + 3);
  const pages = rules.map(({ helpUri }: { helpUri: string }) => helpUri);
  for (const uri of [informationUri, ...pages]) {
    const [, page] = /^urn:keyside:docs:(.+\.md)$/.exec(uri) ?? [];
    expect(existsSync(fileURLToPath(new URL(`../../../../docs/${page}`, import.meta.url))), uri).toBe(true);
  }
  const names = rules.map(({ name }: { name: string }) => name);
  expect(new Set(names).size).toBe(names.length);
  for (const { id, name } of rules) {
    expect(name).toMatch(/^([A-Z][a-z0-9]*){2,}$/);
    expect(name.toLowerCase()).not.toBe(id.toLowerCase());
  }
});

test("rules lead to where the docs can be read, if somebody says so", () => {
  for (const docsAt of ["file:///srv/keyside/docs", "file:///srv/keyside/docs/"]) {
    const text = written(sarifWriter({ lightest: "polish", docsAt }), [
      reportedShot({ notes: [reportedNote()] }),
    ]);
    const { driver } = JSON.parse(text).runs[0].tool;
    expect(driver.rules[0].helpUri).toBe("file:///srv/keyside/docs/checks/hard-stop.md");
    expect(driver.informationUri).toBe("file:///srv/keyside/docs/command.md");
  }
});

test("runs over the same shots are told apart by their category, and shards by their number", () => {
  const idOf = (category?: string, shard: Parameters<ReportWriter["begin"]>[0]["shard"] = null) => {
    const writer = sarifWriter({ lightest: "polish", category });
    const summary = { shots: 0, notes: 0, errors: 0, failures: 0, stopped: null };
    const log = JSON.parse(writer.begin({ version: "1.2.3", shard }) + writer.end(summary));
    expect(validate(log)).toBe(true);
    return log.runs[0].automationDetails.id;
  };
  expect([idOf(), idOf("blocking"), idOf("blocking", { index: 3, of: 8 })]).toEqual([
    "keyside/",
    "blocking/",
    "blocking/shard-3-of-8/",
  ]);
});

test("what a note speaks for is linked from its message and stands among the related locations", () => {
  const also = ["a", "[b]", "c", "d", "e", "f"].map((part, at) => ({
    ...{ check: "hitch", tier: "minor" as const, figure: "courier", node: "hand_r", part },
    ...{ frames: [9, 9] as [number, number], message: `${part} catches`, fingerprint: part },
    ...(at === 0 ? { place: { line: 21, column: 9, endLine: 21, endColumn: 15 } } : {}),
  }));
  const [run] = sarif([reportedShot({ notes: [reportedNote({ also })] })]).runs;
  const [{ message, relatedLocations }] = run.results;
  expect(message.text).toContain(
    " Told with it: [minor hitch of a, frame 9](2); [minor hitch of \\[b\\], frame 9](3); ",
  );
  expect(message.text).toMatch(/\(6\) and 1 more\.$/);
  // The other causing key comes first.
  expect(relatedLocations.map(({ id }: { id: number }) => id)).toEqual([1, 2, 3, 4, 5, 6, 7]);
  expect(relatedLocations[1]).toMatchObject({
    physicalLocation: { region: { startLine: 21, startColumn: 9, endLine: 21, endColumn: 15 } },
    message: { text: "A catches." },
    properties: { ruleId: "hitch", tier: "minor" },
  });
  // Without a place of its own it is shown where the note is.
  expect(relatedLocations[2].physicalLocation.region).toMatchObject({ startLine: 12 });
});

test("a verified fix is replacements of text", () => {
  const fix = {
    title: "bring hand_l back",
    replacements: [{ line: 12, column: 14, endLine: 12, endColumn: 16, text: "30" }],
    gone: ["00112233aabbccdd"],
  };
  const [run] = sarif([reportedShot({ notes: [reportedNote({ fix })] })]).runs;
  expect(run.results[0].fixes).toEqual([
    {
      description: { text: "Fix: bring hand_l back." },
      artifactChanges: [
        {
          artifactLocation: { uri: "show/jetty_0040.curves.json", index: 0 },
          replacements: [
            {
              deletedRegion: { startLine: 12, startColumn: 14, endLine: 12, endColumn: 16 },
              insertedContent: { text: "30" },
            },
          ],
        },
      ],
    },
  ]);
});

test("with a baseline, what is told is new", () => {
  const [run] = sarif([reportedShot({ notes: [reportedNote()], known: 3 })]).runs;
  expect(run.results[0].baselineState).toBe("new");
});

test("waived notes are suppressed results", () => {
  const waiver = { reason: "comic stop", by: "ada", inDocument: true };
  const shot = {
    ...reportedShot(),
    waived: [
      { ...reportedNote(), waiver },
      { ...reportedNote({ fingerprint: "2" }), waiver: { reason: "agreed", inDocument: false } },
    ],
  };
  const [run] = sarif([shot]).runs;
  expect(run.results.map(({ suppressions }: { suppressions: unknown }) => suppressions)).toEqual([
    [{ kind: "inSource", status: "accepted", justification: "comic stop (ada)" }],
    [{ kind: "external", status: "accepted", justification: "agreed" }],
  ]);
});

test("what could not be judged, and a run that was stopped, are notifications", () => {
  const [run] = sarif([], { errorFiles: ["gone.bvh"], stopped: { done: 1, of: 4 } }).runs;
  const [{ executionSuccessful, toolExecutionNotifications }] = run.invocations;
  expect(executionSuccessful).toBe(false);
  expect(toolExecutionNotifications).toHaveLength(2);
  expect(toolExecutionNotifications[0].locations[0].physicalLocation.artifactLocation.uri).toBe("gone.bvh");
});

test("text and names that hold anything stay valid", () => {
  const notes = [reportedNote({ message: nasty, node: nasty, part: nasty, suggestion: nasty })];
  const [run] = sarif([reportedShot({ file: `a b/${nasty}.curves.json`, name: nasty, notes })]).runs;
  expect(run.results[0].message.text).toContain("ünïcödé 人 🙂");
});

test("the list of artifacts ends where memory would grow", () => {
  const writer = sarifWriter({ lightest: "polish" });
  writer.begin({ version: "1.2.3", shard: null });
  const count = artifactsListed + 5;
  let last = "";
  for (let i = 0; i < count; i++)
    last = writer.shot(reportedShot({ file: `${i}.bvh`, notes: [reportedNote()] }));
  expect(last).not.toContain('"index"');
  const end = writer.end({ shots: count, notes: count, errors: 0, failures: 0, stopped: null });
  expect(end).toContain('"artifactsLeftOut":5');
});

test.each([
  ["shots/a b#1.json", "shots/a%20b%231.json"],
  ["/srv/shots/a.json", "file:///srv/shots/a.json"],
  ["C:\\shots\\a.json", "file:///C:/shots/a.json"],
  ["take:1.bvh", "./take:1.bvh"],
  ["50%.bvh", "50%25.bvh"],
])("%s as a URI reference (RFC 3986)", (file, uri) => {
  expect(uriReference(file)).toBe(uri);
});
