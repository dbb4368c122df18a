import { type Budget, defaultBudget } from "../../base/budget.ts";
import { UnreadableError, unexpectedly, unreadable } from "../../base/errors.ts";
import { bounds } from "../../base/files/bounds.ts";
import type { Files } from "../../base/files/read.ts";
import { wasEnded } from "../../base/guard.ts";
import type { Neighbours } from "../shots/neighbours.ts";
import { type JudgeContext, TooHeavyHere } from "./judge-context.ts";
import type { Judgement, ShotTask } from "./judges.ts";
import { packedResult } from "./packed-result.ts";
import { isStoredShot } from "./stored-shot.ts";

/**
 * Judges one shot: from the cache by its content, else anew. The checks are loaded when the first shot has to be
 * judged anew, so that a run over an unchanged archive starts quickly.
 * @throws TooHeavyHere, or what a guard ends with ({@link wasEnded}); everything else is an error of the shot
 */
export async function judgeTask(task: ShotTask, context: JudgeContext): Promise<Judgement> {
  const { files, cache, budget = defaultBudget } = context;
  try {
    const bytes = await bytesOf(task, files, budget);
    // What is waived belongs to the result, wherever it stands.
    const waivers = await waiversOf(task, files);
    const neighbours = await neighboursOf(task, bytes, context);
    const review = await reviewOf(task, files);
    const content = contentOf(bytes, waivers, review, neighbours);
    const key = cache?.keyOf(task, content) ?? "";
    const packedFor = (text: string) =>
      task.isIndexed === true && cache !== null ? { key, bytes: packedResult(key, text) } : undefined;
    const kept = cache?.get(key) ?? null;
    // What others have put there must not end the run: what is no result counts as none.
    if (kept !== null && isStoredShot(kept))
      return { kind: "shot", stored: kept, isCached: true, unkept: null, packed: packedFor(kept) };
    const { judgeFresh } = await import("./fresh.ts");
    const { stored, isWhole } = await judgeFresh(task, bytes, { waivers, review }, neighbours, context);
    // Where a check has failed, the next run tries again.
    const packed = isWhole ? packedFor(stored) : undefined;
    const unkept = isWhole && packed === undefined ? (cache?.put(key, stored) ?? null) : null;
    return { kind: "shot", stored, isCached: false, unkept, packed };
  } catch (error) {
    if (error instanceof TooHeavyHere || wasEnded(error)) throw error;
    return { kind: "error", message: messageOf(error, task) };
  }
}

/**
 * All that the result of a task hangs on beside its settings, of a kind of file that names no others.
 * @throws UnreadableError
 */
export async function contentOfTask(
  task: ShotTask,
  { files, budget }: { readonly files: Files; readonly budget: Budget },
): Promise<Uint8Array> {
  const bytes = await bytesOf(task, files, budget);
  return contentOf(bytes, await waiversOf(task, files), await reviewOf(task, files), new Map());
}

async function bytesOf(task: ShotTask, files: Files, budget: Budget): Promise<Uint8Array> {
  try {
    return await files.read(task.path, {
      ...bounds.shot,
      most: budget.file,
      isText: task.isBinary !== true,
    });
  } catch (error) {
    throw unreadable(task.file, error);
  }
}

/** What the shot's file names; nothing is loaded for kinds of files that name none. */
async function neighboursOf(task: ShotTask, bytes: Uint8Array, context: JudgeContext): Promise<Neighbours> {
  if (task.mayNeed !== true) return new Map();
  const { neighboursOfTask } = await import("./fresh.ts");
  return neighboursOfTask(task, bytes, context);
}

/** All that a result hangs on, beside the settings. */
function contentOf(bytes: Uint8Array, waivers: string, review: string, neighbours: Neighbours): Uint8Array {
  if (waivers === "" && review === "" && neighbours.size === 0) return bytes;
  const pieces: Uint8Array[] = [bytes];
  if (review !== "") pieces.push(Buffer.from(`\u0000review\u0000${review}`));
  if (waivers !== "") pieces.push(Buffer.from(`\u0000${waivers}`));
  for (const [name, found] of neighbours) {
    const what = "why" in found ? `no ${found.why}` : `${found.length}`;
    pieces.push(Buffer.from(`\u0000${JSON.stringify([name, what])}`));
    if (!("why" in found)) pieces.push(found);
  }
  return Buffer.concat(pieces);
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

/** The text of the review file beside the shot, "" where there is none. */
async function reviewOf({ review, path, file }: ShotTask, files: Files): Promise<string> {
  if (review === undefined) return "";
  try {
    if ((await files.kind(review)) === null) return "";
  } catch (error) {
    throw unreadable(review, error);
  }
  const { reviewTextBeside } = await import("../shots/reviews.ts");
  return reviewTextBeside(files, path, file);
}

/** What went wrong; a file other than the shot's own is named. */
function messageOf(error: unknown, { file, path }: ShotTask): string {
  if (!(error instanceof UnreadableError)) return unexpectedly(error);
  return error.file === file || error.file === path ? error.message : `${error.file}: ${error.message}`;
}
