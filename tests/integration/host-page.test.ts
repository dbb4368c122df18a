import { type ChildProcess, spawn } from "node:child_process";
import { mkdtemp, readFile, rm } from "node:fs/promises";
import { createServer, type Server } from "node:http";
import type { AddressInfo } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterAll, beforeAll, expect, test } from "vitest";
import { WebSocket } from "ws";

/** The page in a browser against the built feed: opens a demo shot, sets a key, sees a note come. */

const at = (path: string) => fileURLToPath(new URL(`../../${path}`, import.meta.url));
const started: ChildProcess[] = [];
let server: Server;
let folder: string;

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "keyside-page-"));
  server = createServer(async (request, response) => {
    const path = new URL(request.url ?? "/", "http://localhost").pathname;
    try {
      const body = await readFile(at(`packages/adapters${path}`));
      const type = path.endsWith(".js") ? "text/javascript" : "text/html; charset=utf-8";
      response.writeHead(200, { "Content-Type": type }).end(body);
    } catch {
      response.writeHead(404).end();
    }
  });
  await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
});
afterAll(async () => {
  await Promise.all(
    started.map((child) => {
      const ended = new Promise((resolve) => child.once("close", resolve));
      child.removeAllListeners("exit");
      child.kill();
      return ended;
    }),
  );
  server.close();
  await rm(folder, { recursive: true, force: true, maxRetries: 5 });
});

/** Starts a program and waits until what it prints matches. */
async function start(program: string, args: readonly string[], ...wanted: RegExp[]): Promise<string[]> {
  const child = spawn(program, args);
  started.push(child);
  let printed = "";
  return new Promise((resolve, reject) => {
    const look = (data: Buffer) => {
      printed += data.toString("utf8");
      const found = wanted.map((pattern) => pattern.exec(printed)?.[1]);
      if (found.every((part) => part !== undefined)) resolve(found as string[]);
    };
    child.stdout.on("data", look);
    child.stderr.on("data", look);
    child.on("exit", (code) => reject(new Error(`${program} ended with ${code}: ${printed}`)));
  });
}

/** A page of a browser that is spoken to over its remote interface. */
class Page {
  private readonly socket: WebSocket;
  private readonly waiting = new Map<number, (answer: { result?: unknown; error?: unknown }) => void>();
  private sent = 0;

  private constructor(socket: WebSocket) {
    this.socket = socket;
    socket.on("message", (data: Buffer) => {
      const message = JSON.parse(data.toString("utf8"));
      this.waiting.get(message.id)?.(message);
    });
  }

  static async open(port: string, url: string): Promise<Page> {
    const target = await fetch(`http://127.0.0.1:${port}/json/new?${url}`, { method: "PUT" });
    const { webSocketDebuggerUrl } = (await target.json()) as { webSocketDebuggerUrl: string };
    const socket = new WebSocket(webSocketDebuggerUrl);
    await new Promise((resolve) => socket.once("open", resolve));
    return new Page(socket);
  }

  send<R>(method: string, params: object = {}): Promise<R> {
    const id = ++this.sent;
    this.socket.send(JSON.stringify({ id, method, params }));
    return new Promise((resolve, reject) => {
      this.waiting.set(id, ({ result, error }) =>
        error === undefined ? resolve(result as R) : reject(new Error(JSON.stringify(error))),
      );
    });
  }

  async evaluate<R>(expression: string): Promise<R> {
    const { result } = await this.send<{ result: { value: R } }>("Runtime.evaluate", {
      expression,
      returnByValue: true,
    });
    return result.value;
  }

  /** Waits until what the page shows matches. */
  async shows(pattern: RegExp): Promise<string> {
    for (;;) {
      const text = (await this.evaluate<string | undefined>("document.body?.innerText")) ?? "";
      if (pattern.test(text)) return text;
      await new Promise((resolve) => setTimeout(resolve, 50));
    }
  }

  async choose(selector: string, file: string): Promise<void> {
    const { result } = await this.send<{ result: { objectId: string } }>("Runtime.evaluate", {
      expression: `document.querySelector(${JSON.stringify(selector)})`,
    });
    await this.send("DOM.setFileInputFiles", { objectId: result.objectId, files: [file] });
  }

  async fill(form: string, values: Readonly<Record<string, string | number>>): Promise<void> {
    for (const [name, value] of Object.entries(values)) {
      await this.evaluate(
        `document.forms.${form}.elements[${JSON.stringify(name)}].value = ${JSON.stringify(String(value))}`,
      );
    }
    await this.evaluate(`document.forms.${form}.requestSubmit()`);
  }
}

test("the page opens a demo shot, sets a key, and shows what came of it", async () => {
  const origin = `http://127.0.0.1:${(server.address() as AddressInfo).port}`;
  const [port, token] = await start(
    process.execPath,
    [at("packages/server/bin/keyside.js"), "feed", "--websocket", "0", "--origin", origin],
    /listening: ws:\/\/127\.0\.0\.1:(\d+)/,
    /token: (\S+)\n/,
  );
  const [debugging] = await start(
    "chromium",
    [
      "--headless=new",
      "--no-sandbox",
      "--disable-gpu",
      "--remote-debugging-port=0",
      `--user-data-dir=${folder}`,
    ],
    /DevTools listening on ws:\/\/127\.0\.0\.1:(\d+)/,
  );
  const page = await Page.open(debugging, `${origin}/clients/page/index.html`);
  // Its script has run once it tells where it comes from: a form that is sent before loads the page anew.
  await page.shows(/\(http:\/\/127\.0\.0\.1:\d+\)[\s\S]*No shot is open/);
  await page.choose("input[type=file]", at("demo/shots/steps_0110_v1.curves.json"));
  await page.fill("open", { port, token: "guess" });
  await page.shows(/The first message on a socket/);
  await page.fill("open", { port, token });
  const before = await page.shows(/revision 0: \d+ notes/);
  await page.fill("edit", { node: "head", channel: "rotation.x", frame: 50, value: 80 });
  const after = await page.shows(/revision 1: \d+ notes/);
  expect(before).not.toContain("head rotation.x, frame 50");
  expect(after).toContain("head rotation.x, frame 50");
  await page.fill("edit", { node: "heat", channel: "rotation.x", frame: 50, value: 80 });
  await page.shows(/Did you mean "head"|did you mean "head"/);
});
