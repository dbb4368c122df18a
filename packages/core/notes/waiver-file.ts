import { z } from "zod";
import { lineStartsOf, placeAt } from "../document/place.ts";
import { scanDocument } from "../document/scan.ts";
import { waiverSchema } from "../document/schema.ts";
import type { Waiver } from "./waivers.ts";

/** A file of waivers beside a shot, `NAME.waivers.json` beside `NAME.curves.json`. */
export const waiverFileSchema = z
  .strictObject({
    format: z.literal("keyside.waivers"),
    version: z.literal(1),
    waivers: z.array(waiverSchema.strict()),
  })
  .describe("Notes of a shot that are intended, in a file beside it.");

export type WaiverFile = z.infer<typeof waiverFileSchema>;

/** JSON Schema (draft 2020-12) of a file of waivers. */
export function waiverFileJsonSchema(): Record<string, unknown> {
  return { title: "Keyside waivers", ...z.toJSONSchema(waiverFileSchema) };
}

/** A file of waivers that cannot be used; the message names the place and the mend. */
export class WaiverFileError extends Error {
  override readonly name = "WaiverFileError";
}

/**
 * Reads the text of a file of waivers.
 * @throws WaiverFileError with line and column of what is wrong first
 */
export function readWaiverFile(text: string): readonly Waiver[] {
  const { members, problems, places } = scanDocument(text);
  const at = (offset: number) => {
    const { line, column } = placeAt(lineStartsOf(text), offset);
    return `Line ${line}, column ${column}`;
  };
  const [broken] = problems;
  if (members === null || broken !== undefined) {
    throw new WaiverFileError(
      broken === undefined ? "This is no JSON object." : `${at(broken.start)}: ${broken.message}`,
    );
  }
  const read = waiverFileSchema.safeParse(members);
  if (read.success) return read.data.waivers;
  const [issue] = read.error.issues;
  const path = issue.path.map(String).join("/");
  const [start] = places.around(path);
  const what = path === "" ? "The file" : `"${path}"`;
  throw new WaiverFileError(
    `${at(start)}: ${what}: ${issue.message}. A file of waivers is { "format": "keyside.waivers", "version": 1, "waivers": [ { "check": …, "reason": … } ] }.`,
  );
}
