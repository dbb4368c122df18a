import { lineEndOf, separatorAt, skipBlank, type TextPatch } from "../document/edit/text-patch.ts";
import { scanDocument } from "../document/scan.ts";
import { inlineText } from "../document/write/value-text.ts";
import type { Note } from "../faults/note.ts";
import type { Waiver } from "./waivers.ts";

/**
 * The waiver that answers a note and no other: its check, its node and its frames.
 * @param note the note that is intended
 * @param reason why, for whoever reads the document
 * @param by who says so
 * @returns the waiver; its frames are in the numbering of the document
 */
export function waiverFor(
  note: Pick<Note, "check" | "node" | "frames">,
  reason: string,
  by?: string,
): Waiver {
  return {
    check: note.check,
    ...(note.node === null ? {} : { node: note.node }),
    frames: [note.frames[0], note.frames[1]],
    reason,
    ...(by === undefined ? {} : { by }),
  };
}

/**
 * The piece of a document's text that has to come in for one more waiver: on a line of its own behind the others, laid
 * out like them; where there are none, with a list of its own before the curves.
 * @param text text of a curve document
 * @param waiver what is to come in
 * @returns null where the text holds no document
 */
export function waiverPatch(text: string, waiver: Waiver): TextPatch | null {
  const { members, places } = scanDocument(text);
  if (members === null) return null;
  const entry = inlineText(waiver);
  const lineEnd = lineEndOf(text);
  const list = places.get("waivers");
  if (list !== undefined && Array.isArray(members["waivers"])) {
    const count = members["waivers"].length;
    const last = places.get(`waivers/${count - 1}`);
    if (last !== undefined) {
      return { start: last[1], end: last[1], text: `,${separatorAt(text, last[0])}${entry}` };
    }
    const indentation = indentationAt(text, list[0]);
    const inner = `[${lineEnd}${indentation}${step(indentation)}${entry}${lineEnd}${indentation}]`;
    return { start: list[0], end: list[1], text: inner };
  }
  const curves = places.get("curves");
  const before = curves === undefined ? undefined : memberStart(text, curves[0]);
  if (before !== undefined) {
    const indentation = indentationAt(text, before);
    const member = `"waivers": [${lineEnd}${indentation}${step(indentation)}${entry}${lineEnd}${indentation}],`;
    return { start: before, end: before, text: `${member}${separatorAt(text, before)}` };
  }
  const open = text.indexOf("{");
  const isEmpty = text[skipBlank(text, open + 1)] === "}";
  return {
    start: open + 1,
    end: open + 1,
    text: `${lineEnd}  "waivers": [${lineEnd}    ${entry}${lineEnd}  ]${isEmpty ? lineEnd : ","}`,
  };
}

/** Where a member's name starts, given where its value does. */
function memberStart(text: string, value: number): number | undefined {
  const colon = text.lastIndexOf(":", value);
  const close = text.lastIndexOf('"', colon);
  const open = text.lastIndexOf('"', close - 1);
  return colon < 0 || close < 0 || open < 0 ? undefined : open;
}

/** The blanks with which the line of an offset starts. */
function indentationAt(text: string, at: number): string {
  const start = Math.max(text.lastIndexOf("\n", at - 1), text.lastIndexOf("\r", at - 1)) + 1;
  return /^[ \t]*/.exec(text.slice(start, at))?.[0] ?? "";
}

function step(indentation: string): string {
  return indentation.includes("\t") ? "\t" : "  ";
}
