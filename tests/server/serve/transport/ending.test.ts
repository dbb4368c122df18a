import { type ChildProcessWithoutNullStreams, spawn, spawnSync } from "node:child_process";
import { createConnection, type Socket } from "node:net";
import { fileURLToPath } from "node:url";
import { afterEach, beforeAll, describe, expect, test } from "vitest";
import { WebSocket } from "ws";
import { nodeTimers } from "../../../../packages/server/serve/feed/environment.ts";
import { whenGone } from "../../../../packages/server/serve/transport/watch-process.ts";
import { framed } from "../host/host-client.ts";

const root = fileURLToPath(new URL("../../../..", import.meta.url));
const command = fileURLToPath(new URL("../../../../packages/server/bin/keyside.js", import.meta.url));
const started: ChildProcessWithoutNullStreams[] = [];
const sockets: Socket[] = [];

beforeAll(() => {
  // The command runs from what is built; an older build would test the past.
  const compiler = fileURLToPath(new URL("../../../../node_modules/typescript/bin/tsc", import.meta.url));
  spawnSync(process.execPath, [compiler, "-b", "packages/server"], { cwd: root });
});
afterEach(() => {
  for (const child of started.splice(0)) child.kill("SIGKILL");
  for (const socket of sockets.splice(0)) socket.destroy();
});

function starting(...argv: string[]): ChildProcessWithoutNullStreams {
  const child = spawn(process.execPath, argv);
  started.push(child);
  child.stdin.on("error", () => {});
  return child;
}

/** A feed as a process, once it has said something: that it listens, or an answer. */
async function feed(
  argv: readonly string[],
  first = "",
): Promise<{ child: ChildProcessWithoutNullStreams; said: string }> {
  const child = starting(command, "feed", ...argv);
  child.stdin.write(first);
  const said = await new Promise<string>((resolve, reject) => {
    child.stdout.once("data", (data: Buffer) => resolve(data.toString("utf8")));
    child.once("exit", (code) => reject(new Error(`The feed ended with ${code}.`)));
  });
  return { child, said };
}

function ended(
  child: ChildProcessWithoutNullStreams,
): Promise<{ code: number | null; signal: string | null }> {
  return new Promise((resolve) => child.once("exit", (code, signal) => resolve({ code, signal })));
}

async function connected(port: number): Promise<Socket> {
  const socket = createConnection(port, "127.0.0.1");
  sockets.push(socket);
  socket.on("error", () => {});
  await new Promise((resolve) => socket.once("connect", resolve));
  return socket;
}

function initialize(processId: number | null): string {
  return framed({ id: 1, method: "initialize", params: { processId, rootUri: null, capabilities: {} } });
}

const portIn = (said: string) => Number(/:(\d+)\n/.exec(said)?.[1]);

describe.each(["SIGTERM", "SIGINT"] as const)("%s ends a feed with code 0", (signal) => {
  // That is within two seconds: a feed that ended by itself later would be the fault of a timer of 10 s or more.
  const clean = { code: 0, signal: null };

  test("over stdio", async () => {
    const { child } = await feed(["--stdio"], initialize(null));
    const end = ended(child);
    child.kill(signal);
    expect(await end).toEqual(clean);
  });

  test("over stdio whose client does not read", async () => {
    const { child } = await feed(["--stdio"], initialize(null));
    child.stdout.pause();
    for (let id = 2; id < 5000; id++) child.stdin.write(framed({ id, method: "no/method" }));
    await new Promise((resolve) => setTimeout(resolve, 300));
    const end = ended(child);
    child.kill(signal);
    expect(await end).toEqual(clean);
  });

  test("over a socket with a silent connection", async () => {
    const { child, said } = await feed(["--socket", "0"]);
    await connected(portIn(said));
    const end = ended(child);
    child.kill(signal);
    expect(await end).toEqual(clean);
  });

  test("over WebSocket with connections that say nothing, or half a greeting, or have not shown the token", async () => {
    const { child, said } = await feed(["--websocket", "0"]);
    await connected(portIn(said));
    (await connected(portIn(said))).write("GET / HTTP/1.1\r\nHost: x\r\n");
    const stranger = new WebSocket(`ws://127.0.0.1:${portIn(said)}`);
    stranger.on("error", () => {});
    await new Promise((resolve) => stranger.once("open", resolve));
    const end = ended(child);
    child.kill(signal);
    expect(await end).toEqual(clean);
  });
});

describe("a feed that a tool started ends with it", () => {
  /** A process that lives until it is killed. */
  const tool = () => starting("--eval", "setInterval(() => {}, 1000); console.log('here')");

  test("when its input ends", async () => {
    const { child } = await feed(["--stdio"], initialize(null));
    const end = ended(child);
    child.stdin.end();
    expect(await end).toEqual({ code: 0, signal: null });
  });

  test("when nobody reads its output any more", async () => {
    const { child } = await feed(["--stdio"], initialize(null));
    const end = ended(child);
    child.stdout.destroy();
    child.stdin.write(framed({ id: 2, method: "no/method" }));
    // 128 + SIGPIPE, as of any program that a closed pipe stopped.
    expect(await end).toEqual({ code: 141, signal: null });
  });

  test("when the process of initialize is gone, though its input stays open", async () => {
    const one = tool();
    await new Promise((resolve) => one.stdout.once("data", resolve));
    const { child } = await feed(["--stdio"], initialize(one.pid ?? null));
    const end = ended(child);
    one.kill("SIGKILL");
    expect(await end).toEqual({ code: 0, signal: null });
  });

  test.each([["--stdio"], ["--socket", "0"], ["--websocket", "0"]])(
    "%s: when the process of --clientProcessId is gone",
    async (...how) => {
      const one = tool();
      await new Promise((resolve) => one.stdout.once("data", resolve));
      const { child } = await feed([...how, "--clientProcessId", String(one.pid)], initialize(null));
      const end = ended(child);
      one.kill("SIGKILL");
      expect(await end).toEqual({ code: 0, signal: null });
    },
  );

  test("but not with a process that was never there, which is another machine's", async () => {
    const one = tool();
    await new Promise((resolve) => one.stdout.once("data", resolve));
    const end = ended(one);
    one.kill("SIGKILL");
    await end;
    let isGone = false;
    whenGone(one.pid ?? null, nodeTimers, () => {
      isGone = true;
    });
    await new Promise((resolve) => setTimeout(resolve, 50));
    expect(isGone).toBe(false);
  });
});
