import { spawnSync } from "node:child_process";
import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { describe, expect, test } from "vitest";
import type { ClientCapabilities, CodeAction, Diagnostic, Message } from "vscode-languageserver/node";
import * as protocol from "vscode-languageserver/node";
import { changing, type Declared, undeclared } from "./declared.ts";
import { WatchedClient } from "./watched-client.ts";

/**
 * Every message between the feed and clients that declare different things, in both directions, held against the types
 * of the protocol's own library by the compiler, and against what each client declared.
 */

const uri = "file:///shots/pier.curves.json";

const diagnosticsInFull = {
  relatedInformation: true,
  codeDescriptionSupport: true,
  dataSupport: true,
  tagSupport: { valueSet: [1, 2] as protocol.DiagnosticTag[] },
};
const literals = { codeActionLiteralSupport: { codeActionKind: { valueSet: ["quickfix", "source"] } } };
const resolving = { dataSupport: true, isPreferredSupport: true, resolveSupport: { properties: ["edit"] } };
const allKinds = Array.from({ length: 26 }, (_, index) => index + 1);

/** Clients, by what they declare. */
const clients: Readonly<Record<string, ClientCapabilities>> = {
  nothing: {},
  "diagnostics in full, pushed": {
    textDocument: { publishDiagnostics: { ...diagnosticsInFull, versionSupport: true } },
  },
  "diagnostics in short, code actions with their edits": {
    textDocument: { publishDiagnostics: {}, codeAction: literals },
  },
  "diagnostics that are asked for": {
    textDocument: { diagnostic: {}, publishDiagnostics: diagnosticsInFull },
    workspace: { diagnostics: { refreshSupport: true } },
  },
  "commands in place of code actions": { workspace: { applyEdit: true } },
  "positions in bytes, plain text before Markdown": {
    general: { positionEncodings: ["utf-8", "utf-16"] },
    textDocument: { hover: { contentFormat: ["plaintext", "markdown"] }, foldingRange: { rangeLimit: 2 } },
  },
  "trees, kinds and renaming": {
    textDocument: {
      documentSymbol: {
        hierarchicalDocumentSymbolSupport: true,
        symbolKind: { valueSet: allKinds as protocol.SymbolKind[] },
      },
      completion: {
        completionItem: { snippetSupport: true },
        completionItemKind: { valueSet: allKinds.slice(0, 25) as protocol.CompletionItemKind[] },
      },
      rename: { prepareSupport: true },
    },
  },
  "settings, files and progress": {
    window: { workDoneProgress: true },
    workspace: {
      configuration: true,
      workspaceFolders: true,
      didChangeConfiguration: { dynamicRegistration: true },
      didChangeWatchedFiles: { dynamicRegistration: true },
    },
  },
  everything: {
    general: { positionEncodings: ["utf-16", "utf-8"] },
    window: { workDoneProgress: true },
    textDocument: {
      diagnostic: { ...diagnosticsInFull, relatedDocumentSupport: true },
      publishDiagnostics: { ...diagnosticsInFull, versionSupport: true },
      codeAction: { ...literals, ...resolving },
      hover: { contentFormat: ["markdown", "plaintext"] },
      documentSymbol: { hierarchicalDocumentSymbolSupport: true },
      rename: { prepareSupport: true },
      completion: { completionItem: { snippetSupport: true } },
    },
    workspace: {
      applyEdit: true,
      configuration: true,
      workspaceFolders: true,
      workspaceEdit: { documentChanges: true },
      diagnostics: { refreshSupport: true },
      inlayHint: { refreshSupport: true },
      didChangeConfiguration: { dynamicRegistration: true },
      didChangeWatchedFiles: { dynamicRegistration: true },
    },
  },
};

/** All that an editor may ask, of a shot whose path has a point off it. */
async function converse(capabilities: ClientCapabilities): Promise<WatchedClient> {
  const client = await WatchedClient.start(capabilities);
  client.notify("textDocument/didOpen", {
    textDocument: { uri, languageId: "json", version: 1, text: changing },
  });
  const textDocument = { uri };
  const diagnostics = await client.notesOf(uri);
  const pop = diagnostics.find(({ code }) => code === "pop") as Diagnostic;
  expect(pop).toBeDefined();
  const position = { line: pop.range.start.line, character: pop.range.start.character + 1 };
  await client.ask("textDocument/hover", { textDocument, position });
  for (const name of ["documentSymbol", "foldingRange"])
    await client.ask(`textDocument/${name}`, { textDocument });
  await client.ask("textDocument/inlayHint", { textDocument, range: pop.range });
  const lines = changing.split("\n");
  const line = lines.findIndex((each) => each.includes('"node": "point"'));
  const named = { line, character: lines[line].indexOf('"point"') + 2 };
  await client.ask("textDocument/definition", { textDocument, position: named });
  await client.ask("textDocument/completion", { textDocument, position: named });
  await client.ask("textDocument/references", {
    textDocument,
    position: named,
    context: { includeDeclaration: true },
  });
  await client.ask("textDocument/prepareRename", { textDocument, position: named });
  await client.ask("textDocument/rename", { textDocument, position: named, newName: "dot" });
  for (const only of [undefined, ["quickfix"], ["source"], ["source.fixAll.keyside"], ["refactor"]]) {
    const context = { diagnostics: [pop], ...(only === undefined ? {} : { only }) };
    const actions = await client.ask<CodeAction[]>("textDocument/codeAction", {
      textDocument,
      range: pop.range,
      context,
    });
    for (const action of actions) {
      if (typeof action.command === "string") continue;
      if (action.edit === undefined) await client.ask("codeAction/resolve", action);
    }
    const [command] = actions as unknown as { title: string; command?: string }[];
    if (typeof command?.command === "string") {
      const { title: _, ...chosen } = command;
      await client.ask("workspace/executeCommand", chosen);
    }
  }
  await client.ask("workspace/executeCommand", { command: "keyside.checkWorkspace" });
  if (capabilities.textDocument?.diagnostic !== undefined) {
    await client.ask("workspace/diagnostic", { previousResultIds: [] });
  }
  client.notify("workspace/didChangeConfiguration", { settings: { keyside: { lightestTier: "major" } } });
  client.notify("textDocument/didClose", { textDocument });
  await client.stop();
  return client;
}

/** The protocol's messages by method: where its library exports their types. */
const typeNames = new Map<string, string>();
for (const [name, value] of Object.entries(protocol)) {
  const { type } = (value ?? {}) as { type?: { method?: unknown } };
  if (typeof type?.method === "string") typeNames.set(type.method, name);
}

/** What the feed tells of progress; the library has no type for it as a whole. */
const progressType =
  "{ token: p.ProgressToken; value: p.WorkDoneProgressBegin | p.WorkDoneProgressReport | p.WorkDoneProgressEnd }";

/** A program that holds messages against the types of the protocol: the compiler says which are none. */
function programFor(all: ReadonlyMap<string, WatchedClient>): string {
  const lines = [
    'import * as p from "vscode-languageserver/node";',
    "type ParamsOf<T> = T extends { readonly _?: readonly [infer P, ...unknown[]] } ? P : never;",
    "type ResultOf<T> = T extends { readonly _?: readonly [unknown, infer R, ...unknown[]] } ? R : never;",
    "const check = <T>(_: T) => {};",
  ];
  for (const [name, { passed }] of all) {
    lines.push(`// ${name}`);
    const asked = new Map<string, string>();
    for (const { from, message } of passed) {
      const { method, id, params, result, error } = message as Message & Record<string, unknown>;
      const key = `${from} ${String(id)}`;
      if (typeof method === "string") {
        if (id !== undefined) asked.set(key, method);
        if (method !== "$/progress") lines.push(...lineFor("Params", method, params));
        else lines.push(`check<${progressType}>(${JSON.stringify(params)});`);
      } else if (error !== undefined) {
        lines.push(`check<p.ResponseErrorLiteral>(${JSON.stringify(error)});`);
      } else {
        const other = from === "client" ? "feed" : "client";
        lines.push(...lineFor("Result", asked.get(`${other} ${String(id)}`) ?? "", result));
      }
    }
  }
  return lines.join("\n");
}

function lineFor(part: "Params" | "Result", method: string, value: unknown): string[] {
  const name = typeNames.get(method);
  if (name === undefined) throw new Error(`The protocol has no ${method}.`);
  // Registrations and progress carry what their own methods prescribe.
  if (value === undefined || value === null) return [];
  return [`check<${part}Of<typeof p.${name}.type>>(${JSON.stringify(value)});`];
}

describe("the protocol", () => {
  const all = new Map<string, WatchedClient>();
  test.each(Object.keys(clients))("sends what a client declared and nothing else: %s", async (name) => {
    const client = await converse(clients[name]);
    all.set(name, client);
    const fromFeed = client.passed.filter(({ from }) => from === "feed").map(({ message }) => message);
    expect(fromFeed.length).toBeGreaterThan(10);
    expect(undeclared(clients[name] as Declared, fromFeed)).toEqual([]);
  });

  test("is spoken in its own types, in both directions", async () => {
    expect(all.size).toBe(Object.keys(clients).length);
    const root = fileURLToPath(new URL("../../../..", import.meta.url));
    // Only from within the modules' folder do modules find one another.
    const folder = await mkdtemp(join(root, "node_modules", ".conformance-"));
    try {
      const compile = async (text: string) => {
        const file = join(folder, "messages.ts");
        await writeFile(file, text);
        const compiler = join(root, "node_modules/typescript/bin/tsc");
        const options = [
          "--ignoreConfig",
          "--noEmit",
          "--strict",
          "--skipLibCheck",
          "--module",
          "nodenext",
          "--target",
          "es2022",
        ];
        return spawnSync(process.execPath, [compiler, ...options, "--types", "node", file], {
          encoding: "utf8",
          cwd: folder,
        });
      };
      const program = programFor(all);
      const { stdout, status } = await compile(program);
      expect(stdout).toBe("");
      expect(status).toBe(0);
      // It can fail: a notification and an answer that are none.
      const wrong = [
        "check<ParamsOf<typeof p.PublishDiagnosticsNotification.type>>({ uri: 5, diagnostics: [] });",
        "check<ResultOf<typeof p.HoverRequest.type>>({ contents: 5 });",
      ];
      for (const line of wrong) expect((await compile(`${program}\n${line}`)).status).not.toBe(0);
    } finally {
      await rm(folder, { recursive: true, force: true });
    }
  });
});
