import { type ChildProcess, spawn } from "node:child_process";

/** A feed that runs as a process of its own, for tools on Node. It ends with the process that started it. */
export class Feed {
  readonly process: ChildProcess;
  readonly port: number;
  readonly token: string;

  constructor(process: ChildProcess, port: number, token: string) {
    this.process = process;
    this.port = port;
    this.token = token;
  }

  /** Where a WebSocket is to be opened. */
  get url(): string {
    return `ws://127.0.0.1:${this.port}`;
  }

  /** Stops the feed. @returns its exit code; null where a signal ended it */
  stop(): Promise<number | null> {
    const { exitCode, signalCode } = this.process;
    if (exitCode !== null || signalCode !== null) return Promise.resolve(exitCode);
    return new Promise((resolve) => {
      this.process.once("exit", (code) => resolve(code));
      this.process.kill();
    });
  }
}

/**
 * Starts `keyside feed --websocket` on a free port; the token that it prints is read from it. The feed ends by itself
 * when this process has ended, however that came.
 * @param command how Keyside is called, for example `["node", "node_modules/.bin/keyside"]`
 * @throws Error where it does not start
 */
export function startFeed(command: readonly string[] = ["keyside"]): Promise<Feed> {
  const [program = "keyside", ...first] = command;
  const args = [...first, "feed", "--websocket", "0", "--clientProcessId", String(process.pid)];
  const started = spawn(program, args, { stdio: ["ignore", "pipe", "inherit"] });
  return new Promise((resolve, reject) => {
    let text = "";
    started.once("error", reject);
    started.once("exit", (code) => {
      reject(new Error(`${command.join(" ")} feed ended with ${code} before it listened.`));
    });
    started.stdout.setEncoding("utf8").on("data", (piece: string) => {
      text += piece;
      const token = /^token: (.+)$/m.exec(text)?.[1];
      const port = /^listening: .*:(\d+)$/m.exec(text)?.[1];
      if (token !== undefined && port !== undefined && text.endsWith("\n")) {
        resolve(new Feed(started, Number(port), token));
      }
    });
  });
}
