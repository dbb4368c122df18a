import { readFileSync } from "node:fs";
import { Ajv2020 } from "ajv/dist/2020.js";
import { afterAll, beforeEach, describe, expect, test } from "vitest";
import { reportJsonSchema } from "../../../packages/core/notes/report-schema.ts";
import { addRemark, decide, markRemark } from "../../../packages/core/review/change.ts";
import { printReview } from "../../../packages/core/review/print.ts";
import { emptyReview, type ReviewFile } from "../../../packages/core/review/schema.ts";
import { Workshop } from "./run-in-process.ts";
import { poppingDocument } from "./shots-for-tests.ts";

const shops: Workshop[] = [];
let shop: Workshop;
beforeEach(async () => {
  shop = await Workshop.open();
  shops.push(shop);
  await shop.put("pop.curves.json", JSON.stringify(poppingDocument(), null, 1));
});
afterAll(() => Promise.all(shops.map((one) => one.close())));

const ada = { by: "Ada", date: "2031-04-02" };
const about = { check: "pop", node: "post", frames: [47, 49] as [number, number] };
const remarked = addRemark(
  emptyReview("pier_0010"),
  {
    ...{ text: "Let it swing wider.", weight: "must", node: "sign", frames: [10, 30], ...ada },
    strokes: [
      {
        frame: 10,
        plane: { origin: [0, 1.1, 0], normal: [0, 0, 1] },
        points: [
          [0, 1.1, 0],
          [0.2, 1.15, 0],
        ],
        target: { node: "sign", frames: [10, 20] },
      },
    ],
  },
  "hb7",
).review;
const praised = addRemark(
  remarked,
  { text: "The first swing is lovely.", weight: "keep", ...ada },
  "kx4",
).review;
const put = (review: ReviewFile) => shop.put("pop.review.json", printReview(review));
const check = (...more: string[]) =>
  shop.run(["check", "pop.curves.json", "--only", "pop", "--no-cache", ...more]);
const dropped = decide(praised, { ...about, verdict: "dropped", reason: "a gust", ...ada }).review;

describe("a review file beside a shot", () => {
  test("stands in one list with the notes, in text", async () => {
    await put(praised);
    const { code, stdout } = await check();
    expect(code).toBe(1);
    const at = (text: string) => stdout.indexOf(text);
    expect(stdout).toMatch(
      /^ {2}must +10–30 +sign +remark\n {10}Ada: Let it swing wider\. \(1 line drawn over the picture\) \(sign runs/m,
    );
    expect(at("Let it swing wider")).toBeLessThan(at("major"));
    expect(at("major")).toBeLessThan(at("The first swing is lovely"));
  });

  test("drops notes as waivers do: one mechanism, in check, fix and the exit code", async () => {
    await put(dropped);
    const { code, stdout } = await check();
    expect(code).toBe(0);
    expect(stdout).toMatch(/^ {2}waived {2}48 +post +pop\n {10}a gust \(Ada\)$/m);
    const fixed = await shop.run(["fix", "pop.curves.json", "--only", "pop"]);
    expect(fixed.stdout).not.toMatch(/^ *fix /m);
  });

  test("leaves out what was dropped for an animator, and shows it apart for a supervisor", async () => {
    await put(dropped);
    const animator = await check("--for", "animator");
    expect(animator.stdout).not.toContain("a gust");
    expect(animator.code).toBe(0);
    const supervisor = await check("--for", "supervisor");
    expect(supervisor.stdout).toMatch(/\n {2}waived\n {4}\w+ {2}pop, post, frame 48\n/);
    const sheet = (who: string) =>
      shop.run(["sheet", "pop.curves.json", "--only", "pop", "--format", "markdown", "--for", who]);
    expect((await sheet("animator")).stdout).not.toContain("gust");
    expect((await sheet("supervisor")).stdout).toMatch(/### Waived\n\n- pop, post, frame 48.*gust/);
  });

  test("is told in SARIF, JUnit and the summary, and fails nothing", async () => {
    const said = {
      ...about,
      verdict: "kept",
      text: "Mend the jolt [again].",
      weight: "should",
      ...ada,
    } as const;
    const { review } = decide(praised, said);
    await put(markRemark(review, { of: "hb7", state: "still-open", ...ada }).review);
    const [run] = JSON.parse((await check("--format", "sarif")).stdout).runs;
    const [remark, note, praise] = run.results;
    expect(remark).toMatchObject({ ruleId: "remark", kind: "review", level: "none" });
    expect(remark.message.text).toMatch(/^Ada, still open: Let it swing wider\. 1 line drawn .* Sign runs /);
    expect(run.tool.driver.rules[remark.ruleIndex].id).toBe("remark");
    expect(note.message.text).toMatch(/^Ada: Mend the jolt \\\[again\\\]\. /);
    expect(note).toMatchObject({ kind: "fail", properties: { review: { by: "Ada", weight: "should" } } });
    expect(praise).toMatchObject({ kind: "informational", properties: { weight: "keep" } });

    const junit = (await check("--format", "junit", "--fail-on", "broken")).stdout;
    expect(junit).toMatch(/<testsuite name="pop\.curves\.json" tests="3" failures="0"/);
    expect(junit).toMatch(
      /classname="pop\.curves\.json\.remark" name="sign, frames 10 to 30 \[hb7\]".*\n +<system-out>must: Let it swing wider\.&#10;by Ada, still open&#10;/,
    );
    expect(junit).toContain("Ada: Mend the jolt [again].&#10;Ada says: should&#10;");

    const summary = JSON.parse((await check("--format", "summary")).stdout);
    expect(summary.remarks).toEqual({ open: 1, done: 0, praise: 1 });
    await put(emptyReview("pier_0010"));
    expect(JSON.parse((await check("--format", "summary")).stdout).remarks).toEqual({
      ...{ open: 0, done: 0, praise: 0 },
    });
  });

  test("--figure leaves out what is said of another figure, by its id or by its node", async () => {
    const document = poppingDocument();
    await shop.put("pop.curves.json", {
      ...document,
      nodes: [...document.nodes, { id: "buoy" }],
      figures: [
        { id: "pole", kind: "object", parts: { root: "post" } },
        { id: "float", kind: "object", parts: { root: "buoy" } },
      ],
    });
    const byNode = addRemark(praised, { text: "Bob less.", node: "buoy", ...ada }, "mz4").review;
    await put(addRemark(byNode, { text: "Lower.", figure: "float", ...ada }, "nz4").review);
    const texts = async (figure: string) => {
      const { stdout } = await check("--format", "json", "--figure", figure);
      const { list } = JSON.parse(stdout).shots[0].review;
      return list.map(({ kind, text }: { kind: string; text: string }) => (kind === "note" ? kind : text));
    };
    expect(await texts("pole")).toEqual(["Let it swing wider.", "note", "The first swing is lovely."]);
    expect(await texts("float")).toEqual(["Bob less.", "Lower.", "The first swing is lovely."]);
  });

  test("gives the reviewer's order and words, in text and Markdown, and praise without a box", async () => {
    const { review } = decide(praised, {
      ...about,
      verdict: "kept",
      text: "Smooth frame 48.",
      rank: 1,
      weight: "could",
      ...ada,
    });
    await put(review);
    const { stdout } = await check();
    expect(stdout).toMatch(/^ {2}could +48 +post +pop .*\n {10}Ada: Smooth frame 48\.\n {2}must +10–30/m);
    expect((await check("--long")).stdout).toMatch(
      /what people say\n {4}could {2}pop, post, frame 48 \(Ada\)\n {6}Smooth frame 48\./,
    );
    const sheet = await shop.run(["sheet", "pop.curves.json", "--only", "pop", "--format", "markdown"]);
    expect(sheet.stdout).toMatch(
      /- \[ \] \*\*1\. Pop\*\*, post, frame 48, could\\\n {6}\*\*Ada:\*\* Smooth frame 48\./,
    );
    expect(sheet.stdout).toMatch(/- \[ \] \*\*2\. Remark\*\*, sign, frames 10 to 30, must \(Ada\)/);
    expect(sheet.stdout).toMatch(/^- \*\*3\. Keep\*\*, the shot, keep \(Ada\)/m);
  });

  test("is in the report as JSON, kept results too", async () => {
    await put(praised);
    const run = () =>
      shop.run([
        "check",
        "pop.curves.json",
        "--only",
        "pop",
        "--format",
        "json",
        "--cache",
        shop.path("cache"),
      ]);
    const first = await run();
    const report = JSON.parse(first.stdout);
    const validate = new Ajv2020({ strict: false }).compile(reportJsonSchema());
    expect(validate(report), JSON.stringify(validate.errors)).toBe(true);
    const { list, problems } = report.shots[0].review;
    expect(problems).toEqual([]);
    expect(list.map((item: { kind: string; weight: string }) => `${item.kind} ${item.weight}`)).toEqual([
      "remark must",
      "note must",
      "remark keep",
    ]);
    expect(list[0].targets).toMatchObject([{ node: "sign", frames: [10, 20] }]);
    expect((await run()).stdout).toBe(first.stdout);
    await put(dropped);
    expect(JSON.parse((await run()).stdout).shots[0].waived).toHaveLength(1);
  });

  test("that is broken is told with its file and line, and the rest is used", async () => {
    const text = printReview(praised).replace('"The first', '"The\n first');
    await shop.put("pop.review.json", text);
    const { code, stdout } = await check();
    expect(code).toBe(1);
    expect(stdout).toContain("Let it swing wider.");
    expect(stdout.replace(/\s+/g, " ")).toMatch(/pop\.review\.json, line 7: .*cannot be read\. It is kept/);
    expect(readFileSync(shop.path("pop.review.json"), "utf8")).toBe(text);
  });

  test("of another shot drops nothing, and it is said", async () => {
    await put({ ...dropped, shot: "lighthouse_0300" });
    const { code, stdout } = await check();
    expect(code).toBe(1);
    expect(stdout.replace(/\s+/g, " ")).toContain(
      'The review is of the shot "lighthouse_0300", and this is "pier_0010".',
    );
  });

  test("is never written over by a report", async () => {
    await put(praised);
    const { code, stderr } = await check("--out", "pop.review.json", "--force");
    expect(code).toBe(2);
    expect(stderr).toMatch(/holds the review of a shot; name another file/);
  });
});
