import { defaultBudget } from "../../base/budget.ts";
import { UnreadableError, unexpectedly, unreadable } from "../../base/errors.ts";
import { bounds } from "../../base/files/bounds.ts";
import type { Files } from "../../base/files/read.ts";
import { wasEnded } from "../../base/guard.ts";
import { type JudgeContext, TooHeavyHere } from "./judge-context.ts";
import type { Judgement, ShotTask } from "./judges.ts";
import { isStoredShot } from "./stored-shot.ts";

/**
 * Judges one shot: from the cache by its content, else anew. The checks are loaded when the first shot has to be
 * judged anew, so that a run over an unchanged archive starts quickly.
 * @throws TooHeavyHere, or what a guard ends with ({@link wasEnded}); everything else is an error of the shot
 */
export async function judgeTask(task: ShotTask, context: JudgeContext): Promise<Judgement> {
  const { files, cache, budget = defaultBudget } = context;
  try {
    let bytes: Uint8Array;
    try {
      bytes = await files.read(task.path, { ...bounds.shot, most: budget.file });
    } catch (error) {
      throw unreadable(task.file, error);
    }
    // What is waived belongs to the result, wherever it stands.
    const waivers = await waiversOf(task, files);
    const content = waivers === "" ? bytes : Buffer.concat([bytes, Buffer.from(`\u0000${waivers}`)]);
    const key = cache?.keyOf(task, content) ?? "";
    const kept = cache?.get(key) ?? null;
    // What others have put there must not end the run: what is no result counts as none.
    if (kept !== null && isStoredShot(kept))
      return { kind: "shot", stored: kept, isCached: true, unkept: null };
    const { judgeFresh } = await import("./fresh.ts");
    const { stored, isWhole } = await judgeFresh(task, bytes, waivers, context);
    // Where a check has failed, the next run tries again.
    const unkept = isWhole ? (cache?.put(key, stored) ?? null) : null;
    return { kind: "shot", stored, isCached: false, unkept };
  } catch (error) {
    if (error instanceof TooHeavyHere || wasEnded(error)) throw error;
    return { kind: "error", message: messageOf(error, task) };
  }
}

/** The text of the file of waivers beside the shot, "" where there is none. */
async function waiversOf({ waivers, path, file }: ShotTask, files: Files): Promise<string> {
  try {
    if ((await files.kind(waivers)) === null) return "";
  } catch (error) {
    throw unreadable(waivers, error);
  }
  const { waiversTextBeside } = await import("../shots/waivers.ts");
  return waiversTextBeside(files, path, file);
}

/** What went wrong; a file other than the shot's own is named. */
function messageOf(error: unknown, { file, path }: ShotTask): string {
  if (!(error instanceof UnreadableError)) return unexpectedly(error);
  return error.file === file || error.file === path ? error.message : `${error.file}: ${error.message}`;
}
