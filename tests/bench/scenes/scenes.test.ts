import { describe, expect, test } from "vitest";
import { readShot } from "../../../packages/core/index.ts";
import type { Scene, SceneRecord } from "./scenes.d.ts";

// The bench is plain JavaScript that carries its types in comments.
const moduleOf = (name: string) => import(/* @vite-ignore */ new URL(name, import.meta.url).href);
const { checksOf } = await moduleOf("./kinds.mjs");
const { reportOf } = await moduleOf("./report.mjs");
const { scenes: sets } = await moduleOf("./sets.mjs");

const scenes: Scene[] = await Promise.all(sets.map(({ load }: { load: () => Promise<Scene> }) => load()));

interface Written {
  readonly nodes: readonly { readonly id: string }[];
  readonly curves: readonly unknown[];
}

describe.each(scenes.map((scene) => [scene.name, scene] as const))("the scene %s", (name, scene) => {
  const [clean, flawed] = [scene.clean(), scene.flawed()] as [Written, Written];

  test("is a sound document, clean and flawed, and the same each time", () => {
    for (const document of [clean, flawed]) {
      expect(readShot(JSON.stringify(document)).problems, name).toEqual([]);
    }
    expect(scene.flawed()).toEqual(flawed);
    expect(flawed.curves).not.toEqual(clean.curves);
  });

  test("names flaws of nodes that it has, in frames that it has, in an order", () => {
    const { shot } = readShot(JSON.stringify(flawed));
    const [first, last] = shot?.range ?? [0, 0];
    const ids = new Set(flawed.nodes.map(({ id }) => id));
    expect(scene.flaws.length).toBeGreaterThan(2);
    for (const { kind, nodes, frames, what } of scene.flaws) {
      expect(() => checksOf(kind)).not.toThrow();
      expect(
        nodes.filter((id) => !ids.has(id)),
        what,
      ).toEqual([]);
      expect(frames[0] >= first && frames[0] <= frames[1] && frames[1] <= last, what).toBe(true);
    }
    const order = scene.flaws.map((flaw) => flaw.order).sort((a, b) => a - b);
    expect(order).toEqual(scene.flaws.map((_, i) => i + 1));
  });
});

test("names are told once", () => {
  const names = scenes.map(({ name }) => name);
  expect(new Set(names).size).toBe(names.length);
});

test("the table counts what is said, by size, and what is false", () => {
  const record = (half: "open" | "shut", isSaid: boolean): SceneRecord => ({
    name: half,
    half,
    frames: 100,
    flaws: [
      { kind: "pop", size: "barely", isSaid },
      { kind: "drag", size: "strong", isSaid: true },
    ],
    majors: 1,
    notes: 3,
    firstSaidBy: isSaid ? 1 : 2,
    missed: [],
    late: [],
    wrong: [],
  });
  const [, , open, shut, both] = reportOf([record("open", true), record("shut", false)]).split("\n");
  expect(open).toBe(
    "| open | 1 | 2 | 1.00 (1 of 1) | — | 1.00 (1 of 1) | 1.00 (0.34–1.00) | 1 of 1 | 1 | 10.00 | 3.00 |",
  );
  expect(shut).toContain("0.00 (0 of 1)");
  expect(both).toContain("| 1 of 2 | 2 | 10.00 |");
});
