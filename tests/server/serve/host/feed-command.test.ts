import { chmod, readFile, stat } from "node:fs/promises";
import { createConnection, type Socket } from "node:net";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import {
  createMessageConnection,
  StreamMessageReader,
  StreamMessageWriter,
} from "vscode-languageserver/node";
import { type Ran, Workshop } from "../../cli/run-in-process.ts";
import { HostClient, refusalOf } from "./host-client.ts";

let workshop: Workshop;
beforeAll(async () => {
  workshop = await Workshop.open();
});
afterAll(() => workshop.close());

/** A feed that is running: what it has printed, and how to stop it. */
interface Running {
  readonly printed: () => string;
  readonly warned: () => string;
  stop(): Promise<Ran>;
}

async function started(...argv: string[]): Promise<Running> {
  let printed = "";
  let warned = "";
  let interrupt: () => void = () => {};
  let isListening: () => void = () => {};
  const listening = new Promise<void>((resolve) => {
    isListening = resolve;
  });
  const ended = workshop.run(["feed", ...argv], {
    stdout: (text) => {
      printed += text;
      if (text.startsWith("listening:")) setImmediate(isListening);
    },
    stderr: (text) => {
      warned += text;
    },
    onInterrupt: (stop) => {
      interrupt = stop;
      return () => {};
    },
  });
  await Promise.race([listening, ended]);
  return {
    printed: () => printed,
    warned: () => warned,
    stop: () => {
      interrupt();
      return ended;
    },
  };
}

async function clientAt(port: number): Promise<HostClient & { socket: Socket }> {
  const socket = createConnection(port, "127.0.0.1");
  await new Promise((resolve) => socket.once("connect", resolve));
  const connection = createMessageConnection(
    new StreamMessageReader(socket),
    new StreamMessageWriter(socket),
  );
  return Object.assign(new HostClient(connection), { socket });
}

function portIn(printed: string): number {
  return Number(/^listening: tcp:\/\/127\.0\.0\.1:(\d+)$/m.exec(printed)?.[1]);
}

describe("keyside feed", () => {
  test("listens on this machine alone, prints a token once, and serves whoever has it until it is stopped", async () => {
    const feed = await started("--socket", "0", "--websocket", "0");
    expect(feed.printed()).toMatch(
      /^listening: tcp:\/\/127\.0\.0\.1:\d+\nlistening: ws:\/\/127\.0\.0\.1:\d+\ntoken: [\w-]{43}\n$/,
    );
    const token = /^token: (.*)$/m.exec(feed.printed())?.[1];
    const client = await clientAt(portIn(feed.printed()));
    expect(await client.hello({ token })).toMatchObject({ protocol: 1 });
    const closed = new Promise((resolve) => client.socket.once("close", resolve));
    expect(await feed.stop()).toMatchObject({ code: 0 });
    await closed;
    expect(feed.warned()).toBe("");
  });

  test("takes its token from a file, which it writes for its owner alone where there is none", async () => {
    const first = await started("--socket", "0", "--token-file", "feed.token");
    expect(first.printed()).not.toContain("token");
    await first.stop();
    const token = (await readFile(workshop.path("feed.token"), "utf8")).trim();
    expect(token).toMatch(/^[\w-]{43}$/);
    if (process.platform !== "win32")
      expect((await stat(workshop.path("feed.token"))).mode & 0o777).toBe(0o600);
    const second = await started("--socket", "0", "--token-file", "feed.token");
    const client = await clientAt(portIn(second.printed()));
    expect((await refusalOf(client.hello({ token: "x" }))).data?.reason).toBe("wrong-token");
    const other = await clientAt(portIn(second.printed()));
    await other.hello({ token });
    await second.stop();
    expect((await readFile(workshop.path("feed.token"), "utf8")).trim()).toBe(token);
  });

  test("warns of a token file that others can read", async () => {
    await workshop.put("shared.token", `${"x".repeat(30)}\n`);
    await chmod(workshop.path("shared.token"), 0o644);
    const feed = await started("--socket", "0", "--token-file", "shared.token");
    if (process.platform !== "win32") expect(feed.warned()).toContain("chmod 600");
    await feed.stop();
  });

  test("warns where other machines can reach it, which has to be asked for", async () => {
    const feed = await started("--socket", "0", "--host", "0.0.0.0");
    expect(feed.warned()).toContain("other machines can reach 0.0.0.0");
    await feed.stop();
  });

  test("says so where the port is taken", async () => {
    const feed = await started("--socket", "0");
    const port = portIn(feed.printed());
    const second = await workshop.run(["feed", "--socket", String(port)]);
    expect(second).toMatchObject({ code: 2 });
    expect(second.stderr).toBe(
      `keyside: 127.0.0.1:${port} is in use already; choose another port, or 0 for any that is free.\n`,
    );
    await feed.stop();
  });

  test.each([
    [[], "Say how the feed is reached"],
    [["--stdio", "--socket", "0"], "either over stdio or over sockets"],
    [["--socket", "70000"], "A port is a whole number from 0 to 65535."],
    [["--websocket", "http"], "A port is a whole number from 0 to 65535."],
    [["--socket", "0", "--max-message", "big"], "A size is a whole number of bytes"],
    [["--socket", "0", "--max-message", "0"], "A size is a whole number of bytes"],
    [["--socket", "0", "--idle-timeout", "-1"], "It is a number of seconds"],
    [["--socket", "0", "--max-clients", "0"], "It is a whole number above 0."],
    [["--websocket", "0", "--origin", "localhost"], "An origin is a scheme, a host"],
    [["--websocket", "0", "--origin", "http://localhost/page"], "An origin is a scheme, a host"],
    [["--socket", "0", "--token-file", "none/feed.token"], "cannot be written"],
    [["--socket", "0", "--host", "203.0.113.7"], "is no address of this machine"],
  ])("refuses %j", async (argv, why) => {
    await workshop.put("short.token", "abc");
    const { code, stderr, stdout } = await workshop.run(["feed", ...argv]);
    expect(code).toBe(2);
    expect(stderr).toContain(why);
    expect(stderr.trim().split("\n")).toHaveLength(1);
    expect(stdout).toBe("");
  });

  test("refuses a token that could be guessed", async () => {
    await workshop.put("short.token", "abc");
    const { code, stderr } = await workshop.run(["feed", "--socket", "0", "--token-file", "short.token"]);
    expect(code).toBe(2);
    expect(stderr).toContain("holds no token");
  });
});
