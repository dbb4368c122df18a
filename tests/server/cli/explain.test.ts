import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { registry } from "../../../packages/core/faults/registry.ts";
import { textWriter } from "../../../packages/server/present/report/text.ts";
import { cautionsFor, cautionTexts } from "../../../packages/server/present/text/cautions.ts";
import { Workshop } from "./run-in-process.ts";

let shop: Workshop;
beforeAll(async () => {
  shop = await Workshop.open();
});
afterAll(() => shop.close());

describe("explain", () => {
  test("lists every check", async () => {
    const { code, stdout } = await shop.run(["explain"]);
    expect(code).toBe(0);
    for (const { name } of registry) expect(stdout).toMatch(new RegExp(`^  ${name} `, "m"));
  });

  test.each(registry.map((check) => [check.name, check] as const))("%s in full", async (name, check) => {
    const { code, stdout } = await shop.run(["explain", name]);
    expect(code).toBe(0);
    const flat = stdout.replace(/\s+/g, " ");
    const said = [check.what, check.why, check.computes, check.fix, ...check.notAFault, ...check.limits];
    for (const [setting, { default: value, unit, source }] of Object.entries(check.settings)) {
      said.push(`${setting} ${value} ${unit}`, source);
    }
    for (const sentence of [...said, ...check.sources]) expect(flat).toContain(sentence.replace(/\s+/g, " "));
  });

  test("as JSON, with everything but functions", async () => {
    const list = JSON.parse((await shop.run(["explain", "--format", "json"])).stdout);
    expect(list.map((check: { name: string }) => check.name)).toEqual(registry.map((check) => check.name));
    const one = JSON.parse((await shop.run(["explain", "pop", "--format", "json"])).stdout);
    const pop = registry.find((check) => check.name === "pop");
    expect(one).toMatchObject({ name: "pop", settings: pop?.settings, sources: pop?.sources });
  });
});

describe("cautions", () => {
  test("stand with checks of weight and of speed, and with flicker", () => {
    const { bodies, flicker } = cautionTexts;
    const named = (name: string) => registry.filter((check) => check.name === name);
    expect(cautionsFor(named("off-balance"))).toEqual([bodies]);
    expect(cautionsFor(named("over-speed"))).toEqual([bodies]);
    expect(cautionsFor([{ family: "staging", caution: "flicker" }, ...named("leg-snap")])).toEqual([
      bodies,
      flicker,
    ]);
    expect(cautionsFor(named("pop"))).toEqual([]);
  });

  test("are said once at the end of a report, only where such notes are shown", () => {
    const physical = registry.find((check) => cautionsFor([check]).length > 0);
    const other = registry.find((check) => cautionsFor([check]).length === 0);
    const report = (name: string | undefined) => {
      const writer = textWriter({ layout: { width: 10_000, colour: false }, lightest: "minor" });
      const note = {
        check: name,
        tier: "minor",
        frames: [1, 2],
        node: null,
        part: "hips",
        keys: [],
        measured: null,
        message: "m",
        why: "w",
        suggestion: "s",
      };
      const shot = { name: "s", file: "f", frameRate: 24, range: [1, 2], inferred: [], notes: [note, note] };
      const text = [shot, shot].map((one) => writer.shot(one as never)).join("");
      return text + writer.end({ shots: 2, notes: 4, errors: 0, failures: 0, stopped: null });
    };
    expect(report(other?.name)).not.toContain("rehabilitation");
    if (physical !== undefined) expect(report(physical.name).match(/rehabilitation/g)).toHaveLength(1);
  });
});
