import { z } from "zod";
import { shortMessage } from "../base/short-message.ts";
import { lineStartsOf, placeAt } from "../document/place.ts";
import { scanDocument } from "../document/scan.ts";
import { waiverSchema } from "../document/schema.ts";
import { misfit } from "../document/validate/header.ts";
import { nearestName } from "../document/validate/names.ts";
import { valueAtPath } from "../document/validate/words.ts";
import type { Waiver } from "./waivers.ts";

/** A file of waivers beside a shot, `NAME.waivers.json` beside `NAME.curves.json`. */
export const waiverFileSchema = z
  .strictObject({
    format: z.literal("keyside.waivers"),
    version: z.literal(1),
    waivers: z.array(waiverSchema.strict()),
  })
  .describe("Notes of a shot that are intended, in a file beside it.");

/** JSON Schema (draft 2020-12) of a file of waivers. */
export function waiverFileJsonSchema(): Record<string, unknown> {
  return { title: "Keyside waivers", ...z.toJSONSchema(waiverFileSchema) };
}

/** A file of waivers that cannot be used; the message names the place and the fix. */
export class WaiverFileError extends Error {
  override readonly name = "WaiverFileError";

  /**
   * Takes what is wrong; values of the file that it repeats at length are shortened.
   * @param message the place, what is wrong there and the way out
   */
  constructor(message: string) {
    super(shortMessage(message));
  }
}

/**
 * Reads the text of a file of waivers.
 * @param text text of the file
 * @returns the waivers, in the order of the file
 * @throws WaiverFileError with line and column of what is wrong first
 */
export function readWaiverFile(text: string): readonly Waiver[] {
  const { members, problems, places } = scanDocument(text);
  const at = (offset: number) => {
    const { line, column } = placeAt(lineStartsOf(text), offset);
    return `Line ${line}, column ${column}`;
  };
  const [broken] = problems;
  if (members === null) throw new WaiverFileError(`Line 1, column 1: This is no JSON object. ${form}`);
  if (broken !== undefined) throw new WaiverFileError(`${at(broken.start)}: ${broken.message}`);
  const read = waiverFileSchema.safeParse(members);
  if (read.success) return read.data.waivers;
  const [issue] = read.error.issues;
  const [start] = places.around(issue.path.map(String).join("/"));
  throw new WaiverFileError(`${at(start)}: ${problemOf(issue, members)}`);
}

const form =
  'A file of waivers is { "format": "keyside.waivers", "version": 1, "waivers": [ { "check": …, "reason": … } ] }.';

function problemOf(issue: z.core.$ZodIssue, members: Readonly<Record<string, unknown>>): string {
  if (issue.code !== "unrecognized_keys") {
    const sentence = misfit(issue, valueAtPath(members, issue.path));
    return issue.path.length < 2 ? `${sentence} ${form}` : sentence;
  }
  const [name] = issue.keys;
  const shape = issue.path.length === 0 ? waiverFileSchema.shape : waiverSchema.shape;
  const what = issue.path.length === 0 ? "A file of waivers" : "A waiver";
  return `${what} has no property "${name}"; did you mean "${nearestName(name, Object.keys(shape))}"?`;
}
