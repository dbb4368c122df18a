import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { afterEach, beforeEach, expect, test } from "vitest";
import { diskFiles } from "../../../../packages/server/base/files/read.ts";
import { pluginsOfRun } from "../../../../packages/server/base/plugins/find.ts";
import { settingsFromFiles } from "../../../../packages/server/serve/feed/settings.ts";
import { foreignCheck, pluginText } from "../../cli/plugins-for-tests.ts";
import { Client } from "./client.ts";
import { popping } from "./shots.ts";

let client: Client;
let folder: string;
beforeEach(async () => {
  // The name tells Node to load the modules in it (see vitest.config.ts).
  folder = await mkdtemp(join(tmpdir(), "keyside-command-"));
});
afterEach(async () => {
  await client.stop();
  await rm(folder, { recursive: true });
});

const put = (name: string, text: string) => writeFile(join(folder, name), text);
const uriOf = (name: string) => pathToFileURL(join(folder, name)).href;
const changed = (name: string) =>
  client.connection.sendNotification("workspace/didChangeWatchedFiles", {
    changes: [{ uri: uriOf(name), type: 2 }],
  });

/** A feed that was started in a folder. */
async function startIn(cwd: string): Promise<void> {
  const settings = settingsFromFiles(diskFiles, () => pluginsOfRun({ files: diskFiles, cwd }, []));
  client = await Client.start({
    folders: [pathToFileURL(folder).href],
    environment: { settings },
    capabilities: { workspace: { didChangeWatchedFiles: { dynamicRegistration: true } } },
  });
}

const said = ({ diagnostics }: { diagnostics: readonly { code?: unknown; message: unknown }[] }) =>
  diagnostics.filter(({ code }) => code === "always").map(({ message }) => String(message));

test("plug-ins are loaded, and loaded anew when a module or its helper changes", async () => {
  const find = `(study, node) => node > 0 ? [] : [{ node, figure: -1, from: 0, to: 1, size: 1, excess: 2, fault: null,
    measured: { quantity: "size", value: size, unit: "m" }, expected: { unit: "m", source: "tests" } }]`;
  await put("keyside.config.json", JSON.stringify({ plugins: ["./studio.mjs"] }));
  await put("helper.mjs", "export const size = 2;\n");
  await put("studio.mjs", `import { size } from "./helper.mjs";\n${pluginText(foreignCheck({ find }))}`);
  await startIn(folder);
  await client.until(() => client.registered.filter((name) => /didChangeWatched/.test(name)).length > 1);
  await client.open(uriOf("pier.curves.json"), popping);
  expect(said(await client.diagnostics(uriOf("pier.curves.json"), 1))[0]).toContain("is 2 m");
  await put("helper.mjs", "export const size = 5;\n");
  await changed("helper.mjs");
  const again = await client.diagnostics(uriOf("pier.curves.json"), (all) => /5 m/.test(said(all)[0] ?? ""));
  expect(said(again)).toHaveLength(1);
  // What cannot be loaded is told at the configuration, and mended by the next version of the module.
  await put("studio.mjs", "export default 3;\n");
  await changed("studio.mjs");
  const told = await client.diagnostics(uriOf("keyside.config.json"), (all) => all.diagnostics.length > 0);
  expect(told.diagnostics[0]?.message).toContain("Its default export has to be a function");
  await put("studio.mjs", pluginText(foreignCheck()));
  await changed("studio.mjs");
  await client.diagnostics(uriOf("pier.curves.json"), (all) => said(all).length === 3);
});

test("modules of a configuration outside the feed's own folder are not run", async () => {
  await put("keyside.config.json", JSON.stringify({ plugins: ["./studio.mjs"] }));
  await put("studio.mjs", "throw new Error('must not run');");
  await startIn(tmpdir());
  await client.open(uriOf("pier.curves.json"), popping);
  const told = await client.diagnostics(uriOf("keyside.config.json"), (all) => all.diagnostics.length > 0);
  expect(told.diagnostics[0]?.message).toContain("./studio.mjs is code, and is not run");
});
