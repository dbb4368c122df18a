import { spawn } from "node:child_process";
import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";

const command = fileURLToPath(new URL("../../packages/server/bin/keyside.js", import.meta.url));

/** The built command as a child process that serves a feed over stdio, spoken to with as little between as can be. */
export class FeedProcess {
  constructor() {
    this.child = spawn(process.execPath, [command, "feed", "--stdio"], {
      stdio: ["pipe", "pipe", "inherit"],
    });
    this.chunks = Buffer.alloc(0);
    this.answers = new Map();
    this.listeners = new Set();
    this.sent = 0;
    this.child.stdout.on("data", (data) => this.take(data));
  }

  /** Milliseconds that the feed's main thread has been on a processor; null where the system does not tell. */
  processorTime() {
    return processorTimeOf(this.child.pid);
  }

  notify(method, params) {
    this.write({ jsonrpc: "2.0", method, params });
  }

  request(method, params) {
    const id = ++this.sent;
    this.write({ jsonrpc: "2.0", id, method, params });
    return new Promise((resolve, reject) => this.answers.set(id, { resolve, reject }));
  }

  /** The first notification that is as wanted. */
  told(method, wanted) {
    return new Promise((resolve) => {
      const listener = (message) => {
        if (message.method !== method || !wanted(message.params)) return;
        this.listeners.delete(listener);
        resolve(message.params);
      };
      this.listeners.add(listener);
    });
  }

  async stop() {
    const closed = new Promise((resolve) => this.child.once("close", resolve));
    await this.request("shutdown");
    this.notify("exit");
    await closed;
  }

  write(message) {
    const body = Buffer.from(JSON.stringify(message));
    this.child.stdin.write(Buffer.concat([Buffer.from(`Content-Length: ${body.length}\r\n\r\n`), body]));
  }

  take(data) {
    this.chunks = this.chunks.length === 0 ? data : Buffer.concat([this.chunks, data]);
    for (;;) {
      const end = this.chunks.indexOf("\r\n\r\n");
      if (end < 0) return;
      const length = Number(/content-length: *(\d+)/i.exec(this.chunks.toString("latin1", 0, end))[1]);
      if (this.chunks.length < end + 4 + length) return;
      const message = JSON.parse(this.chunks.toString("utf8", end + 4, end + 4 + length));
      this.chunks = this.chunks.subarray(end + 4 + length);
      this.dispatch(message);
    }
  }

  dispatch(message) {
    if (message.method === undefined) {
      const request = this.answers.get(message.id);
      this.answers.delete(message.id);
      if (message.error === undefined) request?.resolve(message.result);
      else request?.reject(new Error(message.error.message));
    } else if (message.id !== undefined) {
      this.write({ jsonrpc: "2.0", id: message.id, result: null });
    }
    for (const listener of [...this.listeners]) listener(message);
  }
}

/** Milliseconds that a process's main thread has been on a processor; null where the system does not tell. */
export function processorTimeOf(pid) {
  try {
    return Number(readFileSync(`/proc/${pid}/schedstat`, "utf8").split(" ")[0]) / 1e6;
  } catch {
    return null;
  }
}
