import { readFile, rm } from "node:fs/promises";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { diskFiles } from "../../../packages/server/base/files/read.ts";
import { localJudges } from "../../../packages/server/judge/archive/local-judges.ts";
import { Workshop } from "./run-in-process.ts";
import { cleanDocument, poppingDocument } from "./shots-for-tests.ts";

/** `keyside check --format html`: the shots that it draws. */

let shop: Workshop;
beforeAll(async () => {
  shop = await Workshop.open();
  const steps = new URL("../../../demo/shots/steps_0110_v1.curves.json", import.meta.url);
  await shop.put("steps.curves.json", await readFile(steps));
  await shop.put("sign.curves.json", poppingDocument());
  await shop.put("still.curves.json", cleanDocument());
});
afterAll(() => shop.close());

const page = async (...argv: string[]) =>
  (await shop.run(["check", ".", "--format", "html", "--no-cache", ...argv])).stdout;

/** What is drawn of each shot, by what it is called. */
function picturesOf(html: string): Map<string, string> {
  const cards = [
    ...html.matchAll(/<li class="shot [\s\S]*?<h3>(.*?)<\/h3>[\s\S]*?<figure>([\s\S]*?)<\/figure>/g),
  ];
  return new Map(cards.map(([, name, picture]) => [name as string, picture as string]));
}

describe("the page on an archive", () => {
  test("draws each shot at its biggest note, the noted part dark", async () => {
    const html = await page();
    const pictures = picturesOf(html);
    expect([...pictures.keys()]).toEqual(["steps_0110", "pier_0010"]);
    expect(pictures.get("steps_0110")).toMatch(/class="flesh[\s\S]*class="number noted"[^>]*>45</);
    expect(pictures.get("pier_0010")).toMatch(/class="flesh dark"[\s\S]*class="number noted"[^>]*>48</);
    expect(await page()).toBe(html);
  });

  test("leaves pictures out where that is asked for", async () => {
    expect([...picturesOf(await page("--no-pictures")).values()]).toEqual(["", ""]);
  });

  test("stands without the picture of a shot that has gone since", async () => {
    const { code, stdout } = await shop.run(["check", ".", "--format", "html", "--no-cache"], {
      async startJudges(options) {
        const judges = localJudges(options, diskFiles);
        return {
          ...{ count: 1, close: () => judges.close() },
          async judge(task) {
            const judged = await judges.judge(task);
            if (task.file.includes("sign")) await rm(shop.path(task.file));
            return judged;
          },
        };
      },
    });
    await shop.put("sign.curves.json", poppingDocument());
    expect(code).toBe(1);
    expect(picturesOf(stdout).get("pier_0010")).toBe("");
    expect(picturesOf(stdout).get("steps_0110")).toContain("<svg");
  });

  test("no other format has pictures", async () => {
    const { code, stderr } = await shop.run(["check", ".", "--no-pictures"]);
    expect([code, stderr]).toEqual([
      2,
      "keyside: --no-pictures is for the page of --format html; no other format has pictures.\n",
    ]);
  });
});
