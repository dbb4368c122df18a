import { describe, expect, test } from "vitest";
import { layerFaults } from "../support/layers.ts";

const graph = (imports: Readonly<Record<string, readonly string[]>>) => new Map(Object.entries(imports));

describe("the checker of layers", () => {
  const layers = ["ground", "wall/brick", "wall", "roof"];

  test("says nothing where each imports what lies below it, or beside it", () => {
    const sound = graph({
      "ground/stone.ts": [],
      "ground/sand.ts": ["ground/stone.ts"],
      "wall/brick/red.ts": ["ground/sand.ts"],
      "wall/window.ts": ["wall/brick/red.ts", "ground/stone.ts"],
      "roof/tile.ts": ["wall/window.ts", "elsewhere/that-is-not-looked-at.ts"],
    });
    expect(layerFaults(sound, layers)).toEqual([]);
  });

  test("names an import of a later layer, also within a folder", () => {
    const faults = layerFaults(
      graph({
        "ground/stone.ts": ["roof/tile.ts"],
        "wall/brick/red.ts": ["wall/window.ts"],
        "wall/window.ts": [],
        "roof/tile.ts": [],
      }),
      layers,
    );
    expect(faults).toEqual([
      "ground/stone.ts imports roof/tile.ts, which is later",
      "wall/brick/red.ts imports wall/window.ts, which is later",
    ]);
  });

  test("names sources in no layer, and layers without sources", () => {
    const faults = layerFaults(graph({ "shed/door.ts": [], "grounds/lawn.ts": [] }), ["ground"]);
    expect(faults).toEqual([
      "shed/door.ts is in no layer",
      "grounds/lawn.ts is in no layer",
      "ground holds nothing",
    ]);
  });

  test("names circles of two, of three and of one", () => {
    const faults = layerFaults(
      graph({
        "a/1.ts": ["a/2.ts"],
        "a/2.ts": ["a/1.ts", "a/3.ts"],
        "a/3.ts": ["a/4.ts"],
        "a/4.ts": ["a/5.ts"],
        "a/5.ts": ["a/3.ts"],
        "a/6.ts": ["a/6.ts", "a/1.ts"],
      }),
      ["a"],
    );
    expect(faults).toEqual([
      "a circle: a/3.ts, a/4.ts, a/5.ts",
      "a circle: a/1.ts, a/2.ts",
      "a circle: a/6.ts",
    ]);
  });
});
