import { describe, expect, test } from "vitest";
import { patched } from "../../../packages/core/document/edit/text-patch.ts";
import { readShot } from "../../../packages/core/document/read.ts";
import { waiverFor, waiverPatch } from "../../../packages/core/notes/waiver-text.ts";

const waiver = { check: "hard-stop", node: "box", frames: [4, 6] as [number, number], reason: 'a "hit"' };
const start = '"format": "keyside.curves", "version": 1,';
const rest = '"shot": { "frameRate": 24 },\n  "nodes": [{ "id": "box" }],';
const curves =
  '"curves": [\n    { "node": "box", "channel": "translation.x", "keys": [\n      [1, 0],\n      [9, 1]\n    ] }\n  ]';

function waived(text: string): string {
  const patch = waiverPatch(text, waiver);
  if (patch === null) throw new Error("no place for a waiver");
  const out = patched(text, [patch]);
  const { shot, problems } = readShot(out);
  expect(problems).toEqual([]);
  expect(shot?.header.waivers?.at(-1)).toEqual(waiver);
  // Nothing that stood there is gone.
  expect(out.slice(0, patch.start) + out.slice(patch.start + patch.text.length)).toBe(
    text.slice(0, patch.start) + text.slice(patch.end),
  );
  return out;
}

describe("a waiver that is written into a document", () => {
  test("starts a list in front of the curves", () => {
    const text = `{\n  ${start}\n  ${rest}\n  ${curves}\n}\n`;
    expect(waived(text)).toContain(
      '\n  "waivers": [\n    { "check": "hard-stop", "node": "box", "frames": [4, 6], "reason": "a \\"hit\\"" }\n  ],\n  "curves": [',
    );
  });

  test("comes behind the others, laid out like them", () => {
    const one = '{ "check": "pop", "reason": "meant" }';
    const lined = `{\n  ${start}\n  ${rest}\n  "waivers": [\n\t\t${one}\n  ],\n  ${curves}\n}\n`;
    expect(waived(lined)).toContain(`${one},\n\t\t{ "check": "hard-stop"`);
    const inline = `{\n  ${start}\n  ${rest}\n  "waivers": [${one}],\n  ${curves}\n}\n`;
    expect(waived(inline)).toContain(`${one}, { "check": "hard-stop"`);
  });

  test("fills an empty list, keeps the line ends, and needs no curves", () => {
    expect(waived(`{\n  ${start}\n  ${rest}\n  "waivers": [],\n  ${curves}\n}\n`)).toContain(
      '"waivers": [\n    {',
    );
    expect(waived(`{\n  ${start}\n  ${rest}\n  ${curves}\n}\n`.replaceAll("\n", "\r\n"))).not.toMatch(
      /[^\r]\n/,
    );
    const bare = `{ ${start} "shot": { "frameRate": 24 }, "nodes": [{ "id": "box" }] }`;
    const patch = waiverPatch(bare, waiver);
    expect(JSON.parse(patched(bare, patch === null ? [] : [patch])).waivers).toEqual([waiver]);
  });

  test("has no place in a text that is no document", () => {
    expect(waiverPatch("no JSON", waiver)).toBeNull();
  });

  test("names the note's check, node and frames", () => {
    expect(waiverFor({ check: "pop", node: null, frames: [3, 3] }, "meant", "me")).toEqual({
      check: "pop",
      frames: [3, 3],
      reason: "meant",
      by: "me",
    });
  });
});
