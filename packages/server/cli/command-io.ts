import { type Io, processIo } from "../base/io.ts";
import type { Judges, JudgesOptions } from "../judge/archive/judges.ts";

/** What commands have to do with the world outside, and whoever judges for them. */
export interface CommandIo extends Io {
  /** Starts whoever judges shots side by side. */
  startJudges(options: JudgesOptions): Promise<Judges>;
  /**
   * Runs the command in a program that may take more memory than this one. Gives its exit code.
   * @param memory bytes
   */
  runWithRoom(argv: readonly string[], memory: number): Promise<number>;
}

/** That of this process: shots are judged in worker threads. */
export function processCommandIo(): CommandIo {
  return {
    ...processIo(),
    async startJudges(options) {
      const { threadJudges } = await import("../judge/archive/thread-judges.ts");
      return threadJudges(options);
    },
    async runWithRoom(argv, memory) {
      const { runWithRoom } = await import("./with-room.ts");
      return runWithRoom(argv, memory);
    },
  };
}
