import { describe, expect, test } from "vitest";
import * as adapters from "../../packages/adapters/index.ts";
import * as core from "../../packages/core/index.ts";
import * as internal from "../../packages/core/internal.ts";
import { reportSchema } from "../../packages/core/notes/report-schema.ts";
import * as judges from "../../packages/server/judge/archive/judges.ts";
import * as stored from "../../packages/server/judge/archive/stored-shot.ts";
import * as judge from "../../packages/server/judge/shots/judge.ts";
import * as readers from "../../packages/server/judge/shots/readers.ts";
import * as weigh from "../../packages/server/judge/shots/weigh.ts";
import * as formats from "../../packages/server/present/report/formats.ts";
import * as messages from "../../packages/server/serve/transport/reader.ts";

type Targets = Readonly<Record<string, (text: string) => unknown>>;

// Written in JavaScript, so that long runs use what is built: npm run fuzz.
const module = (name: string) => import(/* @vite-ignore */ new URL(name, import.meta.url).href);
const { fuzz } = await module("fuzz.mjs");
const { finds, seeds } = await module("seeds.mjs");
const { targetsOf } = await module("targets.mjs");

const targets: { readonly reading: Targets; readonly wholeWay: Targets } = targetsOf({
  ...core,
  ...internal,
  ...adapters,
  ...judges,
  ...stored,
  ...judge,
  ...readers,
  ...weigh,
  ...formats,
  ...messages,
  reportSchema,
});

describe("inputs that nobody meant", () => {
  test.each(Object.entries(targets.reading))("reading, unchanged: %s", async (name, target) => {
    for (const text of seeds()[name]) await target(text);
  });

  test.each([
    ["reading", 900],
    ["wholeWay", 60],
  ] as const)("%s", async (group, count) => {
    const { finds: found, counts } = await fuzz(
      targets[group],
      seeds(),
      20_250_101,
      (done: number) => done < count,
    );
    expect(found).toEqual([]);
    expect(Object.values<number>(counts).reduce((sum, one) => sum + one, 0)).toBe(count);
  });

  test("what earlier runs have found stays found", async () => {
    const known = finds();
    expect(known.length).toBeGreaterThan(0);
    for (const { target, text } of known) {
      await targets.reading[target]?.(text);
      await targets.wholeWay[target]?.(text);
    }
  });
});
