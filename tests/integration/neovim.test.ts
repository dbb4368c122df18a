import { execFile } from "node:child_process";
import { mkdtemp, readFile, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { promisify } from "node:util";
import { afterAll, beforeAll, expect, test } from "vitest";
import { build, environmentFor, evened, setupFromDocs, shotWithPop } from "./editors.ts";

/**
 * The feed with an editor's own language client: Neovim, headless. Where the notes are to stand is what the command
 * reports of the same file; Neovim is set up with what the docs tell its users to write.
 */

const run = promisify(execFile);
const path = (name: string) => fileURLToPath(new URL(name, import.meta.url));

interface Seen {
  readonly failure?: string;
  readonly told: boolean;
  readonly gone: boolean;
  readonly back: boolean;
  readonly stopped: boolean;
  readonly before: readonly SeenNote[];
  readonly after: readonly SeenNote[];
  readonly hover: { contents: { value: string } } | null;
  readonly symbols: readonly { name: string }[] | null;
}
interface SeenNote {
  readonly line: number;
  readonly column: number;
  readonly text: string;
  readonly severity: number;
  readonly source: string;
  readonly code: string;
}
let folder: string;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "keyside-neovim-"));
  build();
});
afterAll(() => rm(folder, { recursive: true, force: true }));

test("Neovim shows a demo shot's notes at their keys, and a note goes when its key is fixed", async () => {
  const { file, pop, notes } = await shotWithPop(folder);
  const [key] = pop.keys;
  const lines = (await readFile(file, "utf8")).split("\n");
  const out = join(folder, "seen.json");
  const task = {
    ...key,
    file,
    folder,
    out,
    code: "pop",
    setup: await setupFromDocs(folder, "lua"),
    fixed: evened(lines, key.line),
    patience: 60_000,
  };
  await run(
    "nvim",
    ["--headless", "-u", "NONE", "-i", "NONE", "-n", "-c", `luafile ${path("neovim/drive.lua")}`],
    {
      cwd: folder,
      env: environmentFor(folder, task),
      timeout: 240_000,
    },
  );
  const seen = JSON.parse(await readFile(out, "utf8")) as Seen;
  expect(seen.failure).toBeUndefined();
  expect(seen.told).toBe(true);
  // Every note that names a key stands at that key's own text.
  const places = (list: readonly { check?: string; code?: string; line: number; column: number }[]) =>
    list.map(({ check, code, line, column }) => `${check ?? code} ${line}:${column}`).sort();
  const named = notes.filter(({ keys }) => keys.length > 0);
  const expected = named.map(({ check, keys }) => ({ check, line: keys[0].line, column: keys[0].column }));
  expect(places(seen.before)).toEqual(expect.arrayContaining(places(expected)));
  expect(seen.before).toHaveLength(notes.length);
  const own = seen.before.find(({ code, line }) => code === "pop" && line === key.line);
  expect(own).toMatchObject({ source: "keyside", column: key.column });
  expect(own?.text.startsWith(`[${key.frame},`)).toBe(true);
  expect(own?.text.endsWith("]")).toBe(true);
  expect(own?.severity).toBe({ broken: 1, major: 2, minor: 3, polish: 4 }[pop.tier]);
  expect(seen.hover?.contents.value).toContain(`${key.node}`);
  expect(seen.symbols?.length).toBeGreaterThan(0);
  expect({ gone: seen.gone, back: seen.back, stopped: seen.stopped }).toEqual({
    gone: true,
    back: true,
    stopped: true,
  });
  expect(seen.after.some(({ code, line }) => code === "pop" && line === key.line)).toBe(false);
  expect(seen.after.length).toBeGreaterThan(0);
});
