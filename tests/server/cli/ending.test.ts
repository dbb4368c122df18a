import { execFileSync, spawn, spawnSync } from "node:child_process";
import { closeSync, existsSync, openSync } from "node:fs";
import { mkdir, readdir, readFile, symlink } from "node:fs/promises";
import { fileURLToPath, pathToFileURL } from "node:url";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { defaultLimits } from "../../../packages/server/base/limits.ts";
import { Workshop } from "./run-in-process.ts";
import { bvh, cleanDocument, poppingDocument } from "./shots-for-tests.ts";

// How the built command ends: signals, streams that take nothing, files that are none, and memory, need a program.

const root = fileURLToPath(new URL("../../..", import.meta.url));
const command = fileURLToPath(new URL("../../../packages/server/bin/keyside.js", import.meta.url));
const guardModule = fileURLToPath(new URL("../../../packages/server/dist/base/guard.js", import.meta.url));
const readModule = fileURLToPath(
  new URL("../../../packages/server/dist/base/files/read.js", import.meta.url),
);

let shop: Workshop;
beforeAll(async () => {
  const compiler = fileURLToPath(new URL("../../../node_modules/typescript/bin/tsc", import.meta.url));
  spawnSync(process.execPath, [compiler, "-b", "packages/server"], { cwd: root });
  shop = await Workshop.open();
  await shop.put("pop.curves.json", poppingDocument());
  await shop.put("clean.curves.json", cleanDocument());
  await shop.put("long.curves.json", longDocument());
  await shop.put("long.bvh", bvh(Array.from({ length: 50_000 }, (_, i) => `${i} 1 2 3 4 5 6 7 8`)));
});
afterAll(() => shop.close());

/** So much work that it goes on for many seconds, and fills much more than a small shot does. */
function longDocument(): object {
  const ids = Array.from({ length: 90 }, (_, i) => `n${i}`);
  return {
    format: "keyside.curves",
    version: 1,
    shot: { frameRate: 24, range: [1, 8000] },
    space: { metresPerUnit: 0.01, up: "y", angle: "degrees" },
    nodes: ids.map((id, i) => ({ id, ...(i === 0 ? {} : { parent: ids[i - 1] }), translation: [0, 10, 0] })),
    curves: ids.flatMap((node) =>
      ["rotation.x", "rotation.y", "translation.x"].map((channel, c) => ({
        node,
        channel,
        keys: Array.from({ length: 400 }, (_, k) => [1 + 20 * k, 20 * Math.sin(0.7 * k * (c + 1))]),
      })),
    ),
  };
}

const judging = [
  ["check", "long.curves.json", "--no-cache"],
  ["fix", "long.curves.json"],
  ["sheet", "long.curves.json"],
  ["compare", "long.curves.json", "long.curves.json"],
  ["calibrate", "long.curves.json", "--out", "learnt.json"],
  ["check", "long.curves.json", "--why-silent", "pop:n3:300"],
];

type Stdio = "ignore" | "pipe" | number;
interface Ended {
  readonly code: number | null;
  readonly signal: string | null;
  readonly stdout: string;
  readonly stderr: string;
}

function start(argv: readonly string[], [out, err]: readonly [Stdio, Stdio] = ["pipe", "pipe"]) {
  const child = spawn(process.execPath, [command, ...argv], {
    cwd: shop.folder,
    stdio: ["ignore", out, err],
    env: { ...process.env, XDG_CACHE_HOME: shop.path("cache") },
  });
  let [stdout, stderr] = ["", ""];
  child.stdout?.on("data", (data) => {
    stdout += data;
  });
  child.stderr?.on("data", (data) => {
    stderr += data;
  });
  const ended = new Promise<Ended>((resolve) =>
    child.on("close", (code, signal) => resolve({ code, signal, stdout, stderr })),
  );
  return { child, ended };
}

const keyside = (...argv: readonly string[]) => start(argv).ended;
const wait = (milliseconds: number) => new Promise((resolve) => setTimeout(resolve, milliseconds));

describe("what is told is not lost unseen", () => {
  test.skipIf(!existsSync("/dev/full"))("a full disk behind stdout: exit code 3 and the reason", async () => {
    const full = openSync("/dev/full", "w");
    try {
      for (const argv of [
        ["check", "pop.curves.json", "--no-cache"],
        ["fix", "pop.curves.json"],
        ["sheet", "pop.curves.json", "--no-fixes"],
        ["compare", "pop.curves.json", "pop.curves.json"],
        ["explain"],
        ["--help"],
        ["--version"],
      ]) {
        const { code, stderr } = await start(argv, [full, "pipe"]).ended;
        expect(code, argv.join(" ")).toBe(3);
        expect(stderr).toMatch(/^keyside: stdout: (The disk is full|.*ENOSPC)/);
      }
    } finally {
      closeSync(full);
    }
  });

  test("a closed stderr: the same report and the same exit code", async () => {
    const argv = ["check", "pop.curves.json", "nowhere.bvh", "--no-cache", "--format", "json"];
    const whole = await keyside(...argv);
    const shell = ["-c", '"$@" 2>&-', "sh", process.execPath, command, ...argv];
    const closed = spawnSync("sh", shell, { cwd: shop.folder, encoding: "utf8" });
    expect(whole.code).toBe(3);
    expect({ code: closed.status, stdout: closed.stdout }).toEqual({ code: 3, stdout: whole.stdout });
    const full = existsSync("/dev/full") ? openSync("/dev/full", "w") : null;
    if (full === null) return;
    const lost = await start(argv, ["pipe", full]).ended;
    closeSync(full);
    expect({ code: lost.code, stdout: lost.stdout }).toEqual({ code: 3, stdout: whole.stdout });
  });

  test("a reader that has gone ends the run without a word, as a closed pipe does", async () => {
    const { child, ended } = start(["check", "pop.curves.json", "--no-cache", "--long"]);
    child.stdout?.destroy();
    expect(await ended).toMatchObject({ code: 141, stderr: "" });
  });
});

describe.skipIf(process.platform === "win32")("every judgement can be ended", () => {
  test.each([...judging, ["check", ".", "--no-cache"]].map((argv) => [argv.join(" "), argv] as const))(
    "Ctrl-C ends %s at any moment of it",
    async (_, argv) => {
      for (const moment of [300, 1500]) {
        const { child, ended } = start(argv);
        await wait(moment);
        const asked = performance.now();
        child.kill("SIGINT");
        const { code, signal, stderr } = await ended;
        // Half a second is promised; the machine of a test may be busy with ten other things.
        expect(performance.now() - asked).toBeLessThan(10_000);
        expect(code === 130 || signal === "SIGINT", `${code} ${signal}`).toBe(true);
        if (code === 130) expect(stderr).toMatch(/^keyside: Stopped/);
      }
      expect((await readdir(shop.folder)).filter((name) => name.endsWith(".part"))).toEqual([]);
    },
  );

  test("so does the request to end that systems send", async () => {
    const { child, ended } = start(judging[0] as string[]);
    await wait(1200);
    child.kill("SIGTERM");
    const { code, signal } = await ended;
    expect(code === 130 || signal === "SIGTERM").toBe(true);
  });

  test.each(["SIGINT", "SIGTERM"])(
    "%s that came while an event was answered is heard before the work",
    async (name) => {
      // The event is that a file was read: what comes in the meantime waits for the next round of events.
      const program = `
      const { unlessStopped } = await import(${JSON.stringify(pathToFileURL(guardModule).href)});
      const { readFile } = await import("node:fs");
      const stopping = new AbortController();
      process.once("${name}", () => stopping.abort());
      readFile(process.execPath, async () => {
        process.kill(process.pid, "${name}");
        for (const start = performance.now(); performance.now() - start < 50; );
        await unlessStopped(stopping.signal).then(() => console.log("lost"), (error) => console.log(error.name));
      });
    `;
      const { stdout } = spawnSync(process.execPath, ["--input-type=module", "-e", program], {
        encoding: "utf8",
      });
      expect(stdout).toBe("WasStopped\n");
    },
  );

  test("what came while a file was taken in is heard before the file is read", async () => {
    const loadModule = fileURLToPath(
      new URL("../../../packages/server/dist/judge/shots/load.js", import.meta.url),
    );
    const program = `
      const { guardOf } = await import(${JSON.stringify(pathToFileURL(guardModule).href)});
      const { loadShot } = await import(${JSON.stringify(pathToFileURL(loadModule).href)});
      const { diskFiles } = await import(${JSON.stringify(pathToFileURL(readModule).href)});
      const stopping = new AbortController();
      process.once("SIGINT", () => stopping.abort());
      const read = async (...asked) => {
        const bytes = await diskFiles.read(...asked);
        process.kill(process.pid, "SIGINT");
        for (const start = performance.now(); performance.now() - start < 50; );
        return bytes;
      };
      const guard = guardOf({ seconds: 60, catchesStop: true });
      const options = { cwd: ".", files: { ...diskFiles, read }, guard, signal: stopping.signal };
      await loadShot("clean.curves.json", options).then(() => console.log("lost"), (error) => console.log(error.name));
    `;
    const argv = ["--input-type=module", "-e", program];
    const { stdout, stderr } = spawnSync(process.execPath, argv, { cwd: shop.folder, encoding: "utf8" });
    expect({ stdout, stderr }).toEqual({ stdout: "WasStopped\n", stderr: "" });
  });

  const tooMuch = /more than (160|110) MB of memory and was given up; split the shot, or --memory-limit/;

  test.each(judging.map((argv) => [argv.join(" "), argv] as const))("memory ends %s", async (_, argv) => {
    const { code, stderr, stdout } = await keyside(...argv, "--memory-limit", "160MB");
    expect(stderr).toMatch(/^keyside: long\.curves\.json: /);
    expect(stderr).toMatch(tooMuch);
    expect({ code, stack: /\n\s+at /.test(stderr + stdout) }).toEqual({ code: 3, stack: false });
  });

  test("memory ends converting, and leaves no part of a document", async () => {
    const argv = ["convert", "long.bvh", "out.curves.json", "--memory-limit", "110MB"];
    const { code, stderr } = await keyside(...argv);
    expect(stderr).toMatch(tooMuch);
    expect(code).toBe(3);
    expect((await readdir(shop.folder)).filter((name) => /^out|\.part$/.test(name))).toEqual([]);
  });

  test("what one shot fills is no matter of the next", async () => {
    const files = ["long.curves.json", "pop.curves.json", "clean.curves.json"];
    const limited = ["--memory-limit", "160MB", "--format", "json"];
    const learning = ["calibrate", ...files, "--out", "few.json", "--only", "pop", "--few", ...limited];
    const learnt = await keyside(...learning);
    expect(learnt.stderr.match(tooMuch)?.length).toBe(2);
    expect(JSON.parse(learnt.stdout).shots).toBe(2);
  });

  test("more than the engine gives a program is had by a program of its own", async () => {
    const { memory } = defaultLimits();
    const argv = ["compare", "pop.curves.json", "pop.curves.json"];
    const usual = await keyside(...argv);
    expect(await keyside(...argv, "--memory-limit", `${4 * memory} B`)).toEqual(usual);
  });

  test("time ends each of them", async () => {
    for (const argv of judging) {
      const { code, stderr } = await keyside(...argv, "--time-limit", "0.2");
      expect(stderr).toContain("longer than 0.2 s and was given up; --time-limit gives it more.");
      expect(code).toBe(3);
    }
  });
});

describe.skipIf(process.platform === "win32")("what is no plain file is not waited for", () => {
  test.each([
    ["a shot", "p.curves.json", ["check", "p.curves.json"], 3],
    ["waivers", "pop.waivers.json", ["check", "pop.curves.json"], 3],
    ["a configuration", "keyside.config.json", ["check", "pop.curves.json"], 2],
  ])("a pipe, then a device, as %s", async (_, name, argv, least) => {
    for (const make of [
      (path: string) => Promise.resolve(execFileSync("mkfifo", [path])),
      (path: string) => symlink("/dev/zero", path),
    ]) {
      await make(shop.path(name));
      const { code, stderr } = await keyside(...argv, "--no-cache");
      execFileSync("rm", [shop.path(name)]);
      expect(stderr).toMatch(/This is a (pipe|device), not a file\.\n$/);
      expect(stderr).toContain(name);
      expect([least, 3]).toContain(code);
    }
  });
});

describe.skipIf(process.platform === "win32")("a run that is killed", () => {
  test("leaves what stood there, and a part that the next run sweeps", async () => {
    await mkdir(shop.path("out"));
    await shop.put("out/report.json", "old");
    const argv = ["check", "clean.curves.json", "long.curves.json", "--no-cache", "--jobs", "1"];
    const into = ["--format", "json", "--out", "out/report.json", "--force"];
    const parts = async () => (await readdir(shop.path("out"))).filter((name) => name.endsWith(".part"));
    const { child, ended } = start([...argv, ...into]);
    for (let looks = 0; (await parts()).length === 0 && looks < 600; looks++) await wait(50);
    const [left = ""] = await parts();
    child.kill("SIGKILL");
    await ended;
    // Whoever foresees a name can plant a link there.
    expect(left).toMatch(/^\.keyside-[0-9a-f]{8}-\d+-[0-9a-f]{24}\.part$/);
    expect(await readFile(shop.path("out/report.json"), "utf8")).toBe("old");
    await keyside("check", "clean.curves.json", "--no-cache", ...into);
    expect(await readdir(shop.path("out"))).toEqual(["report.json"]);
    expect(JSON.parse(await readFile(shop.path("out/report.json"), "utf8")).shots).toHaveLength(1);
  });
});
