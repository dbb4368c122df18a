import { basename, resolve } from "node:path";
import {
  type HeaderPlaces,
  lineStartsOf,
  type Problem,
  placeAt,
  type ReadResult,
  type Shot,
} from "@keyside/core";
import { type Files, readText, UnreadableError } from "../files/read.ts";
import { readerFor, shotExtensions, shotName } from "./readers.ts";

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
}

export interface LoadOptions {
  readonly files: Files;
  readonly cwd: string;
  /** Frames per second at which captured motion is taken over; the file's own rate if left out. */
  readonly rate?: number | undefined;
}

/**
 * Reads a shot with the reader of its extension.
 * @throws UnreadableError where nothing can be judged: no file, no permission, empty, binary, not a shot
 */
export async function loadShot(file: string, { files, cwd, rate }: LoadOptions): Promise<LoadedShot> {
  const reader = readerFor(file);
  if (reader === null) {
    throw new UnreadableError(
      file,
      `Files of this kind are not read; shots are ${shotExtensions.join(", ")}.`,
    );
  }
  const text = await readText(files, resolve(cwd, file), file);
  const read = reader(text, rate === undefined ? {} : { rate });
  const lineStarts = lineStartsOf(text);
  if (read.shot === null) throw new UnreadableError(file, firstProblem(read, lineStarts));
  const { shot, problems, places } = read;
  const name = shot.header.shot.name ?? shotName(basename(file));
  return { file, name, text, lineStarts, shot, problems, places };
}

function firstProblem(read: ReadResult, lineStarts: LoadedShot["lineStarts"]): string {
  const [first, ...others] = read.problems;
  if (first === undefined) return "Nothing in it can be judged.";
  const { line, column } = placeAt(lineStarts, first.start);
  const more = others.length === 0 ? "" : ` (and ${others.length} more)`;
  return `Line ${line}, column ${column}: ${first.message}${more}`;
}
