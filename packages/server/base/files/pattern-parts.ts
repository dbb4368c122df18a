/* Brackets of patterns of paths: where they end, and what stands in them. */

/** The place of the bracket that closes the one at a place; -1 where none does. */
export function closingOf(text: string, open: number): number {
  const [opens, closes] = text[open] === "{" ? ["{", "}"] : ["(", ")"];
  let depth = 0;
  for (let at = open; at < text.length; at++) {
    if (text[at] === "\\") at++;
    else if (text[at] === opens) depth++;
    else if (text[at] === closes && --depth === 0) return at;
  }
  return -1;
}

export interface Parts {
  readonly parts: readonly string[];
  /** The place behind them. */
  readonly end: number;
}

/** What stands in a round bracket, at `|`; null where it is not closed. */
export function groupOf(text: string, open: number): Parts | null {
  const close = closingOf(text, open);
  return close < 0 ? null : { parts: apart(text.slice(open + 1, close), "|"), end: close + 1 };
}

/** So many numbers a range may have. */
const longestRange = 1000;

/** What stands in a curly bracket, at commas, or the numbers of a range as `{1..12}`; null where it means itself. */
export function partsOf(text: string, open: number): Parts | null {
  const close = closingOf(text, open);
  if (close < 0) return null;
  const body = text.slice(open + 1, close);
  const parts = apart(body, ",");
  if (parts.length > 1) return { parts, end: close + 1 };
  const [, from = "", to = ""] = /^(-?\d{1,9})\.\.(-?\d{1,9})$/.exec(body) ?? [];
  const [first, last] = [Number(from), Number(to)];
  if (from === "" || Math.abs(last - first) >= longestRange) return null;
  const width = /^-?0\d/.test(from) || /^-?0\d/.test(to) ? Math.max(from.length, to.length) : 0;
  const step = Math.sign(last - first);
  const numbers = Array.from({ length: Math.abs(last - first) + 1 }, (_, i) =>
    String(first + i * step).padStart(width, "0"),
  );
  return { parts: numbers, end: close + 1 };
}

/** A text cut at marks that stand in no bracket of its own. */
function apart(text: string, mark: string): string[] {
  const parts: string[] = [];
  let depth = 0;
  let from = 0;
  for (let at = 0; at < text.length; at++) {
    const char = text[at] as string;
    if (char === "\\") at++;
    else if ("{(".includes(char)) depth++;
    else if ("})".includes(char)) depth--;
    else if (char === mark && depth === 0) {
      parts.push(text.slice(from, at));
      from = at + 1;
    }
  }
  return [...parts, text.slice(from)];
}

export interface Bracket {
  takes(char: string): boolean;
  readonly end: number;
}

/** Classes of POSIX (IEEE Std 1003.1, 9.3.5), of the characters of ASCII. */
const classes: Readonly<Record<string, RegExp>> = {
  alnum: /[0-9a-z]/i,
  alpha: /[a-z]/i,
  digit: /\d/,
  lower: /[a-z]/,
  upper: /[A-Z]/,
  space: /\s/,
  punct: /[!-/:-@[-`{-~]/,
  xdigit: /[0-9a-f]/i,
};

/** A square bracket, as `[a-c]` or `[!0-9]`; null where it is not closed. */
export function bracketAt(text: string, open: number, ignoresCase: boolean): Bracket | null {
  let at = open + 1;
  const isNegated = text[at] === "!" || text[at] === "^";
  if (isNegated) at++;
  const ranges: [string, string][] = [];
  const kinds: RegExp[] = [];
  const first = at;
  for (; at < text.length; at++) {
    if (text[at] === "]" && at > first) {
      const takes = (char: string) =>
        ranges.some(([from, to]) => from <= char && char <= to) || kinds.some((kind) => kind.test(char));
      const takesAny = (char: string) => takes(char) || (ignoresCase && takes(char.toUpperCase()));
      return { takes: (char) => takesAny(char) !== isNegated, end: at + 1 };
    }
    const [named, name = ""] = /^\[:([a-z]+):\]/.exec(text.slice(at, at + 12)) ?? [];
    if (named !== undefined && classes[name] !== undefined) {
      kinds.push(classes[name]);
      at += named.length - 1;
      continue;
    }
    if (text[at] === "\\") at++;
    const from = text[at] ?? "";
    if (text[at + 1] !== "-" || text[at + 2] === "]" || text[at + 2] === undefined) {
      ranges.push([from, from]);
      continue;
    }
    at += text[at + 2] === "\\" ? 3 : 2;
    ranges.push([from, text[at] ?? ""]);
  }
  return null;
}
