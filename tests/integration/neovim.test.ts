import { execFile, spawnSync } from "node:child_process";
import { copyFile, mkdir, mkdtemp, readdir, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { promisify } from "node:util";
import { afterAll, beforeAll, expect, test } from "vitest";

/**
 * The feed with an editor's own language client: Neovim, headless. Where the notes are to stand is what the command
 * reports of the same file; Neovim is set up with what the docs tell its users to write.
 */

const run = promisify(execFile);
const path = (name: string) => fileURLToPath(new URL(name, import.meta.url));
const command = [process.execPath, path("../../packages/server/bin/keyside.js")];
const demo = path("../../demo/shots");
const docs = path("../../docs/feed.md");

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
interface Reported {
  readonly check: string;
  readonly tier: string;
  readonly keys: readonly { node: string; frame: number; line: number; column: number }[];
}

let folder: string;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "keyside-neovim-"));
  const compiler = path("../../node_modules/typescript/bin/tsc");
  spawnSync(process.execPath, [compiler, "-b", "packages/server"], { cwd: path("../..") });
});
afterAll(() => rm(folder, { recursive: true, force: true }));

/** A demo shot with a note on one key that leaves its path, as the command reports it. */
async function shotWithPop(): Promise<{ file: string; pop: Reported; notes: readonly Reported[] }> {
  for (const name of (await readdir(demo)).filter((each) => each.endsWith(".curves.json")).sort()) {
    const file = join(folder, name);
    await copyFile(join(demo, name), file);
    const [node, ...argv] = [...command, "check", file, "--format", "json"];
    const { stdout } = spawnSync(node, argv, { encoding: "utf8", maxBuffer: 1 << 26 });
    const { notes } = JSON.parse(stdout).shots[0] as { notes: readonly Reported[] };
    const pop = notes.find(({ check, keys }) => check === "pop" && keys.length === 1);
    if (pop !== undefined) return { file, pop, notes };
  }
  throw new Error("No demo shot has a pop of one key.");
}

/** The docs' settings for Neovim as a file, and the command where they look for it. */
async function setupFromDocs(): Promise<string> {
  const lua = /```lua\n([\s\S]*?)```/.exec(await readFile(docs, "utf8"))?.[1];
  if (lua === undefined) throw new Error("The docs have no settings for Neovim.");
  const setup = join(folder, "setup.lua");
  await writeFile(setup, lua);
  await mkdir(join(folder, "bin"));
  const script = `#!/bin/sh\nexec "${command[0]}" "${command[1]}" "$@"\n`;
  await writeFile(join(folder, "bin", "keyside"), script, { mode: 0o755 });
  return setup;
}

/** The line with its key's value put between those of the keys beside it. */
function evened(lines: readonly string[], line: number): string {
  const value = (of: number) => Number(/^\s*\[-?[\d.]+, (-?[\d.e-]+)/.exec(lines[of - 1])?.[1]);
  const between = (value(line - 1) + value(line + 1)) / 2;
  expect(between).not.toBeNaN();
  return lines[line - 1].replace(/^(\s*\[-?[\d.]+, )-?[\d.e-]+/, `$1${between.toFixed(3)}`);
}

test("Neovim shows a demo shot's notes at their keys, and a note goes when its key is fixed", async () => {
  const { file, pop, notes } = await shotWithPop();
  const [key] = pop.keys;
  const lines = (await readFile(file, "utf8")).split("\n");
  const out = join(folder, "seen.json");
  const task = {
    ...key,
    file,
    folder,
    out,
    code: "pop",
    setup: await setupFromDocs(),
    fixed: evened(lines, key.line),
    patience: 60_000,
  };
  await run(
    "nvim",
    ["--headless", "-u", "NONE", "-i", "NONE", "-n", "-c", `luafile ${path("neovim/drive.lua")}`],
    {
      cwd: folder,
      env: {
        ...process.env,
        PATH: `${join(folder, "bin")}:${process.env["PATH"]}`,
        KEYSIDE_DRIVE: JSON.stringify(task),
      },
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
