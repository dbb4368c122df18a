import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { afterEach, beforeEach, describe, expect, test, vi } from "vitest";
import {
  CancellationTokenSource,
  type ClientCapabilities,
  type DocumentDiagnosticReport,
  type WorkspaceDiagnosticReport,
  type WorkspaceFullDocumentDiagnosticReport,
} from "vscode-languageserver/node";
import { nodeEnvironment } from "../../../../packages/server/serve/feed/environment.ts";
import { ShotDocument } from "../../../../packages/server/serve/feed/shot-document.ts";
import { bvh } from "../../cli/shots-for-tests.ts";
import { Client, type ClientOptions } from "./client.ts";
import { clean, cleanKey, popLine, popping, poppingKey } from "./shots.ts";

const uri = "file:///shots/pier.curves.json";
const pulling: ClientCapabilities = {
  textDocument: { diagnostic: {} },
  workspace: { diagnostics: { refreshSupport: true } },
  window: { workDoneProgress: true },
};
const line = [
  [popLine, 0],
  [popLine, 999],
] as const;

let client: Client;
let folder: string;
let folderUri: string;
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), "keyside-feed-"));
  folderUri = pathToFileURL(folder).href;
});
afterEach(async () => {
  await client.stop();
  await rm(folder, { recursive: true });
});
const start = async (options: ClientOptions = {}) => {
  client = await Client.start({ capabilities: pulling, folders: [folderUri], ...options });
};
const put = (name: string, text: string) => writeFile(join(folder, name), text);
const uriOfPath = (name: string) => `${folderUri}/${name}`;

const pull = (previousResultId?: string) =>
  client.request<DocumentDiagnosticReport>("textDocument/diagnostic", {
    textDocument: { uri },
    ...(previousResultId === undefined ? {} : { previousResultId }),
  });
const codes = (report: { items?: readonly { code?: unknown }[] }) => report.items?.map(({ code }) => code);

describe("diagnostics of a document, asked for", () => {
  test("are full at first, unchanged until something changes, and not pushed besides", async () => {
    await start();
    await client.open(uri, popping);
    const first = await pull();
    expect(first.kind).toBe("full");
    expect(codes(first as never)).toContain("pop");
    expect(await pull(first.resultId)).toEqual({ kind: "unchanged", resultId: first.resultId });
    await client.change(uri, 2, cleanKey, line);
    const second = await pull(first.resultId);
    expect(second.kind).toBe("full");
    expect(codes(second as never)).not.toContain("pop");
    expect(client.published).toEqual([]);
  });

  test("are refused as out of date, to be asked for again, when an edit arrives meanwhile", async () => {
    await start();
    await client.open(uri, popping);
    const asked = pull();
    const edited = client.change(uri, 2, cleanKey, line);
    await expect(asked).rejects.toMatchObject({ code: -32802, data: { retriggerRequest: true } });
    await edited;
    expect(codes((await pull()) as never)).not.toContain("pop");
  });

  test("are refused when the document closes meanwhile", async () => {
    await start();
    await client.open(uri, popping);
    const asked = pull();
    const closed = client.close(uri);
    await expect(asked).rejects.toMatchObject({ code: -32802, data: { retriggerRequest: false } });
    await closed;
  });

  test("can be cancelled, which is not an empty answer", async () => {
    await start();
    await client.open(uri, popping);
    const source = new CancellationTokenSource();
    const asked = client.connection.sendRequest(
      "textDocument/diagnostic",
      { textDocument: { uri } },
      source.token,
    );
    source.cancel();
    await expect(asked).rejects.toMatchObject({ code: -32800 });
  });

  test("are an error where judging failed, which is not an empty answer either", async () => {
    await start();
    const judge = vi.spyOn(ShotDocument.prototype, "judge").mockImplementation(function* () {
      yield 1;
      throw new Error("out of numbers");
    });
    await client.open(uri, popping);
    await expect(pull()).rejects.toMatchObject({ code: -32803 });
    expect(client.logged.join()).toContain("out of numbers");
    judge.mockRestore();
    await client.change(uri, 2, poppingKey, line);
    expect(codes((await pull()) as never)).toContain("pop");
  });
});

describe("diagnostics of the workspace", () => {
  const ask = (previous: readonly { uri: string; value: string }[] = [], more: object = {}) =>
    client.request<WorkspaceDiagnosticReport>("workspace/diagnostic", {
      previousResultIds: previous,
      ...more,
    });
  const full = (report: WorkspaceDiagnosticReport, name: string) =>
    report.items.find((item) => item.uri === uriOfPath(name)) as WorkspaceFullDocumentDiagnosticReport;

  test("are of all shots in the folders; the text in the editor wins over the file", async () => {
    await put("a.curves.json", popping);
    await put("b.curves.json", popping);
    await put("walk.bvh", bvh(["0 90 0 0 0 0 0 0 0", "0 90 x 0 0 0 0 0 0"]));
    await put("c.curves.json", "{");
    await put("d.curves.json", "");
    await put("other.json", "{");
    await start();
    await client.open(uriOfPath("b.curves.json"), clean, "json", 7);
    const report = await ask();
    expect(report.items.map((item) => item.uri).sort()).toEqual(
      ["a.curves.json", "b.curves.json", "c.curves.json", "d.curves.json", "walk.bvh"].map(uriOfPath),
    );
    expect(full(report, "a.curves.json").version).toBeNull();
    expect(codes(full(report, "a.curves.json"))).toContain("pop");
    expect(full(report, "b.curves.json").version).toBe(7);
    expect(codes(full(report, "b.curves.json"))).not.toContain("pop");
    expect(full(report, "walk.bvh").items[0]).toMatchObject({ severity: 1, range: { start: { line: 19 } } });
    expect(full(report, "c.curves.json").items[0].severity).toBe(1);
    expect(codes(full(report, "d.curves.json"))).toEqual(["unreadable"]);
  });

  test("are unchanged where nothing changed, and empty for files that are gone", async () => {
    await put("a.curves.json", popping);
    await put("b.curves.json", popping);
    await start();
    const ids = (await ask()).items.map((item) => ({ uri: item.uri, value: item.resultId as string }));
    await put("b.curves.json", clean);
    const again = await ask([...ids, { uri: uriOfPath("gone.curves.json"), value: "x" }]);
    expect(again.items.map(({ uri: of, kind }) => [of, kind])).toEqual([
      [uriOfPath("a.curves.json"), "unchanged"],
      [uriOfPath("b.curves.json"), "full"],
      [uriOfPath("gone.curves.json"), "full"],
    ]);
    expect(codes(full(again, "gone.curves.json"))).toEqual([]);
  });

  test("come one by one to a client that wants them so, with progress", async () => {
    for (const name of ["a", "b", "c"]) await put(`${name}.curves.json`, popping);
    await start();
    const parts: string[][] = [];
    const progress: { kind: string; percentage?: number; message?: string }[] = [];
    client.connection.onNotification("$/progress", (params: { token: string; value: never }) => {
      if (params.token === "parts") {
        parts.push((params.value as WorkspaceDiagnosticReport).items.map((item) => item.uri));
      } else progress.push(params.value);
    });
    const report = await ask([], { partialResultToken: "parts", workDoneToken: "work" });
    expect(report.items).toEqual([]);
    expect(parts).toEqual(["a", "b", "c"].map((name) => [uriOfPath(`${name}.curves.json`)]));
    expect(progress.map(({ kind }) => kind)).toEqual(["begin", "report", "report", "report", "end"]);
    expect(progress[2]).toMatchObject({ percentage: 67, message: "2 of 3" });
  });

  test("stop between two shots when they are cancelled", async () => {
    for (let i = 0; i < 20; i++) await put(`shot_${i}.curves.json`, popping);
    const environment = nodeEnvironment();
    let reads = 0;
    const source = new CancellationTokenSource();
    await start({
      environment: {
        files: {
          ...environment.files,
          read(path) {
            if (++reads === 3) source.cancel();
            return environment.files.read(path);
          },
        },
      },
    });
    const asked = client.connection.sendRequest(
      "workspace/diagnostic",
      { previousResultIds: [] },
      source.token,
    );
    await expect(asked).rejects.toMatchObject({ code: -32800 });
    expect(reads).toBeLessThan(8);
  });

  test("follow the folders that are opened and closed", async () => {
    await put("a.curves.json", popping);
    const other = await mkdtemp(join(tmpdir(), "keyside-feed-"));
    await writeFile(join(other, "b.curves.json"), popping);
    const otherUri = pathToFileURL(other).href;
    await start({ capabilities: { ...pulling, workspace: { workspaceFolders: true } } });
    const named = (name: string) => ({ uri: name, name });
    const event = { added: [named(otherUri)], removed: [named(folderUri)] };
    await client.connection.sendNotification("workspace/didChangeWorkspaceFolders", { event });
    expect((await ask()).items.map((item) => item.uri)).toEqual([`${otherUri}/b.curves.json`]);
    await rm(other, { recursive: true });
  });

  test("leave out what the configuration ignores", async () => {
    await put("keyside.config.json", JSON.stringify({ ignore: ["old_*"] }));
    await put("old_1.curves.json", popping);
    await put("new_1.curves.json", popping);
    await start();
    expect((await ask()).items.map((item) => item.uri)).toEqual([uriOfPath("new_1.curves.json")]);
  });

  test("take edits of open documents between two shots", async () => {
    for (let i = 0; i < 12; i++) await put(`shot_${i}.curves.json`, popping);
    await start();
    const order: string[] = [];
    const all = ask().then(() => order.push("workspace"));
    await client.open(uri, popping);
    await pull().then(() => order.push("document"));
    await all;
    expect(order).toEqual(["document", "workspace"]);
  });

  test("are pushed for the files by a command, to clients that do not ask themselves", async () => {
    await put("a.curves.json", popping);
    await put("b.curves.json", clean);
    await start({ capabilities: {} });
    const done = await client.request<{ shots: number }>("workspace/executeCommand", {
      command: "keyside.checkWorkspace",
    });
    expect(done.shots).toBe(2);
    const { diagnostics } = await client.diagnostics(uriOfPath("a.curves.json"));
    expect(codes({ items: diagnostics })).toContain("pop");
  });
});
