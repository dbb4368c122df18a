import { basename, dirname, join } from "node:path";
import { readWaiverFile, type Waiver, WaiverFileError } from "@keyside/core";
import { UnreadableError } from "../../base/errors.ts";
import { bounds } from "../../base/files/bounds.ts";
import { type Files, readText } from "../../base/files/read.ts";
import { shotName } from "./readers.ts";

/** Ending of the name of a file of waivers. */
export const waiversExtension = ".waivers.json";

/** The file of waivers that stands beside a shot if there is one: `jetty.waivers.json` beside `jetty.curves.json`. */
export function waiversFileOf(shotPath: string): string {
  return join(dirname(shotPath), `${shotName(basename(shotPath))}${waiversExtension}`);
}

/**
 * The text of the file of waivers beside a shot, "" where there is none.
 * @param shown the shot's file as errors name it
 * @throws UnreadableError naming the file of waivers
 */
export async function waiversTextBeside(files: Files, shotPath: string, shown: string): Promise<string> {
  const path = waiversFileOf(shotPath);
  if ((await files.kind(path)) !== "file") return "";
  return readText(files, path, waiversFileOf(shown), bounds.settings);
}

/**
 * The waivers in the text of a file beside a shot.
 * @param text as `waiversTextBeside` gives it
 * @param shown the shot's file as errors name it
 * @throws UnreadableError naming the file, the place and the fix
 */
export function waiversIn(text: string, shown: string): readonly Waiver[] {
  if (text === "") return [];
  try {
    return readWaiverFile(text);
  } catch (error) {
    if (error instanceof WaiverFileError) throw new UnreadableError(waiversFileOf(shown), error.message);
    throw error;
  }
}
