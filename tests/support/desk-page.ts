import { type ChildProcess, spawn } from "node:child_process";
import { copyFileSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { type Browser, type BrowserContextOptions, chromium, type Page } from "playwright-core";
import { eventually } from "./eventually.ts";

const root = fileURLToPath(new URL("../../", import.meta.url));

/** Debian's Chromium. */
export function launch(): Promise<Browser> {
  return chromium.launch({
    executablePath: "/usr/bin/chromium",
    args: process.getuid?.() === 0 ? ["--no-sandbox"] : [],
  });
}

/** The command `keyside desk` on a copy of a demo shot, and pages on it. */
export class RunningDesk {
  readonly folder: string;
  readonly file: string;
  readonly process: ChildProcess;
  readonly url: string;

  private constructor(folder: string, file: string, process: ChildProcess, url: string) {
    [this.folder, this.file, this.process, this.url] = [folder, file, process, url];
  }

  /** @param more files that stand beside the shot, and more of the command line */
  static async begin(
    shot: string,
    more: {
      readonly files?: Readonly<Record<string, string>>;
      readonly argv?: (folder: string) => readonly string[];
    } = {},
  ): Promise<RunningDesk> {
    const folder = mkdtempSync(join(tmpdir(), "keyside-desk-"));
    mkdirSync(folder, { recursive: true });
    for (const [name, text] of Object.entries(more.files ?? {})) writeFileSync(join(folder, name), text);
    const file = join(folder, "shot.curves.json");
    copyFileSync(shot, file);
    const child = spawn(
      process.execPath,
      [
        join(root, "packages/server/bin/keyside.js"),
        "desk",
        file,
        "--no-open",
        ...(more.argv?.(folder) ?? []),
      ],
      { stdio: ["ignore", "pipe", "inherit"] },
    );
    const url = await new Promise<string>((resolve, reject) => {
      let said = "";
      child.stdout.on("data", (data) => {
        said += data;
        const [address] = /http:\S+/.exec(said) ?? [];
        if (address !== undefined && said.includes("\n")) resolve(address);
      });
      child.on("exit", (code) => reject(new Error(`The desk ended with ${code}: ${said}`)));
    });
    return new RunningDesk(folder, file, child, url);
  }

  get text(): string {
    return readFileSync(this.file, "utf8");
  }

  /** Processes that the desk has started: its feed. */
  get children(): number[] {
    const { pid } = this.process;
    const list = readFileSync(`/proc/${pid}/task/${pid}/children`, "utf8");
    return list.split(" ").filter(Boolean).map(Number);
  }

  async end(): Promise<void> {
    const ended = new Promise((resolve) => this.process.once("exit", resolve));
    if (this.process.exitCode === null) {
      this.process.kill("SIGINT");
      await ended;
    }
    rmSync(this.folder, { recursive: true });
  }
}

/** A page on a desk, as the tests handle it. */
export class DeskPage {
  readonly page: Page;
  /** What the browser complained of. */
  readonly complaints: string[] = [];
  /** All addresses that were asked for. */
  readonly asked: string[] = [];

  private constructor(page: Page) {
    this.page = page;
  }

  /** Opens a page in a context of its own, and waits until the notes are there. */
  static async open(browser: Browser, url: string, options: BrowserContextOptions = {}): Promise<DeskPage> {
    const context = await browser.newContext({ viewport: { width: 1500, height: 950 }, ...options });
    const desk = new DeskPage(await context.newPage());
    // Nothing here is fast on a machine that does much else: this ends what hangs.
    desk.page.setDefaultTimeout(120_000);
    desk.page.on("console", (message) => {
      if (["error", "warning"].includes(message.type())) desk.complaints.push(message.text());
    });
    desk.page.on("pageerror", (error) => desk.complaints.push(error.message));
    context.on("request", (request) => desk.asked.push(request.url()));
    desk.page.on("websocket", (socket) => desk.asked.push(socket.url()));
    await desk.page.goto(url);
    await desk.judged();
    return desk;
  }

  close(): Promise<void> {
    return this.page.context().close();
  }

  /** Waits until the notes are those of the newest revision, which is at least this one. */
  async judged(least = 0): Promise<void> {
    await eventually(async () => {
      const counts = this.page.locator("#counts");
      const [judged, revision] = await Promise.all(
        ["data-judged", "data-revision"].map((name) => counts.getAttribute(name)),
      );
      return judged === revision && Number(judged ?? -1) >= least;
    }).toBe(true);
  }
  async revision(): Promise<number> {
    return Number(await this.page.locator("#counts").getAttribute("data-revision"));
  }
  /** Waits for a revision behind one, and its notes. */
  async judgedAfter(revision: number): Promise<void> {
    await this.judged(revision + 1);
  }

  /** What the notes say, in no order. */
  async messages(): Promise<string[]> {
    return (await this.page.locator("#note-list .message").allTextContents()).sort();
  }
  note(title: string) {
    return this.page.locator("#note-list .note", {
      has: this.page.locator(".note-title", { hasText: title }),
    });
  }
  async choose(title: string): Promise<void> {
    await this.note(title).locator(".note-head").click();
    await eventually(() => this.page.locator("#under").textContent()).toMatch(/^Key of/);
  }

  /** Where the key at the frame that is shown stands on the curves, found with the pointer as a hand would. */
  async findKey(): Promise<readonly [number, number]> {
    const box = await this.page.locator("#curves").boundingBox();
    if (box === null) throw new Error("There are no curves.");
    const here = await this.page.evaluate<number>(
      `new DOMMatrix(getComputedStyle(document.querySelector("#curves .here")).transform).e`,
    );
    for (let y = 24; y < box.height; y += 4) {
      await this.page.mouse.move(box.x + here, box.y + y);
      const over = await this.page.locator("#curves").getAttribute("data-over");
      if (over === "key") return [box.x + here, box.y + y];
    }
    throw new Error("No key stands at the frame that is shown.");
  }

  /** Drags what is under the pointer by so many pixels. */
  async drag(right: number, down: number, steps: number): Promise<void> {
    const [x, y] = await this.findKey();
    await this.page.mouse.down();
    await this.page.mouse.move(x + right, y + down, { steps });
    await this.page.mouse.up();
  }

  said(): Promise<string | null> {
    return this.page.locator("#said").textContent();
  }
  states(): Promise<string | null> {
    return this.page.locator("#states").textContent();
  }
}
