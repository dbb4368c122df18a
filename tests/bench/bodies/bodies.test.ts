import { readFileSync } from "node:fs";
import { expect, test } from "vitest";

// The bench is plain JavaScript that carries its types in comments.
const moduleOf = (name: string) => import(/* @vite-ignore */ new URL(name, import.meta.url).href);
const { judged } = await moduleOf("./judge.mjs");
const { suite } = await moduleOf("./suite.mjs");
const { page, toldOf } = await moduleOf("./table.mjs");

interface Told {
  readonly says: string;
  readonly isSure: boolean;
  readonly isRight: boolean;
}
interface Judged {
  readonly what: string;
  readonly unit: Told;
  readonly up: Told;
}
const all: readonly Judged[] = suite.map(judged);
const told = (one: Judged): readonly Told[] => toldOf(one);

test("nothing that is called sure of a skeleton is wrong", () => {
  const wrong = all.flatMap((one) =>
    told(one)
      .filter(({ isSure, isRight }) => isSure && !isRight)
      .map(({ says }) => `${one.what}: ${says}`),
  );
  expect(wrong).toEqual([]);
});

test("of forty skeletons and more, at least four in five are known in all respects without help", () => {
  expect(suite.length).toBeGreaterThanOrEqual(40);
  const right = all.filter((one) => told(one).every(({ isRight }) => isRight)).length;
  expect(right / suite.length).toBeGreaterThanOrEqual(0.8);
});

test("what is declared is right", () => {
  const skeletons: readonly { what: string; declares?: readonly ("unit" | "up")[] }[] = suite;
  for (const [i, { declares = [] }] of skeletons.entries()) {
    for (const what of declares)
      expect(all[i][what], skeletons[i].what).toMatchObject({ isRight: true, isSure: true });
  }
});

test("the page holds the table", () => {
  expect(readFileSync("docs/bodies.md", "utf8")).toContain(page(all).trim());
});
