import { PassThrough } from "node:stream";
import { afterEach, describe, expect, test } from "vitest";
import {
  createMessageConnection,
  type MessageConnection,
  StreamMessageReader,
  StreamMessageWriter,
} from "vscode-languageserver/node";
import { connectionOver, serve } from "../../../../packages/server/serve/feed/connection.ts";
import { nodeEnvironment } from "../../../../packages/server/serve/feed/environment.ts";
import { hostChannel } from "../../../../packages/server/serve/host/host-channel.ts";
import { readerOver } from "../../../../packages/server/serve/transport/reader.ts";
import { popping } from "./shots.ts";

// Codes are those of the specification: LSP 3.17, "Response Message", and "Server lifecycle".
const invalidRequest = -32600;
const invalidParams = -32602;
const notInitialized = -32002;

const uri = "file:///shots/pier.curves.json";
const textDocument = { uri };
const position = { line: 0, character: 0 };
const range = { start: position, end: position };

let client: MessageConnection;
let logged: string[];
afterEach(() => client.dispose());

/** A client that says nothing of its own accord. */
function start(): void {
  const [toFeed, fromFeed] = [new PassThrough(), new PassThrough()];
  const writer = new StreamMessageWriter(fromFeed);
  const environment = nodeEnvironment();
  serve(connectionOver(readerOver(toFeed, writer, 1 << 26), writer), environment, [hostChannel(environment)]);
  client = createMessageConnection(new StreamMessageReader(fromFeed), new StreamMessageWriter(toFeed));
  logged = [];
  client.onNotification("window/logMessage", ({ message }: { message: string }) => {
    logged.push(message);
  });
  client.onNotification(() => {});
  client.listen();
}

async function initialized(): Promise<void> {
  start();
  await client.sendRequest("initialize", { processId: null, rootUri: null, capabilities: {} });
  await client.sendNotification("initialized", {});
}

function opened(): Promise<void> {
  return client.sendNotification("textDocument/didOpen", {
    textDocument: { uri, languageId: "json", version: 1, text: popping },
  });
}

describe("the life cycle", () => {
  test.each(["textDocument/hover", "textDocument/diagnostic", "shutdown", "no/method"])(
    "%s before initialize is refused with -32002",
    async (method) => {
      start();
      await expect(client.sendRequest(method, { textDocument, position })).rejects.toMatchObject({
        code: notInitialized,
        message: expect.stringContaining(method),
      });
    },
  );

  test("notifications before initialize are left out", async () => {
    start();
    await opened();
    await client.sendRequest("initialize", { processId: null, rootUri: null, capabilities: {} });
    expect(await client.sendRequest("textDocument/foldingRange", { textDocument })).toBeNull();
  });

  test("initialize is taken once, and again where it was refused", async () => {
    start();
    await expect(client.sendRequest("initialize", {})).rejects.toMatchObject({
      code: invalidParams,
      message: expect.stringContaining('"capabilities" is missing'),
    });
    await client.sendRequest("initialize", { capabilities: {} });
    await expect(client.sendRequest("initialize", { capabilities: {} })).rejects.toMatchObject({
      code: invalidRequest,
    });
  });

  test.each(["textDocument/hover", "initialize", "shutdown", "keyside/hello"])(
    "%s after shutdown is refused with -32600",
    async (method) => {
      await initialized();
      expect(await client.sendRequest("shutdown")).toBeNull();
      await expect(client.sendRequest(method, { textDocument, position })).rejects.toMatchObject({
        code: invalidRequest,
        message: expect.stringContaining("after shutdown"),
      });
    },
  );

  test("the host channel has a greeting of its own", async () => {
    start();
    expect(await client.sendRequest("keyside/hello", { protocols: [1] })).toMatchObject({ protocol: 1 });
  });
});

/** Words of an engine that has come upon something that it cannot use. */
const engineWords = /undefined|null|[Cc]annot read|reading|TypeError|not iterable|is not a function|Object/;

describe("params that are missing or wrong are refused with -32602 and the name of what is wrong", () => {
  test.each<[string, object | undefined, string]>([
    ["textDocument/hover", undefined, "textDocument"],
    ["textDocument/hover", {}, "textDocument"],
    ["textDocument/hover", { textDocument: {} }, "textDocument.uri"],
    ["textDocument/hover", { textDocument: 5, position }, "textDocument"],
    ["textDocument/hover", { textDocument }, "position"],
    ["textDocument/hover", { textDocument, position: { line: "first" } }, "position.line"],
    ["textDocument/hover", { textDocument, position: { line: 0, character: -1 } }, "position.character"],
    ["textDocument/hover", { textDocument, position: { line: 0.5, character: 0 } }, "position.line"],
    ["textDocument/definition", { textDocument }, "position"],
    ["textDocument/references", { textDocument, position }, "context"],
    ["textDocument/references", { textDocument, position, context: {} }, "context.includeDeclaration"],
    ["textDocument/prepareRename", { position }, "textDocument"],
    ["textDocument/rename", { textDocument, position }, "newName"],
    ["textDocument/rename", { textDocument, position, newName: 5 }, "newName"],
    ["textDocument/completion", { textDocument }, "position"],
    ["textDocument/documentSymbol", {}, "textDocument"],
    ["textDocument/foldingRange", {}, "textDocument"],
    ["textDocument/inlayHint", { textDocument }, "range"],
    ["textDocument/inlayHint", { textDocument, range: { start: position } }, "range.end"],
    ["textDocument/codeAction", { textDocument }, "range"],
    ["textDocument/codeAction", { textDocument, range }, "context"],
    ["textDocument/codeAction", { textDocument, range, context: {} }, "context.diagnostics"],
    [
      "textDocument/codeAction",
      { textDocument, range, context: { diagnostics: [{}] } },
      "context.diagnostics[0].range",
    ],
    [
      "textDocument/codeAction",
      { textDocument, range, context: { diagnostics: [], only: "quickfix" } },
      "context.only",
    ],
    ["codeAction/resolve", {}, "title"],
    ["codeAction/resolve", { title: "Fix" }, "data"],
    ["textDocument/diagnostic", {}, "textDocument"],
    ["textDocument/diagnostic", { textDocument, previousResultId: 7 }, "previousResultId"],
    ["workspace/diagnostic", {}, "previousResultIds"],
    ["workspace/executeCommand", {}, "command"],
    ["workspace/executeCommand", { command: "keyside.applyAction" }, "arguments[0]"],
  ])("%s with %j names %s", async (method, params, name) => {
    await initialized();
    await opened();
    const answer = params === undefined ? client.sendRequest(method) : client.sendRequest(method, params);
    const refusal: { code?: number; message?: string } = await answer
      .then(() => ({}))
      .catch((error) => error);
    expect(refusal.code).toBe(invalidParams);
    expect(refusal.message).toContain(`"${name}"`);
    expect(refusal.message).not.toMatch(engineWords);
    expect(await client.sendRequest("textDocument/foldingRange", { textDocument })).not.toBeNull();
  });

  test("a list of params is none of an object's", async () => {
    await initialized();
    await expect(client.sendRequest("textDocument/hover", [textDocument, position])).rejects.toMatchObject({
      code: invalidParams,
    });
  });
});

test("a notification that is wrong is left out, and the log names what is wrong", async () => {
  await initialized();
  await client.sendNotification("textDocument/didOpen", { textDocument: { uri } });
  await client.sendNotification("textDocument/didChange", { textDocument });
  await client.sendNotification("workspace/didChangeWatchedFiles", {});
  expect(await client.sendRequest("textDocument/foldingRange", { textDocument })).toBeNull();
  expect(logged).toEqual([
    expect.stringContaining('didOpen, whose params are wrong: "textDocument.languageId" is missing'),
    expect.stringContaining("didChange, "),
    expect.stringContaining('didChangeWatchedFiles, whose params are wrong: "changes" is missing'),
  ]);
});
