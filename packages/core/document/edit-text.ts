import { editedCurve } from "./edit/edited-curve.ts";
import { keyPatches } from "./edit/key-patches.ts";
import { planEdits } from "./edit/plan.ts";
import { lineEndOf, patched, separatorAt, type TextPatch, withoutEntries } from "./edit/text-patch.ts";
import { type KeyEdit, KeyEditError } from "./edit.ts";
import type { Shot } from "./model.ts";
import { scanDocument } from "./scan.ts";
import { curveText } from "./write/curve-text.ts";

/**
 * Makes edits of keys in the text of a document, and touches nothing else: indentation, line ends, the way in which
 * other keys' numbers are written, unknown properties and broken entries stay as they are.
 *
 * Reading the outcome gives what `editShot` gives, as long as the text held no problems at the edited keys.
 * @param text text of a curve document
 * @param shot as it was read from exactly this text
 * @param edits made at once, as by `editShot`
 * @returns the edited text
 * @throws KeyEditError if any of the edits cannot be made; TypeError if an edited curve has no place in the text
 */
export function applyKeyEdits(text: string, shot: Shot, edits: readonly KeyEdit[]): string {
  return patched(text, keyEditPatches(text, shot, edits));
}

/**
 * The pieces of text that {@link applyKeyEdits} replaces: what an editor needs to make the edits itself.
 * @param text text of a curve document
 * @param shot as it was read from exactly this text
 * @param edits made at once, as by `editShot`
 * @returns pieces that do not overlap, in the order of the text
 * @throws KeyEditError if any of the edits cannot be made; TypeError if an edited curve has no place in the text
 */
export function keyEditPatches(text: string, shot: Shot, edits: readonly KeyEdit[]): readonly TextPatch[] {
  const { plans, problems } = planEdits(shot, edits);
  if (problems.length > 0) throw new KeyEditError(problems);
  const patches: TextPatch[] = [];
  const added: string[] = [];
  const gone: [number, number][] = [];
  for (const plan of plans) {
    const edited = editedCurve(plan);
    const { place } = plan.curve;
    if (plan.isNew)
      added.push(curveText(edited, { lineEnd: lineEndOf(text), indentation: indentationOf(text, shot) }));
    else if (place === null) {
      throw new TypeError(
        `The curve "${plan.curve.channel}" of "${plan.curve.node}" has no place in the text; read the text again.`,
      );
    } else if (edited.frames.length === 0) gone.push([place.start, place.end]);
    else patches.push(...keyPatches(text, plan));
  }
  gone.sort((a, b) => a[0] - b[0]);
  if (added.length === 0) return [...patches, ...withoutEntries(text, gone)];
  return [...patches, ...addedCurves(text, added, gone)];
}

function indentationOf(text: string, shot: Shot): string {
  const start = shot.curves.find((curve) => curve.place !== null)?.place?.start;
  if (start === undefined) return "    ";
  const separator = separatorAt(text, start);
  return separator === " " ? "    " : separator.replace(/[\r\n]/g, "");
}

/** Puts curves behind the last one of the document, whether that can be used or not, and takes others out. */
function addedCurves(
  text: string,
  curves: readonly string[],
  gone: readonly (readonly [number, number])[],
): readonly TextPatch[] {
  const scan = scanDocument(text);
  const last = scan.curves[scan.curves.length - 1];
  if (last !== undefined) {
    const separator = `,${separatorAt(text, last.start)}`;
    if (gone.length === scan.curves.length) {
      return [{ start: scan.curves[0].start, end: last.end, text: curves.join(separator) }];
    }
    const addition = { start: last.end, end: last.end, text: separator + curves.join(separator) };
    return [...withoutEntries(text, gone), addition];
  }
  const lineEnd = lineEndOf(text);
  const list = `[${lineEnd}    ${curves.join(`,${lineEnd}    `)}${lineEnd}  ]`;
  const place = scan.places.get("curves");
  if (place !== undefined) return [{ start: place[0], end: place[1], text: list }];
  const brace = text.lastIndexOf("}");
  let end = brace;
  while (end > 0 && text.charCodeAt(end - 1) <= 32) end--;
  return [{ start: end, end, text: `,${lineEnd}  "curves": ${list}` }];
}
