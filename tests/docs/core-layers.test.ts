import { fileURLToPath } from "node:url";
import { expect, test } from "vitest";
import { importGraph, layerFaults } from "../support/layers.ts";

/** The layers of the core, from what all stands on to a shot that is edited; DEVELOPERS.md says what lives in each. */
const layers = [
  "base",
  "document",
  "time",
  "curve",
  "rig",
  "motion/path",
  "motion/ground",
  "motion/body",
  "motion/parts",
  "staging",
  "settings",
  "faults",
  "expressions",
  "notes",
  "review",
  "strengths",
  "session",
  // What the package gives.
  "index.ts",
  "internal.ts",
  "curves.ts",
];

test("each layer of the core imports only what lies below it, types too, and nothing stands in a circle", () => {
  const graph = importGraph(fileURLToPath(new URL("../../packages/core/", import.meta.url)));
  expect(graph.size).toBeGreaterThan(200);
  expect(graph.get("notes/found.ts")).toContain("faults/check.ts");
  expect(layerFaults(graph, layers)).toEqual([]);
});
