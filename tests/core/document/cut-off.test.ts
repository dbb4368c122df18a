import { expect, test } from "vitest";
import { readShot } from "../../../packages/core/document/read.ts";

const curve = (node: string, channel: string) =>
  `{ "node": "${node}", "channel": "${channel}", "keys": [[1, 0], [9, 1]] }`;
const head = (nodes: readonly string[]) =>
  `{ "format": "keyside.curves", "version": 1, "shot": { "frameRate": 24 },
  "nodes": [${nodes.map((id) => `{ "id": "${id}" }`).join(", ")}], "curves": [\n`;
const nodes = ["hips", "leg", "foot", "arm", "tip"];
const cutOffOf = (text: string) => readShot(text).shot?.cutOff;
const grouped = [
  curve("hips", "translation.x"),
  curve("hips", "translation.y"),
  curve("leg", "rotation.x"),
  curve("foot", "rotation.x"),
];

test("a whole document has lost nothing", () => {
  const result = readShot(`${head(nodes)}${grouped.join(",\n")}] }`);
  expect(result.shot?.cutOff).toBeUndefined();
  expect(result.remarks).toBeUndefined();
});

test("the last node before the cut, and those that have no curve before it, may have lost some", () => {
  const text = `${head(nodes)}${grouped.join(",\n")}`;
  // In the keys of the foot, behind its curve, and behind the comma after it.
  for (const cut of [text.slice(0, -12), text, `${text},\n`])
    expect(cutOffOf(cut)).toEqual(["foot", "arm", "tip"]);
  // In a curve that does not say yet whose it is.
  expect(cutOffOf(`${text},\n{ "no`)).toEqual(["foot", "arm", "tip"]);
  expect(cutOffOf(head(nodes))).toEqual(nodes);
});

test("where a node's curves stand apart, any node may have lost some", () => {
  const apart = [grouped[0], grouped[2], grouped[1], grouped[3]];
  expect(cutOffOf(`${head(nodes)}${apart.join(",\n")},`)).toEqual(nodes);
});

test("behind its curves a document that breaks off has lost none of them, and says what else may be gone", () => {
  const { shot, remarks, problems } = readShot(`${head(nodes)}${grouped.join(",\n")}],\n"surfaces": [`);
  expect(problems.map(({ code }) => code)).toEqual(["cut-off"]);
  expect(shot?.cutOff).toEqual([]);
  expect(remarks).toEqual([
    "cut off: ground, contacts and props that are not declared may be gone; what hangs on them is polish at most",
  ]);
});
