import { execFile, spawnSync } from "node:child_process";
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { promisify } from "node:util";
import { afterAll, afterEach, describe, expect, test, vi } from "vitest";
import { demoModule } from "./load.ts";

const folder = mkdtempSync(join(tmpdir(), "keyside-demo-"));
const at = (path: string) => fileURLToPath(new URL(`../../${path}`, import.meta.url));
const argv = process.argv;
afterAll(() => rmSync(folder, { recursive: true }));
afterEach(() => {
  process.argv = argv;
  vi.restoreAllMocks();
});

/** Runs a module of the demo as if from the command line; what it printed. */
async function run(path: string, ...args: string[]): Promise<string> {
  const lines: string[] = [];
  vi.spyOn(console, "log").mockImplementation((line) => lines.push(String(line)));
  process.argv = [process.execPath, path, ...args];
  await demoModule(path);
  return lines.join("\n");
}

describe("scripts", () => {
  test.each([
    ["build-a-shot", /frames? .*24/],
    ["walk-poses", /^frame 1: head at 1\.\d+ m, 0\.00 m\/s$/m],
    ["print-notes", /pop 33-33 \(hand_r rotation\.\w at 33\)/],
    ["flight-gravity", /0\.\d\d s in the air, gravity \d+\.\d\d m\/s²/],
    ["one-check", /hand_l, frames .*at least 10/],
  ])("%s runs", async (name, expected) => {
    expect(await run(`scripts/${name}.mjs`)).toMatch(expected);
  });
});

describe("the demo", () => {
  test("goes from the first version's notes to fixes and to the second version, and writes a sheet of each", async () => {
    // Pages of an earlier run stand there, as whenever it is run again.
    for (const name of ["index.html", "jetty_0040_v1.html"])
      writeFileSync(join(folder, name), "an earlier page");
    // As `npm run demo` does, which builds first.
    spawnSync(process.execPath, [at("node_modules/typescript/bin/tsc"), "-b", "packages/server"], {
      cwd: at(""),
    });
    const argv = [at("demo/run.mjs"), folder];
    const { stdout: printed, stderr } = await promisify(execFile)(process.execPath, argv, { maxBuffer: 1e8 });
    // Nor does Node warn of listeners: all commands together listen to the process's output once.
    expect(stderr).toBe("");
    let [allFixed, allNotes] = [0, 0];
    for (const shot of ["jetty_0040", "steps_0110", "quay_0070"]) {
      expect(printed).toContain(`${shot}, version 1:`);
      // The command clears what it can without moving anything else: a third of a copy's notes and more.
      const [, fixed] =
        new RegExp(`${shot}, version 1 fixed: .*\\n.*against version 1: (\\d+) fixed`).exec(printed) ?? [];
      const [, notes] = new RegExp(`${shot}, version 1: .*\\n\\s*(\\d+) notes`).exec(printed) ?? [];
      expect(Number(fixed)).toBeGreaterThanOrEqual(Number(notes) / 3);
      allFixed += Number(fixed);
      allNotes += Number(notes);
      expect(printed).toMatch(new RegExp(`${shot}, version 2: .*\\n.*against version 1: [1-9]\\d* fixed`));
    }
    // Of the picture and of props most has to be changed by hand: colours, a lamp, a camera.
    for (const shot of ["depot_0030", "gate_0050"]) {
      expect(printed).toContain(`${shot}, version 1 fixed:`);
      expect(printed).toMatch(new RegExp(`${shot}, version 2: .*\\n.*against version 1: [1-9]\\d* fixed`));
    }
    // Of all three others half and more.
    expect(allFixed).toBeGreaterThanOrEqual(allNotes / 2);
    expect(printed).toContain("forward-jump (captured)");
    // The review of three versions: the animator's list without what was dropped, and how all of it was closed.
    expect(printed).toMatch(/must +3–16 +head +remark\n +Ada: The look comes with the turn\./);
    expect(printed).toMatch(/should +target path +right hand +[\d.]+ cm off +met .* v1 to v2/);
    expect(printed).toMatch(/Closed: 3 of 3 remarks, 1 of 1 target path, (\d+) of \1 notes\./);
    expect(readdirSync(join(folder, "review"))).toEqual(
      expect.arrayContaining([
        "for-animator.md",
        "history.html",
        "quay_0070_v3.review.json",
        "quay_0070.remarks.csv",
      ]),
    );
    expect(readFileSync(join(folder, "review/for-animator.md"), "utf8")).not.toContain("glances back");
    expect(printed.trimEnd().split("\n").at(-1)).toMatch(/^Pages: file:.*index\.html$/);
    const pages = readdirSync(folder).filter((name) => name.endsWith(".html"));
    expect(pages).toHaveLength(17);
    for (const page of pages) {
      const html = readFileSync(join(folder, page), "utf8");
      expect(/https?:|NaN| (?:src)=/.exec(html)).toBeNull();
      for (const [, target] of html.matchAll(/href="([^"#]+)"/g)) expect(pages).toContain(target);
      for (const [, id] of html.matchAll(/href="#([^"]+)"/g)) expect(html).toContain(`id="${id}"`);
      if (page !== "index.html") expect(html).toContain("<svg");
    }
  });
});
