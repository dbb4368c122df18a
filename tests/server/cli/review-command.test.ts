import { readFile } from "node:fs/promises";
import { Ajv2020 } from "ajv/dist/2020.js";
import { afterAll, beforeEach, describe, expect, test } from "vitest";
import { readReview } from "../../../packages/core/review/read.ts";
import { Workshop } from "./run-in-process.ts";
import { cleanDocument, poppingDocument } from "./shots-for-tests.ts";

const shops: Workshop[] = [];
let shop: Workshop;
beforeEach(async () => {
  shop = await Workshop.open();
  shops.push(shop);
  await shop.put("pier_v1.curves.json", JSON.stringify(poppingDocument(), null, 1));
  await shop.put("pier_v2.curves.json", JSON.stringify(cleanDocument(), null, 1));
});
afterAll(() => Promise.all(shops.map((one) => one.close())));

const ada = ["--by", "Ada", "--date", "2031-04-02"];
const review = (...words: string[]) => shop.run(["review", ...words]);
const held = async (name = "pier_v1") =>
  readReview(await readFile(shop.path(`${name}.review.json`), "utf8")).review;
const history = (...more: string[]) =>
  shop.run(["history", "pier_v1.curves.json", "pier_v2.curves.json", "--only", "pop", ...more]);

async function remarked(): Promise<string> {
  const added = await review(
    "add",
    "pier_v1.curves.json",
    "--text",
    "Swing wider.",
    "--frames",
    "10-30",
    "--node",
    "sign",
    "--weight",
    "must",
    ...ada,
  );
  expect(added).toMatchObject({ code: 0, stderr: "" });
  return /Added (\S+)\./.exec(added.stdout)?.[1] ?? "";
}

describe("keyside review", () => {
  test("adds, lists, decides and marks", async () => {
    const id = await remarked();
    const decided = await review(
      "decide",
      "pier_v1.curves.json",
      "--check",
      "pop",
      "--node",
      "post",
      "--frames",
      "47-49",
      "--verdict",
      "dropped",
      "--reason",
      "a gust",
      ...ada,
    );
    expect(decided).toMatchObject({ code: 0, stderr: "" });
    await review("mark", "pier_v2.curves.json", "--remark", id, "--state", "done", ...ada);
    const { stdout } = await review("list", "pier_v1.curves.json");
    expect(stdout).toBe(
      `${id}  must, open  sign, frames 10 to 30  Ada: Swing wider.\n${(await held()).decisions[0]?.id}  dropped pop  post, frames 47 to 49  Ada: a gust\n`,
    );
    expect((await held("pier_v2")).marks).toMatchObject([
      { of: id, state: "done", version: { file: "pier_v2.curves.json" } },
    ]);
    expect((await shop.run(["check", "pier_v1.curves.json", "--only", "pop", "--no-cache"])).code).toBe(0);
  });

  test.each([
    [["add", "pier_v1.curves.json", "--by", "Ada"], /needs --text/],
    [["add", "pier_v1.curves.json", "--text", "x"], /needs --by/],
    [
      ["decide", "pier_v1.curves.json", "--check", "pop", "--verdict", "dropped", "--by", "Ada"],
      /needs a reason/,
    ],
    [["add", "pier_v1.curves.json", "--text", "x", "--by", "Ada", "--date", "soon"], /"date" does not fit/],
    [["merge", "a.json"], /takes BASE OURS THEIRS; 1 file given/],
    [["carry", "pier_v1.curves.json", "--by", "Ada"], /takes OLD NEW; 1 file given/],
    [["carry", "pier_v1.curves.json", "pier_v2.curves.json"], /carry needs --by/],
    [["carry", "pier_v1.curves.json", "./pier_v1.curves.json", "--by", "Ada"], /are the same file/],
    [
      ["carry", "pier_v2.curves.json", "pier_v1.curves.json", "--by", "Ada"],
      /no review file: there is no pier_v2/,
    ],
    [["polish", "pier_v1.curves.json"], /It is one of list, add/],
  ])("%j is refused with a sentence, and nothing is written", async (words, message) => {
    const { code, stderr } = await review(...words);
    expect(code).toBe(2);
    expect(stderr).toMatch(message);
    await expect(held()).rejects.toThrow();
  });

  test("says at once what does not fit the shot, and keeps it", async () => {
    const words = ["--text", "Softer.", "--node", "sing", "--frames", "400-410", ...ada];
    const { code, stderr } = await review("add", "pier_v1.curves.json", ...words);
    expect(code).toBe(0);
    expect(stderr).toMatch(/speaks of frames 400 to 410; the shot has frames 1 to 96/);
    expect(stderr).toMatch(/speaks of "sing", which is not in the shot/);
    expect(stderr.trim().split("\n")).toHaveLength(2);
    expect((await held()).remarks).toHaveLength(1);
  });

  test("finds a part again that was renamed", async () => {
    const withFigure = (node: string) => {
      const { nodes, curves, ...rest } = cleanDocument();
      const renamed = (id: string) => (id === "post" ? node : id);
      return {
        ...rest,
        nodes: nodes.map((one) => ({
          ...{ ...one, id: renamed(one.id) },
          ...(one.parent == null ? {} : { parent: renamed(one.parent) }),
        })),
        curves: curves.map((curve) => ({ ...curve, node: renamed(curve.node) })),
        figures: [{ id: "pole", kind: "object", parts: { root: node } }],
      };
    };
    await shop.put("pier_v2.curves.json", JSON.stringify(withFigure("post")));
    await review("add", "pier_v2.curves.json", "--text", "Softer.", "--node", "post", ...ada);
    expect((await held("pier_v2")).remarks).toMatchObject([{ node: "post", figure: "pole", part: "root" }]);
    await shop.put("pier_v2.curves.json", JSON.stringify(withFigure("mast")));
    const { stderr } = await review("list", "pier_v2.curves.json");
    expect(stderr).toMatch(
      /speaks of "post", which is not in the shot; it is told of "mast", which is that part now\./,
    );
    const report = await shop.run(["check", "pier_v2.curves.json", "--format", "json", "--no-cache"]);
    expect(JSON.parse(report.stdout).shots[0].review.list).toEqual(
      expect.arrayContaining([expect.objectContaining({ text: "Softer.", node: "mast" })]),
    );
  });

  test("merges two reviews into one, as Git asks of a merge driver", async () => {
    await remarked();
    const base = await readFile(shop.path("pier_v1.review.json"), "utf8");
    await shop.put("base.review.json", base);
    await remarked();
    await shop.put("ours.review.json", await readFile(shop.path("pier_v1.review.json"), "utf8"));
    await shop.put("pier_v1.review.json", base);
    await remarked();
    const merged = await review("merge", "base.review.json", "ours.review.json", "pier_v1.review.json");
    expect(merged).toMatchObject({ code: 0, stderr: "" });
    expect((await held("ours")).remarks).toHaveLength(3);
  });

  test("gives and takes rows of a tracker", async () => {
    const id = await remarked();
    const { stdout } = await review("export", "pier_v1.curves.json");
    expect(stdout).toMatch(/^id,kind,state,weight,first,last,/);
    await shop.put(
      "tracker.csv",
      `${stdout.replace(",open,", ",done,")},,,could,40,,,,,Softer.,Ben,2031-04-03,,,,,,,\r\n`,
    );
    const taken = await review("import", "pier_v1.curves.json", "tracker.csv", ...ada);
    expect(taken.stdout).toBe("1 remark added, 0 changed, 1 marked.\n");
    const { remarks, marks } = await held();
    expect(remarks.map(({ text }) => text).sort()).toEqual(["Softer.", "Swing wider."]);
    expect(marks).toMatchObject([{ of: id, state: "done" }]);
    const lines = await review("export", "pier_v1.curves.json", "--format", "jsonl");
    expect(
      lines.stdout
        .trim()
        .split("\n")
        .map((line) => JSON.parse(line).kind),
    ).toEqual(["remark", "remark"]);
  });

  test("carries decisions to the next version, and says what it leaves behind", async () => {
    await remarked();
    const drop = ["--check", "pop", "--node", "post", "--frames", "47-49", "--verdict", "dropped"];
    await review("decide", "pier_v1.curves.json", ...drop, "--reason", "a gust", ...ada);
    await shop.put("pier_v3.curves.json", JSON.stringify(poppingDocument()));
    const carry = (to: string, ...more: string[]) =>
      review(
        "carry",
        "pier_v1.curves.json",
        `${to}.curves.json`,
        "--by",
        "Ben",
        "--date",
        "2031-04-09",
        ...more,
      );
    const gone = await carry("pier_v2");
    expect(gone).toMatchObject({ code: 0, stderr: "" });
    expect(gone.stdout).toMatch(
      /^Carried no decision\.\nNot carried: 1\.\n .*dropped pop.*\n +its note is gone\n$/,
    );
    await expect(held("pier_v2")).rejects.toThrow();
    const slip = await carry("pier_v3", "--date", "soon");
    expect(slip).toMatchObject({ code: 2 });
    expect(slip.stderr).toMatch(/"carried\/date" does not fit/);
    await expect(held("pier_v3")).rejects.toThrow();
    const { stdout } = await carry("pier_v3");
    expect(stdout).toMatch(
      /^Carried 1 decision to pier_v3\.review\.json\.\n .*dropped pop {2}post, .* {2}Ada: a gust\n$/,
    );
    const after = await held("pier_v3");
    expect(after.remarks).toEqual([]);
    expect(after.decisions).toMatchObject([
      {
        by: "Ada",
        date: "2031-04-02",
        carried: { by: "Ben", date: "2031-04-09", from: "pier_v1.curves.json" },
      },
    ]);
    expect((await review("list", "pier_v3.curves.json")).stdout).toContain(
      "Ada: a gust (carried from pier_v1.curves.json by Ben)",
    );
    expect((await shop.run(["check", "pier_v3.curves.json", "--only", "pop", "--no-cache"])).code).toBe(0);
    expect((await carry("pier_v3")).stdout).toMatch(
      /there is a decision about it already; --force replaces it/,
    );
    expect(await held("pier_v3")).toEqual(after);
    expect((await carry("pier_v3", "--force")).stdout).toMatch(/^Carried 1 decision/);
  });

  test("keeps what it cannot read of the file", async () => {
    await remarked();
    const text = await readFile(shop.path("pier_v1.review.json"), "utf8");
    await shop.put(
      "pier_v1.review.json",
      text.replace("    null", '    { "kind": "remark", "id": "zz", "te'),
    );
    const { stderr } = await review("add", "pier_v1.curves.json", "--text", "Two.", ...ada);
    expect(stderr).toMatch(/pier_v1\.review\.json, line 7: .*cannot be read\. It is kept/);
    const after = await held();
    expect(after.remarks).toHaveLength(2);
    expect(after.unread).toHaveLength(1);
  });
});

describe("keyside history", () => {
  test("follows notes and remarks over versions, as text, Markdown and JSON", async () => {
    const id = await remarked();
    await review("mark", "pier_v2.curves.json", "--remark", id, "--state", "done", ...ada);
    const text = await history();
    expect(text).toMatchObject({ code: 0, stderr: "" });
    expect(text.stdout).toMatch(
      /^ {2}must +remark +sign +made +done +pier_v1 to pier_v2\n {10}Ada: Swing wider\.$/m,
    );
    expect(text.stdout).toMatch(/^ {2}major +pop +post +new +gone +pier_v1 to pier_v2$/m);
    expect(text.stdout).toContain("Closed: 1 of 1 remark, 1 of 1 note.");
    expect((await history("--format", "markdown")).stdout).toMatch(
      /\| must \| remark: Swing wider. \(Ada\) \| sign \| made \| done \|/,
    );
    const report = JSON.parse((await history("--format", "json")).stdout);
    const published = JSON.parse((await shop.run(["schema", "shot-history"])).stdout);
    const validate = new Ajv2020({ strict: false }).compile(published);
    expect(validate(report), JSON.stringify(validate.errors)).toBe(true);
    expect(report.rows).toMatchObject([
      { kind: "remark", opened: 0, closed: 1 },
      { kind: "note", title: "pop", opened: 0, closed: 1 },
    ]);
  });

  test("draws versions across and remarks down, and says in words what it draws", async () => {
    await remarked();
    const svg = (await history("--format", "svg")).stdout;
    expect(svg).toMatch(/^<svg xmlns="http:\/\/www\.w3\.org\/2000\/svg"/);
    for (const word of ["pier_v1", "pier_v2", "made", "open", "new", "gone"])
      expect(svg).toContain(`>${word}</text>`);
    expect(svg.match(/<circle/g)).toHaveLength(4);
    const { stdout } = await history("--format", "html", "--out", "history.html");
    expect(stdout).toBe("Wrote history.html.\n");
    const page = await readFile(shop.path("history.html"), "utf8");
    expect(page).toContain("default-src 'none'");
    expect(/https?:|NaN/.exec(page)).toBe(null);
  });

  test("compare tells what became of remarks, too", async () => {
    const id = await remarked();
    const compare = (...more: string[]) =>
      shop.run(["compare", "pier_v1.curves.json", "pier_v2.curves.json", "--only", "pop", ...more]);
    expect((await compare()).stdout).toMatch(
      /what people say\n {4}must {2}remark, sign, frames 10 to 30 \(Ada\): made → open\n {6}Swing wider\./,
    );
    await review("mark", "pier_v2.curves.json", "--remark", id, "--state", "done", ...ada);
    const { people } = JSON.parse((await compare("--format", "json")).stdout);
    expect(people).toMatchObject([
      { kind: "remark", id, closed: 1, cells: [{ state: "made" }, { state: "done" }] },
    ]);
  });

  test("refuses a version that is named twice", async () => {
    const { code, stderr } = await shop.run(["history", "pier_v1.curves.json", "pier_v1.curves.json"]);
    expect(code).toBe(2);
    expect(stderr).toMatch(/A version is named twice/);
  });
});
