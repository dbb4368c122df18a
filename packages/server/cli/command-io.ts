import { type Io, processIo } from "../base/io.ts";
import type { Judges, JudgesOptions } from "../judge/archive/judges.ts";

/** What commands have to do with the world outside, and whoever judges for them. */
export interface CommandIo extends Io {
  /** Starts whoever judges shots side by side. */
  startJudges(options: JudgesOptions): Promise<Judges>;
}

/** That of this process: shots are judged in worker threads. */
export function processCommandIo(): CommandIo {
  return {
    ...processIo(),
    async startJudges(options) {
      const { threadJudges } = await import("../judge/archive/thread-judges.ts");
      return threadJudges(options);
    },
  };
}
