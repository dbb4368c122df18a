import { execFile, spawn } from "node:child_process";
import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { promisify } from "node:util";
import { expect, test } from "vitest";

const at = (path: string) => fileURLToPath(new URL(`../../${path}`, import.meta.url));
const run = promisify(execFile);
const command = [process.execPath, at("packages/server/bin/keyside.js")];
const page = readFileSync(at("docs/host-protocol.md"), "utf8");
const adapters = [
  { name: "python", program: "python3", path: "demo/adapters/host_adapter.py" },
  { name: "js", program: process.execPath, path: "demo/adapters/host-adapter.mjs" },
];

// The story: no pop, a drag that makes one, a feed that is killed, its notes again, an undo after which the pop is gone.
test.each(adapters)(
  "the adapter of an imaginary tool in $name plays its story",
  async ({ program, path }) => {
    const { stdout } = await run(program, [at(path), ...command]);
    expect(stdout.trim().toLowerCase().split("\n")).toEqual(["true", "true", "true", "true", "true"]);
  },
);

test.each(adapters)("the lines of $name that the page shows are the adapter's", ({ name, path }) => {
  const source = readFileSync(at(path), "utf8")
    .split("\n")
    .map((line) => line.trim());
  const blocks = [...page.matchAll(new RegExp(`^\`\`\`${name}\\n([\\s\\S]*?)^\`\`\``, "gm"))];
  expect(blocks.length).toBeGreaterThan(0);
  for (const [, block = ""] of blocks) {
    for (const line of block.split("\n")) expect(source, line).toContain(line.trim());
  }
});

test("a feed that the client in TypeScript started ends when the tool is killed", async () => {
  const program = [
    'import { startFeed } from "@keyside/adapters";',
    "const feed = await startFeed(process.argv.slice(1));",
    "console.log(feed.process.pid);",
    "setInterval(() => {}, 1000);",
  ].join("\n");
  const tool = spawn(process.execPath, ["--input-type=module", "-e", program, ...command], {
    cwd: at("demo"),
  });
  const feed = await new Promise<number>((resolve) => {
    tool.stdout.once("data", (text) => resolve(Number(String(text))));
  });
  const isThere = () => {
    try {
      return process.kill(feed, 0);
    } catch {
      return false;
    }
  };
  expect(isThere()).toBe(true);
  tool.kill("SIGKILL");
  // The test's own time ends what hangs.
  while (isThere()) await new Promise((resolve) => setTimeout(resolve, 20));
  expect(isThere()).toBe(false);
});
