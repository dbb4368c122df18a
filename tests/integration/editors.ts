import { spawnSync } from "node:child_process";
import { copyFile, mkdir, readdir, readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { expect } from "vitest";

/** What the tests of editors share: a shot with a known note, the docs' own settings, and the command on a path. */

const path = (name: string) => fileURLToPath(new URL(name, import.meta.url));
const command = [process.execPath, path("../../packages/server/bin/keyside.js")];
const demo = path("../../demo/shots");
const docs = path("../../docs/feed.md");

export interface Reported {
  readonly check: string;
  readonly tier: string;
  readonly message: string;
  readonly keys: readonly { node: string; frame: number; line: number; column: number }[];
}

/** Builds the command, which editors start. */
export function build(): void {
  const compiler = path("../../node_modules/typescript/bin/tsc");
  spawnSync(process.execPath, [compiler, "-b", "packages/server"], { cwd: path("../..") });
}

/** A demo shot with a note on one key that leaves its path, as the command reports it. */
export async function shotWithPop(
  folder: string,
): Promise<{ file: string; pop: Reported; notes: readonly Reported[] }> {
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

/**
 * The docs' settings for an editor as a file, and the command where they look for it.
 * @param language of the settings, as their block in the docs is marked
 */
export async function setupFromDocs(folder: string, language: "lua" | "elisp"): Promise<string> {
  const text = await readFile(docs, "utf8");
  const words = new RegExp(`\`\`\`${language}\\n([\\s\\S]*?)\`\`\``).exec(text)?.[1];
  if (words === undefined) throw new Error(`The docs have no settings in ${language}.`);
  const setup = join(folder, `setup.${language}`);
  await writeFile(setup, words);
  await mkdir(join(folder, "bin"));
  const script = `#!/bin/sh\nexec "${command[0]}" "${command[1]}" "$@"\n`;
  await writeFile(join(folder, "bin", "keyside"), script, { mode: 0o755 });
  return setup;
}

/** The environment of an editor that finds the command, and is told what to do. */
export function environmentFor(folder: string, task: object): NodeJS.ProcessEnv {
  const path = `${join(folder, "bin")}:${process.env["PATH"]}`;
  return { ...process.env, PATH: path, KEYSIDE_DRIVE: JSON.stringify(task) };
}

/** The line with its key's value put between those of the keys beside it. */
export function evened(lines: readonly string[], line: number): string {
  const value = (of: number) => Number(/^\s*\[-?[\d.]+, (-?[\d.e-]+)/.exec(lines[of - 1])?.[1]);
  const between = (value(line - 1) + value(line + 1)) / 2;
  expect(between).not.toBeNaN();
  return lines[line - 1].replace(/^(\s*\[-?[\d.]+, )-?[\d.e-]+/, `$1${between.toFixed(3)}`);
}
