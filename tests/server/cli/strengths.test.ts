import { readFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { reportSchema } from "../../../packages/core/notes/report-schema.ts";
import { reportLineSchema } from "../../../packages/server/present/report/json-lines-schema.ts";
import { Workshop } from "./run-in-process.ts";

let shop: Workshop;
beforeAll(async () => {
  shop = await Workshop.open();
  const url = new URL("../../../demo/shots/quay_0070_v2.curves.json", import.meta.url);
  await shop.put("quay.curves.json", readFileSync(fileURLToPath(url), "utf8"));
});
afterAll(() => shop.close());

const fall = "the body falls at 1.00 g, frames 77 to 89";

describe("--strengths", () => {
  test("text tells what holds beneath the notes, and nothing of it without being asked", async () => {
    const asked = await shop.run(["check", "quay.curves.json", "--strengths"]);
    expect(asked.stdout).toContain("  what holds\n");
    expect(asked.stdout).toContain(`    - ${fall}\n`);
    const unasked = await shop.run(["check", "quay.curves.json"]);
    expect(unasked.stdout).not.toContain("what holds");
  });

  test("json has it as its schema says, with bounds and their source, and the merged report keeps it", async () => {
    const { stdout } = await shop.run(["check", "quay.curves.json", "--strengths", "--format", "json"]);
    const [shot] = reportSchema.parse(JSON.parse(stdout)).shots;
    const told = shot.strengths?.find(({ kind }) => kind === "true-fall");
    expect(told).toMatchObject({ part: "hips", frames: [77, 89], message: fall });
    expect(told?.within.source).toContain("Scientific Reports");
    await shop.put("part.json", stdout);
    const merged = await shop.run(["merge", "part.json", "--format", "json"]);
    expect(JSON.parse(merged.stdout).shots[0].strengths).toEqual(shot.strengths);
    const without = await shop.run(["check", "quay.curves.json", "--format", "json"]);
    expect(JSON.parse(without.stdout).shots[0]).not.toHaveProperty("strengths");
  });

  test("jsonl has it in the line of the shot", async () => {
    const { stdout } = await shop.run(["check", "quay.curves.json", "--strengths", "--format", "jsonl"]);
    const lines = stdout
      .trim()
      .split("\n")
      .map((line) => reportLineSchema.parse(JSON.parse(line)));
    const shot = lines.find(({ kind }) => kind === "shot");
    expect(shot).toMatchObject({
      strengths: expect.arrayContaining([expect.objectContaining({ message: fall })]),
    });
  });

  test("results with and without it are kept apart, and kept ones are taken", async () => {
    const told = async (...argv: string[]) => {
      const { stdout } = await shop.run([
        "check",
        "quay.curves.json",
        "--cache",
        "kept",
        "--format",
        "json",
        ...argv,
      ]);
      return JSON.parse(stdout).shots[0].strengths?.length;
    };
    const counts = [await told(), await told("--strengths"), await told(), await told("--strengths")];
    expect(counts[1]).toBeGreaterThan(0);
    expect(counts).toEqual([undefined, counts[1], undefined, counts[1]]);
  });

  test("only those of the figure that is asked for", async () => {
    const { stdout } = await shop.run([
      ...["check", "quay.curves.json", "--strengths", "--format", "json"],
      ...["--figure", "hips"],
    ]);
    expect(JSON.parse(stdout).shots[0].strengths.length).toBeGreaterThan(0);
  });

  test.each(["sarif", "junit", "html", "summary"])("%s has no place for it", async (format) => {
    const { code, stderr } = await shop.run(["check", "quay.curves.json", "--strengths", "--format", format]);
    expect(code).toBe(2);
    expect(stderr).toContain("--strengths is for text, json and jsonl");
  });

  test("the sheet and its Markdown have it, and the player is given it", async () => {
    await shop.run(["sheet", "quay.curves.json", "--no-fixes", "--out", "quay.html"]);
    const page = readFileSync(join(shop.folder, "quay.html"), "utf8");
    expect(page).toContain('<h2 id="holds">What holds</h2>');
    expect(page).toContain("The body falls at 1.00 g, frames 77 to 89.");
    const motion = JSON.parse(/id="motion">(.*?)<\/script>/s.exec(page)?.[1] ?? "{}");
    expect(motion.strengths).toEqual(
      expect.arrayContaining([
        expect.objectContaining({ title: "True fall", from: 76, to: 88, part: "hips" }),
      ]),
    );
    const { stdout } = await shop.run(["sheet", "quay.curves.json", "--no-fixes", "--format", "markdown"]);
    expect(stdout).toContain("### What holds");
    expect(stdout).toContain("- **True fall**, hips: The body falls at 1.00 g, frames 77 to 89.");
  });

  test("where the document is broken at a node, nothing is said of its figure", async () => {
    const text = readFileSync(join(shop.folder, "quay.curves.json"), "utf8");
    await shop.put("broken.curves.json", text.replace(/(\n\s*\[)(1, )/, "$11, 0],$1$2"));
    const { stdout } = await shop.run(["check", "broken.curves.json", "--strengths", "--format", "json"]);
    const [shot] = JSON.parse(stdout).shots;
    const broken = shot.notes.filter(({ tier }: { tier: string }) => tier === "broken");
    expect(broken.length).toBeGreaterThan(0);
    for (const { frames } of shot.strengths) {
      for (const note of broken) {
        const [from, to] = note.frames ?? shot.range;
        expect(to < frames[0] || from > frames[1]).toBe(true);
      }
    }
  });
});
