import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { diskFiles } from "../../../packages/server/base/files/read.ts";
import type { CommandIo } from "../../../packages/server/cli/command-io.ts";
import { run } from "../../../packages/server/cli/run.ts";
import { localJudges } from "../../../packages/server/judge/archive/local-judges.ts";

export interface Ran {
  readonly code: number;
  readonly stdout: string;
  readonly stderr: string;
}

/** A folder of its own for one test file, in which the command is run. */
export class Workshop {
  readonly folder: string;

  private constructor(folder: string) {
    this.folder = folder;
  }

  static async open(): Promise<Workshop> {
    return new Workshop(await mkdtemp(join(tmpdir(), "keyside-command-")));
  }

  close(): Promise<void> {
    return rm(this.folder, { recursive: true, force: true });
  }

  path(name: string): string {
    return join(this.folder, name);
  }

  /** Puts a file there: text as it is, anything else as JSON. */
  async put(name: string, content: unknown): Promise<void> {
    const isBytes = content instanceof Uint8Array || typeof content === "string";
    await writeFile(this.path(name), isBytes ? content : JSON.stringify(content));
  }

  /** Runs the command inside this process. */
  async run(argv: readonly string[], io: Partial<CommandIo> = {}): Promise<Ran> {
    let stdout = "";
    let stderr = "";
    const code = await run(argv, {
      stdout: (text) => {
        stdout += text;
      },
      stdoutTaken: async () => {},
      stderr: (text) => {
        stderr += text;
      },
      cwd: this.folder,
      env: {},
      isTTY: false,
      columns: 100,
      stderrIsTTY: false,
      // No run takes long: what is told does not depend on the machine.
      now: () => 0,
      files: diskFiles,
      stdin: async () => new Uint8Array(),
      cores: 2,
      // Worker threads run what is built; here the sources are tested, in this thread.
      startJudges: async (options) => localJudges(options, io.files),
      runWithRoom: async () => {
        throw new Error("This program is the test itself.");
      },
      onInterrupt: () => () => {},
      ...io,
    });
    return { code, stdout, stderr };
  }
}

/** Whether a text looks as if an error had been let through with its stack. */
export const stackTrace = /^\s+at .*[(:]\d+/m;
