import { type ChildProcessWithoutNullStreams, spawn, spawnSync } from "node:child_process";
import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { afterEach, beforeAll, beforeEach, describe, expect, test } from "vitest";
import { WebSocket } from "ws";
import { writeDocument } from "../../../../packages/core/document/write.ts";
import { linkProtocol } from "../../../../packages/desk/link.ts";
import { Workshop } from "../../cli/run-in-process.ts";
import { poppingDocument } from "../../cli/shots-for-tests.ts";

const root = fileURLToPath(new URL("../../../..", import.meta.url));
const command = fileURLToPath(new URL("../../../../packages/server/bin/keyside.js", import.meta.url));
const name = "pier.curves.json";
const started: ChildProcessWithoutNullStreams[] = [];
let shop: Workshop;

beforeAll(() => {
  // The command, and the page that it serves, run from what is built; an older build would test the past.
  const compiler = fileURLToPath(new URL("../../../../node_modules/typescript/bin/tsc", import.meta.url));
  spawnSync(process.execPath, [compiler, "-b", "packages/server"], { cwd: root });
  spawnSync(process.execPath, ["packages/desk/build.mjs"], { cwd: root });
});
beforeEach(async () => {
  shop = await Workshop.open();
  await shop.put(name, writeDocument(poppingDocument()));
});
afterEach(async () => {
  for (const child of started.splice(0)) child.kill("SIGKILL");
  await shop.close();
});

interface Running {
  readonly child: ChildProcessWithoutNullStreams;
  readonly port: number;
  readonly token: string;
  readonly said: { stdout: string; stderr: string };
  /** The exit code, once it has ended. */
  readonly ended: Promise<number | null>;
}

/** The desk as a process, once it has printed its address. */
async function desk(...argv: string[]): Promise<Running> {
  const child = spawn(process.execPath, [command, "desk", ...argv], { cwd: shop.folder });
  started.push(child);
  const said = { stdout: "", stderr: "" };
  child.stderr.on("data", (data: Buffer) => {
    said.stderr += data.toString("utf8");
  });
  const ended = new Promise<number | null>((resolve) => child.once("close", (code) => resolve(code)));
  const [, port, token] = await new Promise<string[]>((resolve, reject) => {
    child.stdout.on("data", (data: Buffer) => {
      said.stdout += data.toString("utf8");
      const found = /^desk: http:\/\/127\.0\.0\.1:(\d+)\/#(\S+)\n/m.exec(said.stdout);
      if (found !== null) resolve(found);
    });
    child.once("exit", (code) => reject(new Error(`The desk ended with ${code}: ${said.stderr}`)));
  });
  return { child, port: Number(port), token, said, ended };
}

/** A page on the desk, once it has been told the shot. */
async function page({ port, token }: Running) {
  const socket = new WebSocket(`ws://127.0.0.1:${port}/link`, [linkProtocol, token]);
  const told: { type: string; [name: string]: unknown }[] = [];
  let wake = () => {};
  socket.on("message", (data: Buffer) => {
    told.push(JSON.parse(data.toString("utf8")));
    wake();
  });
  const closed = new Promise<void>((resolve) => socket.on("close", () => resolve()));
  const next = async (fits: (message: (typeof told)[number]) => boolean) => {
    for (let at = 0; ; at++) {
      while (at >= told.length) {
        await new Promise<void>((resolve) => {
          wake = resolve;
        });
      }
      if (fits(told[at])) return told[at];
    }
  };
  await next(({ type }) => type === "shot");
  return { socket, next, closed };
}

const edit = {
  type: "edit",
  request: 1,
  base: 0,
  group: "a",
  label: "move key",
  edits: [{ kind: "set", node: "post", channel: "rotation.z", frame: 48, value: 4 }],
};

describe("keyside desk as a program", () => {
  test("prints its address with the token once, and serves the page that was built", async () => {
    const running = await desk(name, "--no-open");
    const { port, token, said, child, ended } = running;
    expect(token.length).toBeGreaterThanOrEqual(43);
    const response = await fetch(`http://127.0.0.1:${port}/`);
    const html = await response.text();
    expect(html).toContain('<script src="desk.js">');
    expect(html).not.toContain(token);
    for (const file of ["desk.js", "desk.css"])
      expect((await fetch(`http://127.0.0.1:${port}/${file}`)).status).toBe(200);
    // Refused links are not told of with what they showed.
    const stranger = new WebSocket(`ws://127.0.0.1:${port}/link`, [linkProtocol, "wrong"]);
    await new Promise((resolve) => stranger.on("error", resolve));
    child.kill("SIGTERM");
    expect(await ended).toBe(0);
    expect(said.stdout.split(token)).toHaveLength(2);
    expect(said.stderr).toBe("");
  });

  for (const signal of ["SIGINT", "SIGTERM"] as const) {
    test(`ends on ${signal} with 0: pages are told, and what is not saved is kept and named`, async () => {
      const running = await desk(name, "--no-open");
      const { next, socket, closed } = await page(running);
      socket.send(JSON.stringify(edit));
      expect(await next(({ type }) => type === "answer")).toMatchObject({ ok: true, revision: 1 });
      running.child.kill(signal);
      expect(await running.ended).toBe(0);
      expect(await next(({ type }) => type === "closing")).toMatchObject({
        message: "The desk was stopped.",
      });
      await closed;
      expect(running.said.stderr).toBe(
        `keyside: ${name}: Its last edits were not saved. They lie in pier.unsaved.json, and the desk offers them when it is opened again.\n`,
      );
      const again = await desk(name, "--no-open");
      const told = await (await page(again)).next(({ type }) => type === "shot");
      expect(told).toMatchObject({ recoveries: [{ id: "pier.unsaved.json" }] });
    });
  }

  test("has a feed of its own, judging as the command line says, that is started again when it is killed", async () => {
    await shop.put("keyside.config.json", { checks: { pop: false } });
    const running = await desk(name, "--no-open", "--style", "snappy");
    const { next } = await page(running);
    const notes = (await next(({ type }) => type === "notes")) as { set?: readonly { check: string }[] };
    expect(notes.set?.some(({ check }) => check === "pop")).toBe(false);
    const own = running.child.pid;
    const [pid] = readFileSync(`/proc/${own}/task/${own}/children`, "utf8").trim().split(" ");
    expect(readFileSync(`/proc/${pid}/cmdline`, "utf8")).toContain("feed\0--websocket");
    process.kill(Number(pid), "SIGKILL");
    expect(await next(({ type, state }) => type === "feed" && state === "gone")).toBeDefined();
    expect(await next(({ type, state }) => type === "feed" && state === "back")).toBeDefined();
    running.child.kill("SIGTERM");
    expect(await running.ended).toBe(0);
  });
});

describe("wrong use of keyside desk", () => {
  const refused = (...argv: string[]) => {
    const { status, stderr } = spawnSync(process.execPath, [command, "desk", ...argv], {
      cwd: shop.folder,
      encoding: "utf8",
    });
    return { status, stderr };
  };

  test("ends as everywhere: 3 for what cannot be read, 2 for what cannot be asked", async () => {
    expect(refused("nowhere.curves.json", "--no-open")).toEqual({
      status: 3,
      stderr: "keyside: nowhere.curves.json: There is no such file or folder.\n",
    });
    await shop.put("broken.bvh", "HIERARCHY\n");
    expect(refused("broken.bvh", "--no-open").status).toBe(3);
    expect(refused(name, "--no-open", "--budget", "poses=10").stderr).toContain(
      "--budget poses=288 allows it",
    );
    expect(refused(name, "--port", "70000").status).toBe(2);
    expect(refused().status).toBe(2);
    const running = await desk(name, "--no-open");
    const taken = refused(name, "--no-open", "--port", String(running.port));
    expect(taken.status).toBe(2);
    expect(taken.stderr).toContain(`127.0.0.1:${running.port} is in use already`);
  });
});
