import { lineStartsOf, placeAt } from "./place.ts";

/** What is wrong with a text as JSON. */
export interface JsonFault {
  /** A sentence with line and column. */
  readonly message: string;
  /** Offset at which the text stops being JSON. */
  readonly start: number;
}

/** What is wrong with a text that is no JSON, in our own words: engines differ in theirs, and in whether they say where. */
export function jsonFault(text: string): JsonFault {
  const start = jsonEnd(text);
  const { line, column } = placeAt(lineStartsOf(text), start);
  const place = `Line ${line}, column ${column}`;
  if (start >= text.trimEnd().length) {
    return { message: `${place}: the text ends in the middle; the file was cut short.`, start };
  }
  const found = String.fromCodePoint(text.codePointAt(start) ?? 32);
  const what = /[\p{L}\p{N}\p{P}\p{S}]/u.test(found) ? `"${found}"` : "what stands there";
  return { message: `${place}: ${what} is no JSON in this place.`, start };
}

// Written so that no text can be taken apart in two ways: trying them all would not end.
const name = /"[^"\\\p{Cc}]*(?:\\(?:["\\/bfnrt]|u[0-9a-fA-F]{4})[^"\\\p{Cc}]*)*"/uy;
const value = new RegExp(
  `${name.source}|-?(?:0|[1-9]\\d*)(?:\\.\\d+)?(?:[eE][+-]?\\d+)?|true|false|null`,
  "uy",
);
const blank = /[ \t\r\n]*/y;

/** Offset up to which a text is JSON (RFC 8259). Brackets may be nested as deep as they like. */
function jsonEnd(text: string): number {
  const open: ("[" | "{")[] = [];
  let at = 0;
  const passes = (form: RegExp): boolean => {
    form.lastIndex = at;
    const found = form.exec(text);
    at += found?.[0].length ?? 0;
    return found !== null;
  };
  for (let wants: "value" | "first" | "name" | "behind" = "value"; ; ) {
    passes(blank);
    const c = text[at];
    if (wants === "behind") {
      const inside = open.at(-1);
      if (inside === undefined) return at;
      if (c === (inside === "[" ? "]" : "}")) {
        open.pop();
        at++;
      } else if (c === ",") {
        wants = inside === "[" ? "value" : "name";
        at++;
      } else return at;
    } else if (wants === "first" && (c === "]" || c === "}") && c === (open.at(-1) === "[" ? "]" : "}")) {
      open.pop();
      at++;
      wants = "behind";
    } else if (wants === "name" || (wants === "first" && open.at(-1) === "{")) {
      const start = at;
      if (!passes(name)) return start;
      passes(blank);
      if (text[at] !== ":") return at;
      at++;
      wants = "value";
    } else if (c === "[" || c === "{") {
      open.push(c);
      at++;
      wants = "first";
    } else {
      const start = at;
      if (!passes(value)) return start;
      wants = "behind";
    }
  }
}
