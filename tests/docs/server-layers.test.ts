import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { expect, test } from "vitest";
import { registry } from "../../packages/core/faults/registry.ts";
import { importGraph, layerFaults } from "../support/layers.ts";

/** The layers of the server, from what all stands on to the command; DEVELOPERS.md says what lives in each. */
const layers = [
  "base",
  "judge/shots",
  "judge/archive",
  "judge/calibrate",
  "present/text",
  "present/look",
  "present/report",
  "present/sheet/draw",
  "present/sheet",
  "serve/feed",
  "serve/host",
  "serve/transport",
  "serve/desk",
  "cli",
  // What the package gives, and what starts it.
  "",
];

test("each layer of the server imports only what lies below it, and nothing stands in a circle", () => {
  const graph = importGraph(fileURLToPath(new URL("../../packages/server/", import.meta.url)));
  expect(graph.size).toBeGreaterThan(100);
  expect(graph.get("serve/host/host-channel.ts")).toContain("serve/feed/arrivals.ts");
  expect(layerFaults(graph, layers)).toEqual([]);
});

test("the server names no single check in its code: what is special about one stands in its own metadata", () => {
  const root = fileURLToPath(new URL("../../packages/server/", import.meta.url));
  const names = new Set(registry.map(({ name }) => name));
  const named = [...importGraph(root).keys()].flatMap((path) => {
    const code = readFileSync(root + path, "utf8").replace(/\/\*[\s\S]*?\*\/|\/\/.*/g, "");
    const texts = [...code.matchAll(/"([a-z]+(?:-[a-z]+)*)"/g)].map(([, text = ""]) => text);
    return texts.filter((text) => names.has(text)).map((text) => `${path}: ${text}`);
  });
  expect(names.size).toBeGreaterThan(30);
  expect(named).toEqual([]);
});
