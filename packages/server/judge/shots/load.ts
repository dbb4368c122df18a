import { basename, resolve } from "node:path";
import { lineStartsOf, type Problem, placeAt, type ReadResult, type Shot, type Waiver } from "@keyside/core";
import type { HeaderPlaces } from "@keyside/core/internal";
import { type Budget, defaultBudget } from "../../base/budget.ts";
import { UnreadableError } from "../../base/errors.ts";
import { bounds } from "../../base/files/bounds.ts";
import { type Files, readText } from "../../base/files/read.ts";
import { type Guard, unguarded, unlessStopped } from "../../base/guard.ts";
import { readerFor, shotExtensions, shotName } from "./readers.ts";
import { waiversIn, waiversTextBeside } from "./waivers.ts";
import { refuseHeavy, weightOf } from "./weigh.ts";

/** A shot as it was read from its file, with what is needed to point into the text. */
export interface LoadedShot {
  /** The file, as it was named. */
  readonly file: string;
  /** What the shot is called: its own name, else the file's. */
  readonly name: string;
  readonly text: string;
  /** Offsets at which the text's lines start. */
  readonly lineStarts: ReturnType<typeof lineStartsOf>;
  /** As much of the shot as can be judged; what is wrong with the rest stands in `problems`. */
  readonly shot: Shot;
  readonly problems: readonly Problem[];
  readonly places: HeaderPlaces;
  /** Waivers from the file beside the shot; those of the document stand in its header. */
  readonly waivers: readonly Waiver[];
}

export interface LoadOptions {
  readonly files: Files;
  readonly cwd: string;
  /** Frames per second at which captured motion is taken over; the file's own rate if left out. */
  readonly rate?: number | undefined;
  /** Text of the file of waivers beside the shot, where it has been read already. */
  readonly waivers?: string | undefined;
  /** How much work the shot may be; the default budget if left out. */
  readonly budget?: Budget | undefined;
  /** Does what takes long, so that it can be ended; nothing ends it if left out. */
  readonly guard?: Guard | undefined;
  /** Aborted when the user stops the work. */
  readonly signal?: AbortSignal | undefined;
}

/**
 * Reads a shot with the reader of its extension.
 * @throws UnreadableError where nothing can be judged: no file, no permission, empty, binary, not a shot, or more work
 *   than the budget allows
 * @throws WasStopped
 */
export async function loadShot(file: string, options: LoadOptions): Promise<LoadedShot> {
  const { files, cwd, rate } = options;
  const reader = readerFor(file);
  if (reader === null) {
    if ((await files.kind(resolve(cwd, file))) === "folder") {
      throw new UnreadableError(file, "This is a folder; name one shot in it.");
    }
    throw new UnreadableError(
      file,
      `Files of this kind are not read; shots are ${shotExtensions().join(", ")}.`,
    );
  }
  const { budget = defaultBudget, guard = unguarded } = options;
  const within = { ...bounds.shot, most: budget.file };
  const text = await readText(files, resolve(cwd, file), file, within);
  await unlessStopped(options.signal);
  const { read, lineStarts } = guard(() => ({
    read: reader(text, { mostKeys: budget.keys, ...(rate === undefined ? {} : { rate }) }),
    lineStarts: lineStartsOf(text),
  }));
  if (read.shot === null) throw new UnreadableError(file, firstProblem(read, lineStarts));
  const { shot, problems, places } = read;
  refuseHeavy(file, weightOf(shot, rate), budget);
  const name = shot.header.shot.name ?? shotName(basename(file));
  const beside = options.waivers ?? (await waiversTextBeside(files, resolve(cwd, file), file));
  const waivers = waiversIn(beside, file);
  return { file, name, text, lineStarts, shot, problems, places, waivers };
}

function firstProblem(read: ReadResult, lineStarts: LoadedShot["lineStarts"]): string {
  const [first, ...others] = read.problems;
  if (first === undefined) return "Nothing in it can be judged.";
  const { line, column } = placeAt(lineStarts, first.start);
  const more = others.length === 0 ? "" : ` (and ${others.length} more)`;
  return `Line ${line}, column ${column}: ${first.message}${more}`;
}
