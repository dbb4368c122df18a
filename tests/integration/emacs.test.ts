import { execFile } from "node:child_process";
import { mkdtemp, readFile, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { promisify } from "node:util";
import { afterAll, beforeAll, expect, test } from "vitest";
import { build, environmentFor, evened, setupFromDocs, shotWithPop } from "./editors.ts";

/**
 * The feed with the language client of Emacs, set up with what the docs tell its users to write. Where the notes are to
 * stand is what the command reports of the same file.
 */

const run = promisify(execFile);
const driver = fileURLToPath(new URL("emacs/drive.el", import.meta.url));

interface Seen {
  readonly failure?: string;
  readonly mode: string;
  readonly parent: string;
  readonly managed: boolean;
  readonly told: boolean;
  readonly gone: boolean;
  readonly back: boolean;
  readonly stopped: boolean;
  readonly hover: string;
  readonly actions: readonly string[];
  readonly before: readonly SeenNote[];
  readonly after: readonly SeenNote[];
}
interface SeenNote {
  readonly line: number;
  readonly column: number;
  readonly text: string;
  readonly severity: string;
  readonly message: string;
}

let folder: string;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "keyside-emacs-"));
  build();
});
afterAll(() => rm(folder, { recursive: true, force: true }));

/** The value in the line of a key, as it is written. */
function valueIn(line: string): string {
  return /, (-?[\d.e-]+)/.exec(line)?.[1] ?? "";
}

test("Emacs shows a demo shot's notes at their keys, and a note goes when its key is fixed", async () => {
  const { file, pop, notes } = await shotWithPop(folder);
  const [key] = pop.keys;
  const lines = (await readFile(file, "utf8")).split("\n");
  const out = join(folder, "seen.json");
  const setup = await setupFromDocs(folder, "elisp");
  const says = pop.message.slice(1);
  const [value, fixed] = [lines[key.line - 1], evened(lines, key.line)].map(valueIn);
  const task = { ...key, says, file, out, setup, value, fixed, patience: 60_000 };
  // What stands before Emacs gives it a terminal of its own.
  await run("script", ["--quiet", "--command", `emacs --no-window-system --load '${driver}'`, "/dev/null"], {
    cwd: folder,
    env: { ...environmentFor(folder, task), HOME: folder, TERM: "xterm" },
    timeout: 240_000,
  });
  const seen = JSON.parse(await readFile(out, "utf8")) as Seen;
  expect(seen.failure).toBeUndefined();
  expect(seen).toMatchObject({ mode: "keyside-mode", managed: true, told: true });
  // Emacs 29 and later have a mode for JSON; the docs' words fall back to the one for JavaScript.
  expect(["js-json-mode", "js-mode"]).toContain(seen.parent);
  const places = (list: readonly { line: number; column: number }[]) =>
    list.map(({ line, column }) => `${line}:${column}`).sort();
  const named = notes.filter(({ keys }) => keys.length > 0).map(({ keys }) => keys[0]);
  expect(places(seen.before)).toEqual(expect.arrayContaining(places(named)));
  expect(seen.before).toHaveLength(notes.length);
  const own = seen.before.find(({ line, message }) => line === key.line && message.includes(says));
  expect(own?.column).toBe(key.column);
  expect(own?.text.startsWith(`[${key.frame},`)).toBe(true);
  expect(seen.hover).toContain(key.node);
  // It names no diagnostics here: the place is enough.
  expect(seen.actions.some((title) => title.startsWith("Waive pop"))).toBe(true);
  expect({ gone: seen.gone, back: seen.back, stopped: seen.stopped }).toEqual({
    gone: true,
    back: true,
    stopped: true,
  });
  expect(seen.after.length).toBeGreaterThan(0);
});
