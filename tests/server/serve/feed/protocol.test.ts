import { afterEach, describe, expect, test } from "vitest";
import { Client } from "./client.ts";
import { clean, popLine, popping, poppingKey } from "./shots.ts";

const uri = "file:///shots/pier.curves.json";
let client: Client;
afterEach(() => client.stop());

/** Sends bytes past the client's own writer. */
const raw = (text: string) => client.toFeed.write(text);
const rawMessage = (text: string) => raw(`Content-Length: ${Buffer.byteLength(text)}\r\n\r\n${text}`);

describe("the feed lives", () => {
  test("after messages that are none", async () => {
    client = await Client.start();
    rawMessage("{");
    rawMessage("[]");
    rawMessage("null");
    rawMessage('{"jsonrpc":"2.0","method":"$/cancelRequest"}');
    rawMessage('{"jsonrpc":"2.0","method":"textDocument/didOpen"}');
    rawMessage('{"jsonrpc":"2.0","method":"textDocument/didOpen","params":[1,2]}');
    rawMessage('{"jsonrpc":"2.0","method":"textDocument/didChange","params":{}}');
    rawMessage('{"jsonrpc":"2.0","method":"textDocument/didChange","params":{"textDocument":null}}');
    rawMessage('{"jsonrpc":"2.0","id":77,"result":{}}');
    raw("stray text ");
    await client.open(uri, popping);
    expect((await client.diagnostics(uri, 1)).diagnostics.length).toBeGreaterThan(0);
  });

  test("answers methods that it does not know", async () => {
    client = await Client.start();
    await expect(client.request("keyside/fly", {})).rejects.toMatchObject({ code: -32601 });
    await client.connection.sendNotification("keyside/fly", {});
    await client.open(uri, popping);
    await client.diagnostics(uri, 1);
  });

  test.each([
    ["textDocument/hover", {}],
    ["textDocument/hover", { textDocument: {} }],
    ["textDocument/hover", { textDocument: { uri }, position: { line: "first" } }],
    ["textDocument/definition", { textDocument: { uri } }],
    ["textDocument/diagnostic", { textDocument: 5 }],
    ["textDocument/rename", { textDocument: { uri }, position: { line: 0, character: 0 } }],
    ["workspace/executeCommand", { command: "keyside.fly" }],
  ])("answers %s with params that cannot be understood: %j", async (method, params) => {
    client = await Client.start();
    await client.open(uri, popping);
    await expect(client.request(method, params)).rejects.toMatchObject({ code: -32602 });
    expect(await client.request("textDocument/foldingRange", { textDocument: { uri } })).not.toBeNull();
  });

  test("leaves edits of documents that are not open", async () => {
    client = await Client.start();
    await client.change(uri, 2, "{}");
    await client.close(uri);
    expect(
      await client.request("textDocument/hover", {
        textDocument: { uri },
        position: { line: 0, character: 0 },
      }),
    ).toBeNull();
    await client.open(uri, popping);
    await client.diagnostics(uri, 1);
  });

  test("reads on after an edit of which only a part can be understood", async () => {
    client = await Client.start();
    await client.open(uri, clean);
    await client.diagnostics(uri, 1);
    const at = { line: popLine, character: 0 };
    const range = { start: at, end: { line: popLine, character: 999 } };
    await client.connection.sendNotification("textDocument/didChange", {
      textDocument: { uri, version: 2 },
      contentChanges: [{ range, text: poppingKey }, null],
    });
    // The first of the two was made; what is typed after it is judged with it.
    await client.change(uri, 3, " ", [
      [0, 0],
      [0, 0],
    ]);
    const { diagnostics } = await client.diagnostics(uri, 3);
    expect(diagnostics.find(({ code }) => code === "pop")?.range.start.line).toBe(popLine);
  });

  test("places outside the text count as its ends", async () => {
    client = await Client.start();
    await client.open(uri, "{}");
    await client.change(uri, 2, popping, [
      [0, 0],
      [1e9, 1e9],
    ]);
    expect((await client.diagnostics(uri, 2)).diagnostics.some(({ code }) => code === "pop")).toBe(true);
    const hover = { textDocument: { uri }, position: { line: 1e9, character: 1e9 } };
    expect(await client.request("textDocument/hover", hover)).toBeNull();
  });

  test("refuses a message that is too long, and takes the next", async () => {
    client = await Client.start({ limit: 100_000 });
    await client.open("file:///long.curves.json", popping + " ".repeat(200_000));
    await client.open(uri, popping);
    await client.diagnostics(uri, 1);
    expect(client.published.some((params) => params.uri !== uri)).toBe(false);
  });

  test("leaves documents of other kinds alone", async () => {
    client = await Client.start();
    await client.open("file:///package.json", "{ broken");
    await client.open("untitled:Untitled-1", popping, "keyside");
    await client.diagnostics("untitled:Untitled-1", 1);
    expect(client.published.map((params) => params.uri)).not.toContain("file:///package.json");
  });

  test("a second client is not disturbed by the first one's end", async () => {
    const first = await Client.start();
    client = await Client.start();
    await first.open(uri, popping);
    await first.stop();
    expect(first.endedWith).toBe(0);
    await client.open(uri, popping);
    await client.diagnostics(uri, 1);
    expect(client.endedWith).toBeNull();
  });

  test("a client that is killed ends its own feed alone", async () => {
    const first = await Client.start();
    client = await Client.start();
    await first.open(uri, popping);
    first.toFeed.write("Content-Length: 500\r\n\r\nhalf");
    first.toFeed.destroy();
    first.fromFeed.destroy();
    await client.open(uri, popping);
    await client.diagnostics(uri, 1);
    expect(first.endedWith).toBe(0);
    first.connection.dispose();
  });

  test("exit without shutdown is told from exit after it", async () => {
    const rude = await Client.start();
    await rude.connection.sendNotification("exit");
    await rude.until(() => rude.endedWith !== null);
    expect(rude.endedWith).toBe(1);
    client = await Client.start();
  });
});
