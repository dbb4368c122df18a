import { interpolations, type Note } from "@keyside/core";
import { sentence } from "@keyside/core/internal";
import { type Hover, MarkupKind } from "vscode-languageserver";
import { markdownCode, markdownText } from "../../present/text/markdown.ts";
import { keyAt, type LocatedKey } from "./locate.ts";
import { drives, motionAt } from "./motion-words.ts";
import { rangeOf } from "./places.ts";
import type { ShotDocument } from "./shot-document.ts";

/**
 * What is known of the key at an offset: its motion, what it drives, its notes; null where no key stands.
 * @param format null for clients that know no formats: what they are sent is to be shown as it is
 */
export function hoverAt(document: ShotDocument, offset: number, format: MarkupKind | null): Hover | null {
  const markdown = format === MarkupKind.Markdown;
  const key = keyAt(document, offset);
  const study = document.study();
  if (key === null || study === null) return null;
  const { curve, index } = key;
  const frame = curve.frames[index];
  const title = `${curve.node} ${curve.channel}, frame ${frame}`;
  const text = (line: string | null) => (line !== null && markdown ? markdownText(line) : line);
  const lines = [
    `${markdown ? `**${markdownText(title)}**` : title} (${interpolations[curve.modes[index]]})`,
    text(motionAt(study, curve, frame)),
    text(drives(study, curve)),
    ...notesAt(document, key).map((note) => noteLine(note, markdown)),
  ].filter((line) => line !== null);
  const value = lines.join("\n\n");
  return {
    contents: format === null ? { language: "plaintext", value } : { kind: format, value },
    range: rangeOf(document, [key.start, key.end]),
  };
}

function notesAt(document: ShotDocument, { curve, index }: LocatedKey): Note[] {
  return document.notes.filter(({ keys }) =>
    keys.some((key) => key.index === index && key.node === curve.node && key.channel === curve.channel),
  );
}

function noteLine({ tier, check, message, why, suggestion }: Note, markdown: boolean): string {
  const text = [message, why, suggestion].map(sentence).join(" ");
  return markdown ? `${tier}, ${markdownCode(check)}: ${markdownText(text)}` : `${tier}, ${check}: ${text}`;
}
