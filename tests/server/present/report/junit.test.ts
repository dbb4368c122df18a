import { expect, test } from "vitest";
import { junitWriter } from "../../../../packages/server/present/report/junit.ts";
import { junitFault } from "./junit-schema.ts";
import { brokenNote, nasty, reportedNote, reportedShot, written } from "./reported.ts";
import { parseXml, type XmlElement } from "./xml-reader.ts";

/** Whatever is written meets the published schema. */
function junit(
  ...args: Parameters<typeof written> extends [unknown, ...infer Rest] ? Rest : never
): XmlElement {
  const text = written(junitWriter({ lightest: "polish" }), ...args);
  expect(junitFault(text)).toBeNull();
  return parseXml(text);
}
const suites = (root: XmlElement) => root.children.filter(({ name }) => name === "testsuite");

test("a shot is a suite, a note a case that fails from the failing tier on", () => {
  const notes = [brokenNote, reportedNote(), reportedNote({ tier: "minor", fingerprint: "2" })];
  const root = junit([reportedShot({ notes, failing: true })]);
  expect(root.name).toBe("testsuites");
  const [suite] = suites(root) as [XmlElement];
  expect(suite.attributes).toMatchObject({
    name: "show/jetty_0040.curves.json",
    tests: "3",
    failures: "2",
    errors: "0",
    skipped: "0",
  });
  const insides = suite.children.map(({ children }) => children[0]?.name);
  expect(insides).toEqual(["failure", "failure", "system-out"]);
  const [, fails] = suite.children as [XmlElement, XmlElement];
  expect(fails.attributes["classname"]).toBe("show/jetty_0040.curves.json.hard-stop");
  expect(fails.children[0]?.text).toContain("at show/jetty_0040.curves.json:12:9");
  expect(fails.children[0]?.attributes).toEqual({ type: "major", message: "left hand stops in 1 frame" });
});

test("the failing tier is the shot's", () => {
  const notes = [reportedNote({ tier: "minor" })];
  const failures = (failOn: "minor" | "major") =>
    suites(junit([reportedShot({ notes, failOn })]))[0]?.attributes["failures"];
  expect([failures("minor"), failures("major")]).toEqual(["1", "0"]);
});

test("a shot without notes passes, one that cannot be judged is an error", () => {
  const root = junit([reportedShot()], { errorFiles: ["gone.bvh"], stopped: { done: 2, of: 5 } });
  expect(
    suites(root).map(({ attributes }) => [attributes["tests"], attributes["failures"], attributes["errors"]]),
  ).toEqual([
    ["1", "0", "0"],
    ["1", "0", "1"],
    ["1", "0", "1"],
  ]);
  expect(suites(root)[1]?.children[0]?.children[0]?.attributes["message"]).toBe(
    "There is no such file or folder.",
  );
});

test("waived notes are skipped with their reason", () => {
  const shot = {
    ...reportedShot(),
    waived: [{ ...reportedNote(), waiver: { reason: "comic stop", by: "ada", inDocument: true } }],
  };
  const [suite] = suites(junit([shot])) as [XmlElement];
  expect(suite.attributes).toMatchObject({ tests: "2", skipped: "1", failures: "0" });
  expect(suite.children[1]?.children[0]).toMatchObject({
    name: "skipped",
    attributes: {},
    text: "waived by ada: comic stop",
  });
});

test("text that holds anything stays well-formed and is read back", () => {
  const notes = [reportedNote({ message: nasty, part: nasty, why: nasty })];
  const [suite] = suites(junit([reportedShot({ file: nasty, name: nasty, notes })])) as [XmlElement];
  // What XML 1.0 cannot hold (a control character, half a surrogate pair) is replaced; the rest comes back as it was.
  const readable = nasty.replace("\u0007", "\ufffd").replace(/\p{Cs}/gu, "\ufffd");
  expect(suite.attributes["name"]).toBe(readable);
  expect(suite.children[0]?.children[0]?.attributes["message"]).toBe(readable);
});

test("two notes of a shot never share a name", () => {
  const notes = [reportedNote(), reportedNote({ fingerprint: "another" })];
  const [suite] = suites(junit([reportedShot({ notes })])) as [XmlElement];
  expect(new Set(suite.children.map(({ attributes }) => attributes["name"])).size).toBe(2);
});

test("two versions of a shot are two cases: the path tells them apart", () => {
  const versions = ["v1", "v2"].map((version) =>
    reportedShot({ file: `show/jetty_0040_${version}.curves.json`, notes: [reportedNote()] }),
  );
  const cases = suites(junit(versions)).flatMap(({ children }) => children);
  const identities = cases.map(({ attributes }) => `${attributes["classname"]} ${attributes["name"]}`);
  expect(new Set(identities).size).toBe(2);
});

test("what a note speaks for stands in its text", () => {
  const { check, figure, node, part, message, fingerprint } = reportedNote();
  const also = [
    {
      check,
      tier: "minor" as const,
      figure,
      node,
      part,
      frames: [3, 3] as [number, number],
      message,
      fingerprint,
    },
  ];
  const [suite] = suites(junit([reportedShot({ notes: [reportedNote({ also })] })])) as [XmlElement];
  expect(suite.children[0]?.children[0]?.text).toContain("with: minor hard-stop of left hand, frame 3");
});

test("a check that failed, and every other ending, meets the published schema", () => {
  const failures = [{ check: "pop", subject: "hand_l", others: 2, message: "no number" }];
  junit([reportedShot({ failures })], { errorFiles: ["gone.bvh"], stopped: { done: 2, of: 5 } });
  junit([]);
});

test("the validator refuses what the published schema does not allow", () => {
  const suite = (inside: string) =>
    `<testsuites><testsuite name="a" tests="1">${inside}</testsuite></testsuites>`;
  expect(junitFault(suite('<testcase name="b"><skipped>why</skipped></testcase>'))).toBeNull();
  expect(junitFault(suite('<testcase name="b"><skipped message="why"/></testcase>'))).toContain("message");
  expect(junitFault(suite("<testcase/>"))).toContain("name");
  expect(junitFault("<testsuites>")).not.toBeNull();
});
