import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { editorSettings } from "../../../../packages/server/serve/feed/configuration.ts";
import { Client, type ClientOptions } from "./client.ts";
import { popping } from "./shots.ts";

let client: Client;
let folder: string;
let uri: string;
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), "keyside-feed-"));
  uri = pathToFileURL(join(folder, "pier.curves.json")).href;
});
afterEach(async () => {
  await client.stop();
  await rm(folder, { recursive: true });
});
const start = async (options: ClientOptions = {}) => {
  client = await Client.start({ folders: [pathToFileURL(folder).href], ...options });
};
const config = join("keyside.config.json");
const configUri = () => pathToFileURL(join(folder, config)).href;
const putConfig = (text: string) => writeFile(join(folder, config), text);
const watched = () =>
  client.connection.sendNotification("workspace/didChangeWatchedFiles", {
    changes: [{ uri: configUri(), type: 2 }],
  });
const hasPop = ({ diagnostics }: { diagnostics: readonly { code?: unknown }[] }) =>
  diagnostics.some(({ code }) => code === "pop");
const off = JSON.stringify({ checks: { pop: false } });

describe("the configuration file", () => {
  test("beside a shot is in force for it, and changes of it are followed", async () => {
    await putConfig(off);
    await start({ capabilities: { workspace: { didChangeWatchedFiles: { dynamicRegistration: true } } } });
    await client.until(() => client.registered.includes("workspace/didChangeWatchedFiles"));
    await client.open(uri, popping);
    expect(hasPop(await client.diagnostics(uri, 1))).toBe(false);
    await putConfig("{}");
    await watched();
    expect(hasPop(await client.diagnostics(uri, hasPop))).toBe(true);
  });

  test("that cannot be used says so in its own place; the defaults hold until it is fixed", async () => {
    await putConfig('{ "checks": { "popp": false } }');
    await start();
    await client.open(uri, popping);
    expect(hasPop(await client.diagnostics(uri, 1))).toBe(true);
    const { diagnostics } = await client.diagnostics(configUri());
    expect(diagnostics[0].message).toContain("popp");
    await putConfig(off);
    await watched();
    await client.diagnostics(uri, (params) => !hasPop(params));
    expect(
      (await client.diagnostics(configUri(), (params) => params.diagnostics.length === 0)).diagnostics,
    ).toEqual([]);
  });

  test("is read again when an editor that watches no files has saved it", async () => {
    await putConfig(off);
    await start();
    await client.open(uri, popping);
    expect(hasPop(await client.diagnostics(uri, 1))).toBe(false);
    await putConfig("{}");
    await client.connection.sendNotification("textDocument/didSave", { textDocument: { uri: configUri() } });
    expect(hasPop(await client.diagnostics(uri, hasPop))).toBe(true);
  });
});

describe("the editor's settings", () => {
  test("are asked for, and asked for again when they change", async () => {
    let settings: unknown = { checks: { pop: false } };
    await start({ capabilities: { workspace: { configuration: true } }, configuration: () => settings });
    await client.open(uri, popping);
    await client.diagnostics(uri, (params) => !hasPop(params));
    settings = { checks: { pop: true } };
    await client.connection.sendNotification("workspace/didChangeConfiguration", { settings: null });
    expect(hasPop(await client.diagnostics(uri, hasPop))).toBe(true);
  });

  test("hold for the folder that they are of", async () => {
    const other = await mkdtemp(join(tmpdir(), "keyside-feed-"));
    const [here, there] = [folder, other].map((path) => pathToFileURL(path).href);
    await start({
      folders: [here, there],
      capabilities: { workspace: { configuration: true } },
      configuration: (scope) => (scope === there ? { checks: { pop: false } } : {}),
    });
    const thereUri = `${there}/pier.curves.json`;
    await client.open(uri, popping);
    await client.open(thereUri, popping);
    expect(hasPop(await client.diagnostics(uri, 1))).toBe(true);
    expect(hasPop(await client.diagnostics(thereUri, (params) => !hasPop(params)))).toBe(false);
    await rm(other, { recursive: true });
  });

  test("can be sent along at the start or unasked, and the file goes before them", async () => {
    await start({ initializationOptions: { keyside: { checks: { pop: false } } } });
    await client.open(uri, popping);
    expect(hasPop(await client.diagnostics(uri, 1))).toBe(false);
    const settings = { keyside: { lightestTier: "broken" } };
    await client.connection.sendNotification("workspace/didChangeConfiguration", { settings });
    const { diagnostics } = await client.diagnostics(uri, ({ diagnostics: all }) => all.length === 0);
    expect(diagnostics).toEqual([]);
    await putConfig(off);
    const unlike = { keyside: { checks: { pop: true } } };
    const before = client.published.length;
    await client.connection.sendNotification("workspace/didChangeConfiguration", { settings: unlike });
    await client.until(() => client.published.length > before);
    expect(hasPop(await client.diagnostics(uri))).toBe(false);
  });

  test("that are wrong are said, and the rest holds", async () => {
    await start();
    const said: string[] = [];
    const settings = await editorSettings(
      { lightestTier: "heavy", inlayHints: { speed: true }, checks: { popp: true } },
      (fault) => said.push(fault),
    );
    expect(said.join("\n")).toMatch(/keyside\.lightestTier.*\n?.*popp/s);
    expect(settings.config).toEqual({});
    expect((await editorSettings({ inlayHints: { speed: true } }, () => {})).inlayHints.speed).toBe(true);
    expect((await editorSettings({ checkPages: "https://pages.example/checks" }, () => {})).checkPages).toBe(
      "https://pages.example/checks/",
    );
  });
});
