import { afterEach, describe, expect, test } from "vitest";
import type { CodeAction, Diagnostic, TextEdit } from "vscode-languageserver/node";
import { readShot } from "../../../../packages/core/document/read.ts";
import { writeDocument } from "../../../../packages/core/document/write.ts";
import { notesOf, reviewOf } from "../../../../packages/core/notes/found.ts";
import { eased, everyFrame, pointDocument, studyOf } from "../../../support/shots.ts";
import { Client } from "./client.ts";

const uri = "file:///shots/pier.curves.json";
const course = eased(6, 60, 0, 2);
/** A point that goes from rest to rest, and is off its path to the side at some frames. */
const text = popAt([18, 40]);
function popAt(frames: readonly number[]): string {
  return writeDocument(
    pointDocument({
      "translation.x": everyFrame(1, 72, course),
      "translation.y": everyFrame(1, 72, (frame) => (frames.includes(frame) ? 0.2 : 0)),
    }),
  );
}

const resolving = {
  textDocument: {
    codeAction: { dataSupport: true, resolveSupport: { properties: ["edit"] } },
  },
  workspace: { workspaceEdit: { documentChanges: true } },
};

let client: Client;
afterEach(() => client.stop());

async function actionsFor(capabilities: object, document = text) {
  client = await Client.start({ capabilities });
  await client.open(uri, document);
  const { diagnostics } = await client.diagnostics(uri);
  const pops = diagnostics.filter(({ code }) => code === "pop");
  const ask = (chosen: readonly Diagnostic[]) =>
    client.request<CodeAction[]>("textDocument/codeAction", {
      textDocument: { uri },
      range: chosen[0]?.range ?? diagnostics[0]?.range,
      context: { diagnostics: chosen },
    });
  return { diagnostics, pops, ask };
}

/** A text with edits made in it. */
function edited(before: string, edits: readonly TextEdit[]): string {
  const lines = before.split("\n");
  const offset = ({ line, character }: { line: number; character: number }) =>
    lines.slice(0, line).reduce((sum, one) => sum + one.length + 1, 0) + character;
  return [...edits]
    .sort((a, b) => offset(b.range.start) - offset(a.range.start))
    .reduce(
      (out, { range, newText }) => out.slice(0, offset(range.start)) + newText + out.slice(offset(range.end)),
      before,
    );
}

function editsOf(action: CodeAction): TextEdit[] {
  const [change] = action.edit?.documentChanges ?? [];
  if (change !== undefined && "edits" in change) return change.edits as TextEdit[];
  return action.edit?.changes?.[uri] ?? [];
}

function checksIn(document: string): string[] {
  const { shot } = readShot(document);
  if (shot === null) throw new Error("not a shot");
  return notesOf(studyOf({ ...shot.header, curves: JSON.parse(document).curves })).map(({ check }) => check);
}

/** Lines that differ between two texts with as many lines. */
function changedLines(a: string, b: string): string[] {
  const [before, after] = [a.split("\n"), b.split("\n")];
  expect(after.length).toBe(before.length);
  return before.filter((line, i) => line !== after[i]);
}

describe("code actions", () => {
  test("offer a verified fix, whose edit comes when it is chosen and touches the key's line alone", async () => {
    const { pops, ask } = await actionsFor(resolving);
    expect(pops).toHaveLength(2);
    const [fix] = await ask(pops.slice(0, 1));
    expect(fix.title).toMatch(/^Fix: bring point translation\.y at frame \d+ back onto its path \(1 key\)$/);
    expect(fix).toMatchObject({ kind: "quickfix", isPreferred: true });
    expect(fix.edit).toBeUndefined();
    const resolved = await client.request<CodeAction>("codeAction/resolve", fix);
    expect(resolved.edit?.documentChanges?.[0]).toMatchObject({ textDocument: { uri, version: 1 } });
    const after = edited(text, editsOf(resolved));
    expect(changedLines(text, after)).toHaveLength(1);
    expect(checksIn(after).filter((check) => check === "pop")).toHaveLength(1);
  });

  test("offer to fix all notes of a check at once", async () => {
    const { pops, ask } = await actionsFor(resolving);
    const all = (await ask(pops.slice(0, 1))).find(({ title }) => title.startsWith("Fix all"));
    expect(all?.title).toBe("Fix all 2 notes of pop in this document");
    const resolved = await client.request<CodeAction>("codeAction/resolve", all);
    const after = edited(text, editsOf(resolved));
    expect(changedLines(text, after)).toHaveLength(2);
    expect(checksIn(after)).not.toContain("pop");
  });

  test("come with their edits for a client that does not ask again", async () => {
    const { pops, ask } = await actionsFor({});
    const [fix] = await ask(pops.slice(0, 1));
    const after = edited(text, editsOf(fix));
    expect(checksIn(after).filter((check) => check === "pop")).toHaveLength(1);
  });

  test("are found by code and place where the client does not give data back, or by the range alone", async () => {
    const { pops, ask } = await actionsFor(resolving);
    const bare = pops.slice(0, 1).map(({ data: _, ...rest }) => rest);
    const known = (await ask(pops.slice(0, 1))).map(({ title }) => title);
    expect(known.length).toBeGreaterThan(1);
    expect((await ask(bare)).map(({ title }) => title)).toEqual(known);
    const range = pops[0]?.range;
    const params = { textDocument: { uri }, range, context: { diagnostics: [] } };
    const placed = await client.request<CodeAction[]>("textDocument/codeAction", params);
    expect(placed.map(({ title }) => title)).toEqual(expect.arrayContaining(known));
  });

  test.each<[readonly string[], readonly string[]]>([
    [["quickfix"], ["quickfix"]],
    [[""], ["quickfix", "source.fixAll.keyside"]],
    [["source"], ["source.fixAll.keyside"]],
    [["source.fixAll"], ["source.fixAll.keyside"]],
    [["source.fixAll.keyside"], ["source.fixAll.keyside"]],
    [["refactor", "source"], ["source.fixAll.keyside"]],
    [["refactor"], []],
    [["source.fixAll.other"], []],
    [["quick"], []],
  ])("of the kinds %j alone are %j", async (only, kinds) => {
    const { pops } = await actionsFor(resolving);
    const context = { diagnostics: pops.slice(0, 1), only };
    const params = { textDocument: { uri }, range: pops[0]?.range, context };
    const actions = await client.request<CodeAction[]>("textDocument/codeAction", params);
    expect([...new Set(actions.map(({ kind }) => kind))].sort()).toEqual(kinds);
  });

  test("source.fixAll.keyside fixes all notes that have a fix", async () => {
    const { pops } = await actionsFor(resolving);
    const context = { diagnostics: [], only: ["source.fixAll.keyside"] };
    const params = { textDocument: { uri }, range: pops[0]?.range, context };
    const [all] = await client.request<CodeAction[]>("textDocument/codeAction", params);
    const resolved = await client.request<CodeAction>("codeAction/resolve", all);
    expect(checksIn(edited(text, editsOf(resolved)))).not.toContain("pop");
  });

  test("offer to waive a note, in the document's text", async () => {
    const { pops, ask } = await actionsFor(resolving);
    const waive = (await ask(pops.slice(0, 1))).find(({ title }) => title.startsWith("Waive"));
    if (waive === undefined) throw new Error("no waiver is offered");
    const after = edited(text, editsOf(waive));
    const { shot, problems } = readShot(after);
    expect(problems).toEqual([]);
    expect(shot?.header.waivers).toHaveLength(1);
    const study = studyOf(JSON.parse(after));
    expect(reviewOf(study).waived).toHaveLength(1);
    expect(notesOf(study).filter(({ check }) => check === "pop")).toHaveLength(1);
    await client.change(uri, 2, after);
    const { diagnostics } = await client.diagnostics(uri, 2);
    expect(diagnostics.filter(({ code }) => code === "pop")).toHaveLength(1);
  });

  test("offer nothing for diagnostics that are out of date, and are refused after an edit", async () => {
    const { pops, ask } = await actionsFor(resolving);
    const [fix] = await ask(pops.slice(0, 1));
    await client.change(uri, 2, popAt([]));
    await client.diagnostics(uri, 2);
    await expect(client.request("codeAction/resolve", fix)).rejects.toMatchObject({ code: -32801 });
    expect(await ask(pops)).toEqual([]);
  });

  test("a waiver that answers nothing is shown faded at its own place, and cannot be waived", async () => {
    const waived = text.replace(
      '  "curves"',
      '  "waivers": [{ "check": "hitch", "reason": "meant" }],\n  "curves"',
    );
    const { diagnostics, ask } = await actionsFor(resolving, waived);
    const unused = diagnostics.find(({ code }) => code === "unused-waiver");
    const line = waived.split("\n").findIndex((one) => one.includes('"waivers"'));
    expect(unused).toMatchObject({ range: { start: { line } }, tags: [1] });
    expect(await ask(unused === undefined ? [] : [unused])).toEqual([]);
  });
});

describe("a file of waivers beside an open document", () => {
  test("counts, and where it cannot be used that is told at the file", async () => {
    const { diskFiles } = await import("../../../../packages/server/base/files/read.ts");
    const path = "/shots/pier.waivers.json";
    let content =
      '{ "format": "keyside.waivers", "version": 1, "waivers": [{ "check": "pop", "reason": "meant" }] }';
    const files = {
      ...diskFiles,
      kind: async (asked: string) => (asked === path ? ("file" as const) : null),
      read: async (asked: string) => new TextEncoder().encode(asked === path ? content : ""),
      stamp: async () => content,
    };
    client = await Client.start({
      capabilities: { workspace: { didChangeWatchedFiles: { dynamicRegistration: true } } },
      environment: { files },
    });
    await client.open(uri, text);
    const first = await client.diagnostics(uri);
    expect(first.diagnostics.map(({ code }) => code)).not.toContain("pop");
    content = '{ "format": "keyside.waivers" }';
    await client.connection.sendNotification("workspace/didChangeWatchedFiles", {
      changes: [{ uri: `file://${path}`, type: 2 }],
    });
    const told = await client.diagnostics(`file://${path}`);
    expect(told.diagnostics[0].message).toMatch(/version/);
    await client.diagnostics(uri, ({ diagnostics }) => diagnostics.some(({ code }) => code === "pop"));
  });
});
