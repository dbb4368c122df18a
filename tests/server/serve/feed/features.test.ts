import { afterEach, beforeEach, describe, expect, test } from "vitest";
import type {
  CompletionItem,
  DocumentSymbol,
  FoldingRange,
  Hover,
  InlayHint,
  Location,
  TextEdit,
  WorkspaceEdit,
} from "vscode-languageserver/node";
import { writeDocument } from "../../../../packages/core/document/write.ts";
import { bipedDocument } from "../../../support/shots.ts";
import { Client } from "./client.ts";
import { popLine, popping, poppingKey } from "./shots.ts";

const uri = "file:///shots/pier.curves.json";
let client: Client;
beforeEach(async () => {
  client = await Client.start({
    capabilities: {
      textDocument: {
        hover: { contentFormat: ["markdown"] },
        documentSymbol: { hierarchicalDocumentSymbolSupport: true },
      },
    },
    initializationOptions: { keyside: { inlayHints: { speed: true } } },
  });
});
afterEach(() => client.stop());

const textDocument = { uri };
const body = writeDocument(
  bipedDocument(
    {
      "upper_arm_l rotation.z": [
        [1, 0],
        [24, -60],
      ],
      "hips translation.x": [
        [1, 0],
        [24, 1],
      ],
    },
    { more: { waivers: [{ check: "pop", node: "hips", reason: "meant" }] } },
  ),
);

/** Position of the bar in a text, and the text without it. */
function marked(text: string): { text: string; position: { line: number; character: number } } {
  const at = text.indexOf("|");
  const before = text.slice(0, at).split("\n");
  return {
    text: text.slice(0, at) + text.slice(at + 1),
    position: { line: before.length - 1, character: before[before.length - 1].length },
  };
}
/** Position in the middle of the first occurrence of something behind a landmark. */
function within(text: string, what: string, behind = ""): { line: number; character: number } {
  const at = text.indexOf(what, behind === "" ? 0 : text.indexOf(behind)) + 2;
  return marked(`${text.slice(0, at)}|${text.slice(at)}`).position;
}

describe("hover", () => {
  const at = { line: popLine, character: poppingKey.indexOf("48") + 1 };

  test("on a key says how it moves, what it drives, and its notes", async () => {
    await client.open(uri, popping);
    const hover = await client.request<Hover>("textDocument/hover", { textDocument, position: at });
    const { value } = hover.contents as { value: string };
    expect(value).toContain("**post rotation.z, frame 48**");
    expect(value).toMatch(
      /post turns at \d+°\/s; sign moves [\d.]+ c?m in this frame, [\d.]+ c?m in the next/,
    );
    expect(value).toContain("Drives post, and with it sign, rim.");
    expect(value).toMatch(/major, `pop`: /);
    expect(hover.range?.start).toEqual({ line: popLine, character: poppingKey.indexOf("[") });
  });

  test("is of the text as it is, not as it was judged last", async () => {
    await client.open(uri, popping);
    await client.change(uri, 2, poppingKey.replace("[48", "[48.25"), [
      [popLine, 0],
      [popLine, 999],
    ]);
    const hover = await client.request<Hover>("textDocument/hover", { textDocument, position: at });
    expect((hover.contents as { value: string }).value).toContain("frame 48.25");
  });

  test("elsewhere says nothing", async () => {
    await client.open(uri, popping);
    const position = { line: 0, character: 0 };
    expect(await client.request("textDocument/hover", { textDocument, position })).toBeNull();
  });
});

test("inlay hints stand behind the keys that are in sight", async () => {
  await client.open(uri, popping);
  const range = { start: { line: popLine, character: 0 }, end: { line: popLine + 1, character: 20 } };
  const hints = await client.request<InlayHint[]>("textDocument/inlayHint", { textDocument, range });
  expect(hints.map(({ position }) => position.line)).toEqual([popLine, popLine + 1]);
  expect(hints[0].label).toMatch(/^\d+°\/s$/);
  expect(hints[0].position.character).toBe(poppingKey.lastIndexOf("]") + 1);
});

test("symbols are figures, their nodes, and the channels that are keyed", async () => {
  await client.open(uri, body);
  const [walker] = await client.request<DocumentSymbol[]>("textDocument/documentSymbol", { textDocument });
  expect(walker.name).toBe("walker");
  const arm = walker.children?.find(({ name }) => name === "upper_arm_l");
  expect(arm?.detail).toBe("left upper arm");
  expect(arm?.children).toMatchObject([{ name: "rotation.z", detail: "2 keys, frames 1 to 24" }]);
});

test("curves fold, and so do the lists", async () => {
  await client.open(uri, popping);
  const folds = await client.request<FoldingRange[]>("textDocument/foldingRange", { textDocument });
  const lines = popping.split("\n");
  expect(folds.map(({ startLine }) => lines[startLine].trim()).sort()).toEqual([
    '"curves": [',
    '"nodes": [',
    expect.stringMatching(/^\{ "node": "post", "channel": "rotation.z"/),
  ]);
  for (const { startLine, endLine } of folds) expect(endLine).toBeGreaterThan(startLine);
});

describe("references", () => {
  test("lead from a curve to its node", async () => {
    await client.open(uri, body);
    const position = within(body, '"upper_arm_l"', '"curves"');
    const found = await client.request<Location>("textDocument/definition", { textDocument, position });
    expect(found.range.start).toEqual({
      ...within(body, '"upper_arm_l"'),
      character: within(body, '"upper_arm_l"').character - 2,
    });
  });

  test("are found wherever a node is named, and renamed there", async () => {
    await client.open(uri, body);
    const position = within(body, '"upper_arm_l"');
    const context = { includeDeclaration: true };
    const all = await client.request<Location[]>("textDocument/references", {
      textDocument,
      position,
      context,
    });
    // Its declaration, its child's parent, the figure's part, its curve.
    expect(all).toHaveLength(4);
    const edit = await client.request<WorkspaceEdit>("textDocument/rename", {
      textDocument,
      position,
      newName: "arm",
    });
    expect(edit.changes?.[uri]).toHaveLength(4);
    expect(new Set(edit.changes?.[uri].map(({ newText }) => newText))).toEqual(new Set(['"arm"']));
    const taken = { textDocument, position, newName: "hips" };
    await expect(client.request("textDocument/rename", taken)).rejects.toMatchObject({ code: -32602 });
  });
});

describe("completion", () => {
  const complete = async (text: string) => {
    const { text: plain, position } = marked(text);
    await client.open(uri, plain);
    const items = await client.request<CompletionItem[]>("textDocument/completion", {
      textDocument,
      position,
    });
    return items.map(({ label }) => label);
  };

  test.each([
    [
      "nodes of a curve",
      '"curves": [\n    { "node": "upper_arm_l"',
      '"curves": [\n    { "node": "|"',
      "chest",
    ],
    ["nodes of a half-written curve", '"curves": [', '"curves": [ { "node": "up|\n', "upper_arm_r"],
    ["channels", '"channel": "rotation.z"', '"channel": "|rotation.z"', "translation.y"],
    ["channels where nothing is written", '"channel": "rotation.z"', '"channel": |', "scale.x"],
    ["checks of a waiver", '"check": "pop"', '"check": "|"', "hard-stop"],
    ["parents", '"parent": "hips"', '"parent": "|"', "chest"],
    ["parts' nodes", '"root": "hips"', '"root": "|"', "head"],
    ["the format", '"keyside.curves"', '"|"', "keyside.curves"],
    ["values of the schema", '"space": {', '"space": { "up": "|", ', "z"],
    ["interpolations of a key", "[24, -60]", '[24, -60, { "interpolation": "|" }]', "bezier"],
    ["properties of a node", '{ "id": "hips"', '{ "|", "id": "hips"', "rotationOrder"],
    ["properties of the document", '"nodes":', '"|", "nodes":', "gazes"],
    ["nodes of a limb", '"parts": {', '"limbs": [{ "nodes": ["|"] }], "parts": {', "chest"],
    [
      "nodes of a sole",
      '"parts": {',
      '"limbs": [{ "sole": { "toe": { "node": "|" } } }], "parts": {',
      "chest",
    ],
    ["kinds of limbs", '"parts": {', '"limbs": [{ "kind": "|" }], "parts": {', "tentacle"],
    ["who holds a prop", '"nodes":', '"props": [{ "heldBy": [{ "node": "|" }] }], "nodes":', "chest"],
    ["properties of a prop", '"nodes":', '"props": [{ "|" }], "nodes":', "heldBy"],
    ["media", '"nodes":', '"surroundings": [{ "medium": "|" }], "nodes":', "water"],
    ["kinds of shapes", '{ "id": "hips"', '{ "shapes": [{ "kind": "|" }], "id": "hips"', "capsule"],
    ["members of shapes", '{ "id": "hips"', '{ "shapes": [{ "|" }], "id": "hips"', "radius"],
    [
      "interpolations of a zoom",
      '"nodes":',
      '"cameras": [{ "zoom": { "interpolation": "|" } }], "nodes":',
      "smooth",
    ],
    ["stages of work", '"nodes":', '"stages": [{ "stage": "|" }], "nodes":', "splining"],
    ["parts of a body", '"root": "hips"', '"|", "root": "hips"', "leftWing"],
  ])("offers %s", async (_, what, by, expected) => {
    expect(body).toContain(what);
    expect(await complete(body.replace(what, by))).toContain(expected);
  });

  test("offers surfaces where surroundings end, and surfaces and nodes for a contact", async () => {
    const document = JSON.parse(body);
    const surfaces = [{ id: "pool", height: 0 }];
    const below = { ...document, surfaces, surroundings: [{ medium: "water", below: "|" }] };
    expect(await complete(JSON.stringify(below))).toEqual(["pool"]);
    const contacts = [{ node: "hips", with: "|", frames: [1, 2] }];
    const offered = await complete(JSON.stringify({ ...document, surfaces, contacts }));
    expect(offered[0]).toBe("pool");
    expect(offered).toContain("chest");
  });

  test("offers the figures that are not declared, by the ids that reports show", async () => {
    const { figures: _, ...undeclared } = JSON.parse(body);
    const gazes = [{ figure: "|", at: "head", frames: [1, 2] }];
    expect(await complete(JSON.stringify({ ...undeclared, gazes }))).toContain("hips");
  });

  test("leaves out what is there already, and says what a check finds", async () => {
    expect(await complete(body.replace('"translation"', '"|", "translation"'))).not.toContain("id");
    const { text, position } = marked(body.replace('"check": "pop"', '"check": "|pop"'));
    await client.open(uri, text);
    const items = await client.request<CompletionItem[]>("textDocument/completion", {
      textDocument,
      position,
    });
    const stop = items.find(({ label }) => label === "hard-stop") as CompletionItem;
    expect(stop.documentation).toMatch(/^[A-Z].*\.$/);
    // The whole word is replaced, quotes included.
    expect(stop.textEdit).toMatchObject({ newText: '"hard-stop"' });
    const { range } = stop.textEdit as TextEdit;
    expect(range.end.character - range.start.character).toBe('"pop"'.length);
  });
});
