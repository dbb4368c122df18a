import { basename, resolve } from "node:path";
import { type Adapter, type ReadOptions, readBytes, readTextWith } from "@keyside/adapters";
import { lineStartsOf, type Problem, placeAt, type ReadResult, type Shot, type Waiver } from "@keyside/core";
import type { HeaderPlaces } from "@keyside/core/internal";
import { type Budget, defaultBudget } from "../../base/budget.ts";
import { UnreadableError } from "../../base/errors.ts";
import { bounds } from "../../base/files/bounds.ts";
import { type Files, readContent } from "../../base/files/read.ts";
import { type Guard, unguarded, unlessStopped } from "../../base/guard.ts";
import { type Neighbours, neighboursOf, resolveIn } from "./neighbours.ts";
import { detected, isBeside, readerFor, shotExtensions, shotName } from "./readers.ts";
import { type LoadedReview, reviewIn, reviewTextBeside, waiversFrom } from "./reviews.ts";
import { waiversIn, waiversTextBeside } from "./waivers.ts";
import { refuseHeavy, weightOf } from "./weigh.ts";

/** A shot as it was read from its file, with what is needed to point into the text. */
export interface LoadedShot {
  /** The file, as it was named. */
  readonly file: string;
  /** What the shot is called: its own name, else the file's. */
  readonly name: string;
  /** "" for a file that is no text. */
  readonly text: string;
  /** Offsets at which the text's lines start. */
  readonly lineStarts: ReturnType<typeof lineStartsOf>;
  /** As much of the shot as can be judged; what is wrong with the rest stands in `problems`. */
  readonly shot: Shot;
  readonly problems: readonly Problem[];
  /** What is as it should be and is not judged, a sentence each. */
  readonly remarks?: readonly string[];
  readonly places: HeaderPlaces;
  /** Waivers from the file beside the shot, and what its review drops; those of the document stand in its header. */
  readonly waivers: readonly Waiver[];
  /** What people say of it, from the review file beside it; null where there is none. */
  readonly review?: LoadedReview | null;
}

export interface LoadOptions {
  readonly files: Files;
  readonly cwd: string;
  /** Frames per second at which captured motion is taken over; the file's own rate if left out. */
  readonly rate?: number | undefined;
  /** Which animation is read of a file that holds several; the first if left out. */
  readonly animation?: string | undefined;
  /** Text of the file of waivers beside the shot, where it has been read already. */
  readonly waivers?: string | undefined;
  /** Text of the review file beside the shot, where it has been read already. */
  readonly review?: string | undefined;
  /** What the shot's file names, where it has been read already. */
  readonly neighbours?: Neighbours | undefined;
  /** How much work the shot may be; the default budget if left out. */
  readonly budget?: Budget | undefined;
  /** Does what takes long, so that it can be ended; nothing ends it if left out. */
  readonly guard?: Guard | undefined;
  /** Aborted when the user stops the work. */
  readonly signal?: AbortSignal | undefined;
}

/**
 * Reads a shot with the adapter of its name's ending; where no adapter knows the ending, with the one that knows its
 * bytes.
 * @throws UnreadableError where nothing can be judged: no file, no permission, empty, binary, not a shot, or more work
 *   than the budget allows
 * @throws WasStopped
 */
export async function loadShot(file: string, options: LoadOptions): Promise<LoadedShot> {
  const { files, cwd, rate } = options;
  const { budget = defaultBudget, guard = unguarded } = options;
  const path = resolve(cwd, file);
  const byName = readerFor(file);
  if (byName === null && (await files.kind(path)) === "folder") {
    throw new UnreadableError(file, "This is a folder; name one shot in it.");
  }
  const within = { ...bounds.shot, most: budget.file, isText: byName !== null && byName.isBinary !== true };
  const { bytes, text } = await readContent(files, path, file, within);
  const adapter = byName ?? adapterByBytes(file, bytes);
  const told: ReadOptions = {
    mostKeys: budget.keys,
    file: basename(file),
    ...(rate === undefined ? {} : { rate }),
    ...(options.animation === undefined ? {} : { animation: options.animation }),
  };
  await unlessStopped(options.signal);
  const names = guard(() => adapter.needs?.(bytes, told) ?? []);
  const neighbours = options.neighbours ?? (await neighboursOf(path, names, files, budget.file));
  await unlessStopped(options.signal);
  const { read, lineStarts } = guard(() => ({
    read:
      text === null
        ? readBytes(adapter, bytes, resolveIn(neighbours), told)
        : readTextWith(adapter, text, resolveIn(neighbours), told),
    lineStarts: lineStartsOf(text ?? ""),
  }));
  if (read.shot === null)
    throw new UnreadableError(file, firstProblem(read, lineStarts) + hint(adapter, bytes));
  const { shot, problems, places, remarks = [] } = read;
  refuseHeavy(file, weightOf(shot, rate), budget);
  const name = shot.header.shot.name ?? shotName(basename(file));
  const beside = options.waivers ?? (await waiversTextBeside(files, path, file));
  const review = reviewIn(options.review ?? (await reviewTextBeside(files, path, file)), file);
  const waivers = [...waiversIn(beside, file), ...waiversFrom(review, name)];
  return { file, name, text: text ?? "", lineStarts, shot, problems, remarks, places, waivers, review };
}

function adapterByBytes(file: string, bytes: Uint8Array): Adapter {
  if (isBeside(file)) {
    throw new UnreadableError(file, "This stands beside a shot and is none itself; name the shot.");
  }
  const adapter = detected(bytes.subarray(0, headLength));
  if (adapter !== null) return adapter;
  throw new UnreadableError(
    file,
    `Files of this kind are not read; shots are ${shotExtensions().join(", ")}.`,
  );
}

/** Bytes by which a file's kind is known. */
const headLength = 4096;

/** Whose file it looks like, where its name says another. */
function hint(adapter: Adapter, bytes: Uint8Array): string {
  const other = detected(bytes.subarray(0, headLength));
  if (other === null || other === adapter) return "";
  return ` It looks like ${other.title}; name it *${other.endings[0]}.`;
}

function firstProblem(read: ReadResult, lineStarts: LoadedShot["lineStarts"]): string {
  const [first, ...others] = read.problems;
  if (first === undefined) return "Nothing in it can be judged.";
  const { line, column } = placeAt(lineStarts, first.start);
  const more = others.length === 0 ? "" : ` (and ${others.length} more)`;
  return `Line ${line}, column ${column}: ${first.message}${more}`;
}
