import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { readConfig } from "../../packages/core/expressions/config.ts";
import { kindInWords } from "../../packages/core/expressions/dimension.ts";
import { type Series, series } from "../../packages/core/expressions/series.ts";
import { ownCheckSchema } from "../../packages/core/expressions/spec-schema.ts";
import { registry } from "../../packages/core/faults/registry.ts";

const page = readFileSync(new URL("../../docs/own-checks.md", import.meta.url), "utf8");

test("every series is on the page as the code describes it", () => {
  for (const { written, what, kind } of Object.values(series) as Series[]) {
    const gives = kind === "by channel" ? "a length, an angle or a plain number" : kindInWords(kind);
    expect(page).toContain(`| \`${written}\` | ${what}, ${gives} |`);
  }
});

test("every member of a check is on the page", () => {
  for (const name of Object.keys(ownCheckSchema.shape)) expect(page).toContain(`\`${name}\``);
});

test("the example can be used", async () => {
  const example = /```json\n([\s\S]*?)```/.exec(page)?.[1] ?? "";
  const config = await readConfig(registry, JSON.parse(example));
  expect(config.ownChecks).toHaveLength(1);
});
