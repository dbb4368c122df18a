import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { adapters } from "../../packages/adapters/adapters.ts";
import { csvAdapter } from "../../packages/adapters/csv/adapter.ts";

const page = readFileSync(new URL("../../docs/files.md", import.meta.url), "utf8");
const tables = [...page.matchAll(/```csv\n([\s\S]*?)```/g)].map(([, text = ""]) => text);

test("the page shows a table of each layout, and one of nodes, and each is read without a fault", () => {
  const [long, wide, nodes] = tables;
  expect(tables).toHaveLength(3);
  const beside = () => new TextEncoder().encode(nodes);
  const read = (text: string) => csvAdapter.readText?.(text, beside, { file: "quay.csv" });
  const first = read(long);
  expect(first?.problems).toEqual([]);
  expect(first?.shot?.header.nodes).toMatchObject([
    { id: "hips", rotationOrder: "zxy" },
    { id: "head", parent: "hips" },
  ]);
  expect(first?.shot?.header.space).toMatchObject({ metresPerUnit: 0.01, up: "y" });
  const height = first?.shot?.curves.find(({ channel }) => channel === "translation.y");
  expect([...(height?.handles ?? [])].slice(4, 8)).toEqual([-2, 0, 2, -1.5]);
  const second = read(wide);
  expect(second?.problems).toEqual([]);
  expect(second?.shot?.curves.map(({ frames }) => [...frames])).toEqual([
    [1, 2, 3],
    [1, 2],
  ]);
});

test("the page has every format, with its endings", () => {
  for (const { endings } of adapters) for (const ending of endings) expect(page).toContain(`\`*${ending}\``);
});
