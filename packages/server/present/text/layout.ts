import { styleText } from "node:util";

/** How text is laid out for whoever reads it. */
export interface Layout {
  /** Columns after which lines are wrapped. */
  readonly width: number;
  readonly colour: boolean;
}

type Paint = Parameters<typeof styleText>[0];

/** Text in a colour or weight, plain where the layout has no colour. */
export function painted(layout: Layout, paint: Paint, text: string): string {
  // Whether to colour has been decided already; styleText would look at this process's own output once more.
  return layout.colour ? styleText(paint, text, { validateStream: false }) : text;
}

/**
 * Text broken at spaces, so that no line passes the width unless a single word does.
 * @param indent what every line starts with
 * @param first what the first line starts with instead, for labels; as wide as `indent` to look right
 */
export function wrapped(layout: Layout, text: string, indent = "", first = indent): string {
  const lines: string[] = [];
  let line = first;
  let isEmpty = true;
  for (const word of text.split(/\s+/).filter((part) => part !== "")) {
    if (!isEmpty && line.length + 1 + word.length > layout.width) {
      lines.push(line);
      line = indent;
      isEmpty = true;
    }
    line += isEmpty ? word : ` ${word}`;
    isEmpty = false;
  }
  lines.push(line);
  return lines.join("\n");
}
