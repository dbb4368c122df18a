import { readFileSync } from "node:fs";
import { afterAll, beforeAll, expect, test } from "vitest";
import { reportSchema } from "../../../packages/core/notes/report-schema.ts";
import { Workshop } from "./run-in-process.ts";
import { bvh, poppingDocument } from "./shots-for-tests.ts";

let shop: Workshop;
beforeAll(async () => {
  shop = await Workshop.open();
  const demo = new URL("../../../demo/shots/steps_0110_v1.curves.json", import.meta.url);
  const text = readFileSync(demo, "utf8");
  // Far beyond what a figure does, and yet numbers: one value of each curve, then all.
  let count = 0;
  const some = text.replace(/\[(\d+), (-?[\d.]+)/g, (key, frame) =>
    ++count % 40 === 0 ? `[${frame}, 1e308` : key,
  );
  await shop.put("some.curves.json", some);
  await shop.put("large.curves.json", text.replace(/\[(\d+), (-?[\d.]+)/g, "[$1, $2e14"));
  await shop.put("scaled.curves.json", text.replace(/"metresPerUnit":\s*[\d.]+/, '"metresPerUnit": 1e300'));
  const popping = JSON.parse(JSON.stringify(poppingDocument()));
  for (const key of popping.curves[0].keys.slice(3, 6)) key[1] = 1e308;
  await shop.put("pop.curves.json", popping);
  const rows = Array.from({ length: 30 }, (_, i) => `${i % 7 === 3 ? "1e308" : i} 90 0 0 0 0 -1e308 0 0`);
  await shop.put("rows.bvh", bvh(rows));
  await shop.put("cells.csv", "frame@24,a.translation.x\n1,0\n2,1e308\n3,-1e308\n4,1e308\n5,0\n");
});
afterAll(() => shop.close());

const files = ["some.curves.json", "large.curves.json", "scaled.curves.json", "pop.curves.json"];

test("a report keeps its own schema, and says no number that is none, at 1e308", async () => {
  for (const file of [...files, "rows.bvh", "cells.csv"]) {
    const argv = ["check", file, "--no-cache", "--format"];
    const { stdout, stderr } = await shop.run([...argv, "json"]);
    const issues = reportSchema.safeParse(JSON.parse(stdout)).error?.issues ?? [];
    expect(issues, file).toEqual([]);
    for (const format of ["text", "sarif", "junit", "html"]) {
      const other = await shop.run([...argv, format]);
      expect(other.stdout, `${file} ${format}`).not.toMatch(/\b(Infinity|NaN|null m)\b/);
    }
    expect(stderr + stdout).not.toMatch(/\b(Infinity|NaN|itself failed)\b/);
  }
});

test("nor do fixes, sheets and comparisons", async () => {
  for (const argv of [
    ["fix", "pop.curves.json"],
    ["fix", "pop.curves.json", "--format", "json"],
    ["sheet", "some.curves.json", "--no-fixes"],
    ["compare", "pop.curves.json", "pop.curves.json"],
  ]) {
    const { code, stdout, stderr } = await shop.run(argv);
    expect(stdout + stderr, argv.join(" ")).not.toMatch(/\b(Infinity|NaN|itself failed)\b/);
    expect([0, 1, 3]).toContain(code);
  }
});
