import { spawn, spawnSync } from "node:child_process";
import { mkdir } from "node:fs/promises";
import { fileURLToPath } from "node:url";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import type { CurveDocument } from "../../../../packages/core/document/schema.ts";
import { reportSchema } from "../../../../packages/core/notes/report-schema.ts";
import { foreignCheck } from "../../cli/plugins-for-tests.ts";
import { stackTrace, Workshop } from "../../cli/run-in-process.ts";

const root = fileURLToPath(new URL("../../../..", import.meta.url));
const command = fileURLToPath(new URL("../../../../packages/server/bin/keyside.js", import.meta.url));
const shotCount = 12;
const many = 120;

let shop: Workshop;
beforeAll(async () => {
  shop = await Workshop.open();
  await mkdir(shop.path("archive"));
  for (let i = 0; i < shotCount; i++) {
    await shop.put(`archive/shot_${String(i).padStart(2, "0")}.curves.json`, swayingChain(i, 12, 96));
  }
  // The command runs from what is built; an older build would test the past.
  const compiler = fileURLToPath(new URL("../../../../node_modules/typescript/bin/tsc", import.meta.url));
  spawnSync(process.execPath, [compiler, "-b", "packages/server"], { cwd: root });
});
afterAll(() => shop.close());

/** An invented chain of joints that sways and jerks, keyed on every frame: plenty of work, and of notes. */
function swayingChain(seed: number, links: number, frames: number): CurveDocument {
  const nodes = Array.from({ length: links }, (_, i) => ({
    id: `link_${i}`,
    ...(i === 0 ? {} : { parent: `link_${i - 1}` }),
    translation: [0, 8, 0] as [number, number, number],
  }));
  const curves = nodes.flatMap(({ id }, i) =>
    (["rotation.x", "rotation.z"] as const).map((channel, axis) => ({
      node: id,
      channel,
      keys: Array.from({ length: frames }, (_, frame): [number, number] => [
        frame + 1,
        Number((9 * Math.sin(seed + i + axis + frame * (0.1 + 0.01 * seed)) + jerk(frame, i)).toFixed(3)),
      ]),
    })),
  );
  return {
    format: "keyside.curves",
    version: 1,
    shot: { name: `chain_${seed}`, frameRate: 24, range: [1, frames] },
    space: { metresPerUnit: 0.01 },
    nodes,
    curves,
  };
}

/** Degrees by which a link leaves its swing on one frame in eleven. */
function jerk(frame: number, link: number): number {
  return (frame + 3 * link) % 11 === 0 ? 25 : 0;
}

const surroundings = () => ({
  cwd: shop.folder,
  env: { ...process.env, XDG_CACHE_HOME: shop.path("cache") },
});

function report(...argv: string[]): string {
  const { stdout, stderr } = spawnSync(
    process.execPath,
    // A busy machine may take any time over a shot.
    [command, "check", "archive", "--format", "json", "--no-progress", "--time-limit", "3600", ...argv],
    {
      ...surroundings(),
      encoding: "utf8",
      maxBuffer: 1 << 28,
    },
  );
  expect(stderr).toBe("");
  return stdout;
}

describe("the archive run as a program", () => {
  test("one thread, several, cold and from the cache: the same report byte for byte", () => {
    const one = report("--jobs", "1", "--no-cache");
    expect(reportSchema.parse(JSON.parse(one)).shots).toHaveLength(shotCount);
    for (const argv of [["--jobs", "3", "--no-cache"], ["--jobs", "2"], ["--jobs", "2"], []]) {
      expect(report(...argv) === one, argv.join(" ")).toBe(true);
    }
  });

  test("a run that has little memory gives the same report", () => {
    const usual = report("--no-cache");
    for (const memory of ["1MB", "400MB"])
      expect(report("--no-cache", "--memory", memory) === usual).toBe(true);
    expect(report("--no-cache", "--memory", "1MB", "--jobs", "3") === usual).toBe(true);
  });

  test("worker threads load plug-ins, and judge by them as one thread does", async () => {
    await mkdir(shop.path("plugged"));
    for (let i = 0; i < 4; i++) await shop.put(`plugged/shot_${i}.curves.json`, swayingChain(i, 3, 24));
    await shop.put("plugged/list.heights", "0 1 2 3");
    await shop.put("plugged/keyside.config.json", { plugins: ["./studio.mjs"] });
    const adapter = `{ name: "heights", title: "Heights", endings: [".heights"], detect: () => false, cannotCarry: [],
      readText: (text) => keyside.shotOf({ format: "keyside.curves", version: 1,
      shot: { frameRate: 24 }, nodes: [{ id: "ball" }], curves: [{ node: "ball", channel: "translation.y",
      keys: text.split(" ").map((height, i) => [i + 1, Number(height)]) }] }) }`;
    await shop.put(
      "plugged/studio.mjs",
      `export default (keyside) => ({ checks: [${foreignCheck()}], adapters: [${adapter}] });`,
    );
    const judged = (...argv: string[]) => {
      const quiet = ["--no-cache", "--no-progress"];
      const all = [command, "check", ".", "--only", "always", "--format", "json", ...quiet, ...argv];
      const { stdout, stderr } = spawnSync(process.execPath, all, {
        ...surroundings(),
        cwd: shop.path("plugged"),
        encoding: "utf8",
      });
      expect(stderr).toBe("");
      return stdout;
    };
    const one = judged("--jobs", "1");
    const { shots } = reportSchema.parse(JSON.parse(one));
    expect(shots.map(({ notes }) => notes.length)).toEqual([1, 3, 3, 3, 3]);
    expect(judged("--jobs", "2")).toBe(one);
  });

  test("two runs that share a cache at the same time both come to the same report", async () => {
    const argv = [command, "check", "archive", "--format", "json", "--cache", "shared", "--jobs", "1"];
    const runs = [1, 2].map(
      () =>
        new Promise<string>((resolve) => {
          let stdout = "";
          const child = spawn(process.execPath, argv, surroundings());
          // A character may lie across two pieces.
          child.stdout.setEncoding("utf8").on("data", (piece: string) => {
            stdout += piece;
          });
          child.on("close", () => resolve(stdout));
        }),
    );
    const [a, b] = await Promise.all(runs);
    expect(a === b).toBe(true);
    expect(a === report("--cache", "shared")).toBe(true);
  });

  test("Ctrl-C leaves a valid report of what is done, and says how far it came", async () => {
    // More shots than are judged ahead of the one that is due.
    await mkdir(shop.path("many"));
    for (let i = 0; i < many; i++) await shop.put(`many/shot_${i}.curves.json`, swayingChain(1, 8, 48));
    const quiet = ["--no-cache", "--no-progress", "--time-limit", "3600"];
    const argv = [command, "check", "many", "--format", "json", "--jobs", "2", ...quiet];
    const child = spawn(process.execPath, argv, surroundings());
    let stderr = "";
    let isAsked = false;
    child.stderr.on("data", (data: Buffer) => {
      stderr += data.toString();
    });
    let stdout = "";
    child.stdout.on("data", (data: Buffer) => {
      stdout += data.toString();
      if (isAsked || !stdout.includes('"file"')) return;
      // The pipe fills up, so that the run waits in the middle of its report, however quick it is.
      child.stdout.pause();
      isAsked = child.kill("SIGINT");
      setTimeout(() => child.stdout.resume(), 500);
    });
    const code = await new Promise((resolve) => child.on("close", resolve));
    const { shots, stopped } = reportSchema.parse(JSON.parse(stdout));
    expect(stopped).toEqual({ done: shots.length, of: many });
    expect(shots.length).toBeGreaterThan(0);
    expect(shots.length).toBeLessThan(many);
    expect(stderr).toBe(
      `keyside: Stopped after ${shots.length} of ${many} inputs: the rest has not been judged.\n`,
    );
    expect(stderr).not.toMatch(stackTrace);
    expect(code).toBe(130);
  });
});
