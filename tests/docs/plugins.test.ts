import { readFileSync } from "node:fs";
import { mkdir } from "node:fs/promises";
import { afterAll, beforeAll, expect, test } from "vitest";
import { Workshop } from "../server/cli/run-in-process.ts";

const textOf = (path: string) => readFileSync(new URL(`../../${path}`, import.meta.url), "utf8");
const page = textOf("docs/plugins.md");
const modules = [...page.matchAll(/^`([\w/]+\.mjs)`:\n\n```js\n([\s\S]*?)```/gm)].map(
  ([, name = "", code = ""]) => [name, code] as const,
);
const calls = [...page.matchAll(/```\n\$ keyside (.*)\n([\s\S]*?)```/g)].map(
  ([, call = "", said = ""]) => [call, said] as const,
);

let shop: Workshop;
beforeAll(async () => {
  shop = await Workshop.open();
  await mkdir(shop.path("studio"));
  for (const [name, code] of modules) await shop.put(name, code);
  await shop.put("keyside.config.json", /```json\n([\s\S]*?)```/.exec(page)?.[1] ?? "");
  await shop.put("quay.curves.json", textOf("demo/shots/quay_0070_v1.curves.json"));
  await shop.put("ball.heights.txt", "0\n0.2\n0.4\n0.6\n3\n1\n1.2\n1.4\n1.6\n1.8\n2\n2.2\n");
});
afterAll(() => shop.close());

test("the page shows a plug-in of each kind, and how each is used", () => {
  expect(modules.map(([name]) => name)).toEqual([
    "studio/checks.mjs",
    "studio/heights.mjs",
    "studio/report.mjs",
  ]);
  expect(calls).toHaveLength(3);
  expect(page.split("```").length - 1).toBe(2 * (modules.length + calls.length + 2));
});

test.each(calls)("%s says what the page shows", async (call, said) => {
  const { stdout, stderr } = await shop.run(call.split(" "));
  expect(stderr).toBe("");
  const lines = said.trimEnd().split("\n");
  const isCut = lines.at(-1) === "…";
  const shown = isCut ? lines.slice(0, -1) : lines;
  expect(
    stdout
      .trimEnd()
      .split("\n")
      .slice(0, isCut ? shown.length : undefined),
  ).toEqual(shown);
});

test("the message of what is not run is the program's", async () => {
  const other = await Workshop.open();
  try {
    const { stderr } = await other.run(["check", shop.path("quay.curves.json"), "--no-cache"]);
    const shown = /```\n(\/elsewhere\/keyside[\s\S]*?)\n```/.exec(page)?.[1] ?? "";
    expect(stderr).toContain(
      shown.replaceAll("/elsewhere", shop.folder).replace("./x.mjs", "./studio/checks.mjs"),
    );
  } finally {
    await other.close();
  }
});
