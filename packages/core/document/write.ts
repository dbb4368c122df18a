import type { Curve, Shot } from "./model.ts";
import type { CurveDocument, CurveSpec } from "./schema.ts";
import { documentText } from "./write/document-text.ts";

/**
 * Writes a document: one line per key, per node and per entry of the other lists; numbers in the fewest digits that
 * read back as the same number. What was written and read again is written as the same bytes.
 *
 * Only what a shot holds can be written: entries that reading left out are not in it. To change keys in a file, edit
 * its text with `applyKeyEdits`, which keeps all else as it stands.
 * @param document a document built in code, or a shot
 * @returns text with "\n" line ends and one at its end
 * @throws RangeError for a number that is not finite
 */
export function writeDocument(document: CurveDocument | Shot): string {
  const { curves, ...rest } = document;
  requireFinite(rest, "The document");
  for (const curve of curves) requireFiniteKeys(curve);
  return documentText(document);
}

function requireFinite(value: unknown, where: string): void {
  if (typeof value === "number" && !Number.isFinite(value)) {
    throw new RangeError(`${where} holds ${value}, which a curve document cannot; give a finite number.`);
  }
  if (typeof value !== "object" || value === null) return;
  for (const member of Object.values(value)) requireFinite(member, where);
}

function requireFiniteKeys(curve: Curve | CurveSpec): void {
  const where = `The curve "${curve.channel}" of "${curve.node}"`;
  if (!("frames" in curve)) {
    requireFinite(curve, where);
    return;
  }
  const { frames, values, width, handles } = curve;
  for (let key = 0; key < frames.length; key++) {
    requireFinite(frames[key], where);
    for (let n = 0; n < width; n++)
      requireFinite(values[key * width + n], `${where} at frame ${frames[key]}`);
  }
  // NaN stands for a handle that is left out.
  const endless = handles?.find((number) => Math.abs(number) === Number.POSITIVE_INFINITY);
  if (endless !== undefined) requireFinite(endless, where);
  requireFinite(curve.extra?.curve, where);
}
