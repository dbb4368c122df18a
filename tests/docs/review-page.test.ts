import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { expect, test } from "vitest";
import { followedStates } from "../../packages/core/notes/followed-schema.ts";
import { reviewColumns } from "../../packages/core/review/exchange.ts";
import { printReview } from "../../packages/core/review/print.ts";
import { readReview } from "../../packages/core/review/read.ts";
import { programFor } from "../../packages/server/cli/program.ts";

const page = readFileSync(fileURLToPath(new URL("../../docs/review.md", import.meta.url)), "utf8");

test("the file on the page is read as it stands, and is laid out as it is written", () => {
  const [, text = ""] = /```json\n([\s\S]*?)```/.exec(page) ?? [];
  const { review, problems } = readReview(text);
  expect(problems).toEqual([]);
  expect(review.remarks).toHaveLength(1);
  const lines = (of: string) => JSON.parse(of).entries.length;
  expect(lines(printReview(review))).toBe(lines(text));
});

test("the page has each column of the rows with what stands in it, and each word of a history", () => {
  for (const [name, what] of Object.entries(reviewColumns))
    expect(page).toContain(`| \`${name}\` | ${what} |`);
  for (const state of followedStates) expect(page).toContain(`\`${state}\``);
});

test("the page has every option of its commands", () => {
  const program = programFor({ ...({} as Parameters<typeof programFor>[0]), columns: 100 }, () => {});
  for (const name of ["review", "history"]) {
    const command = program.commands.find((one) => one.name() === name);
    expect(command).toBeDefined();
    for (const { long } of command?.options ?? []) expect(page).toContain(long);
  }
});
