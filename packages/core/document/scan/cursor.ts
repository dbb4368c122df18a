import type { Problem } from "../model.ts";

/** Character codes that the scanner looks for. */
export const code = {
  quote: 34,
  comma: 44,
  minus: 45,
  slash: 47,
  star: 42,
  colon: 58,
  openBracket: 91,
  backslash: 92,
  closeBracket: 93,
  openBrace: 123,
  closeBrace: 125,
} as const;

/**
 * So many characters are looked ahead, or back, where something is missing; common practice: far more than a key or an
 * entry has. Without a bound, a text in which everything is missing would be looked through once for each character.
 */
export const reach = 2048;

/** More problems than this in one part of a document help nobody. */
export const problemLimit = 1000;

/**
 * A reading position in a text, and the problems met so far.
 *
 * What is decided at a place never depends on text further on than the next token: reading a part of the text
 * again gives what reading all of it gives, as long as the part ends where it ended (see reread.ts).
 */
export class Cursor {
  readonly text: string;
  /** The text's characters, see codes.ts. */
  readonly codes: Uint8Array;
  at: number;
  /** Reading stops here as if the text ended. */
  readonly end: number;
  problems: Problem[] = [];
  /** Whether the text ended in the middle of something. */
  isCutOff = false;
  /** Whether the text is a piece of a document, and what was decided leant on what stands in front of it. */
  leansOnFront = false;
  private readonly isPiece: boolean;
  /** Where brackets and braces close that have been looked for, by where they open; -1 for those that do not. */
  readonly closes: Map<number, number>;
  /** Where something was last said to be missing: what else would be missing there comes of it. */
  private missingAt = -1;

  constructor(
    text: string,
    codes: Uint8Array,
    at = 0,
    end = text.length,
    isPiece = false,
    closes = new Map<number, number>(),
  ) {
    this.isPiece = isPiece;
    this.closes = closes;
    this.text = text;
    this.codes = codes;
    this.at = at;
    this.end = end;
  }

  report(name: string, message: string, start: number, end: number, path: string): void {
    if (this.problems.length < problemLimit) {
      this.problems.push({ code: name, message, start, end: Math.max(end, start), path });
    }
  }

  /**
   * Whether an offset is the first of its line and stands no deeper than the line of an earlier offset: what starts
   * there then belongs to what is around, not to what opened on that line.
   */
  isOutdented(at: number, from: number): boolean {
    const line = this.lineStart(at);
    if (line <= from || !isBlank(this.text.slice(line, at))) return false;
    const start = this.lineStart(from);
    if (start < 0) return false;
    if (start === 0 && this.isPiece) this.leansOnFront = true;
    let i = start;
    while (i < from && isBlank(this.text.charAt(i))) i++;
    return at - line <= i - start;
  }

  /** Where the line of an offset starts; -1 where that is out of reach. */
  private lineStart(at: number): number {
    const far = Math.max(0, at - reach);
    for (let i = at - 1; i >= far; i--) {
      const c = this.text.charCodeAt(i);
      if (c === 10 || c === 13) return i + 1;
    }
    return far === 0 ? 0 : -1;
  }

  /** Whether something was just said to be missing at an offset. */
  isMissingAt(at: number): boolean {
    return this.missingAt === at;
  }

  /** Has nothing more said to be missing at an offset. */
  markMissing(at: number): void {
    this.missingAt = at;
  }

  /** Says that something is missing before or at an offset; once for each. */
  reportMissing(name: string, message: string, at: number, path: string): void {
    if (this.isMissingAt(at)) return;
    this.markMissing(at);
    this.report(name, message, at, at + 1, path);
  }

  /** Says once that the text ends too early. */
  reportCutOff(what: string, path: string): void {
    if (this.isCutOff) return;
    this.isCutOff = true;
    const message = `The document ends in the middle of ${what}; what comes before is used. Add the rest, or save the file again.`;
    this.report("cut-off", message, Math.max(0, this.end - 1), this.end, path);
  }

  /** Skips white space and comments; gives the code of the next character, -1 at the end. */
  skip(path: string): number {
    const { text, end } = this;
    for (;;) {
      if (this.at >= end) return -1;
      const c = text.charCodeAt(this.at);
      if (c === 32 || c === 10 || c === 13 || c === 9) this.at++;
      else if (c === code.slash && this.skipComment(path)) continue;
      else return c;
    }
  }

  /** Skips what cannot be read, up to the next mark that may belong to the document, and says so. */
  skipStray(path: string): void {
    const start = this.at;
    while (this.at < this.end) {
      const c = this.text.charCodeAt(this.at);
      if (this.at > start && isMark(c)) break;
      this.at++;
    }
    let stop = this.at;
    while (stop > start + 1 && this.text.charCodeAt(stop - 1) <= 32) stop--;
    const message = `${quoted(this.text.slice(start, stop))} does not belong here; take it out.`;
    this.report("stray-text", message, start, stop, path);
  }

  private skipComment(path: string): boolean {
    const { text, end, at } = this;
    const next = at + 1 < end ? text.charCodeAt(at + 1) : -1;
    if (next !== code.slash && next !== code.star) return false;
    let i = at + 2;
    if (next === code.slash) {
      while (i < end && text.charCodeAt(i) !== 10 && text.charCodeAt(i) !== 13) i++;
    } else {
      // A comment that is never closed runs to the end: looking on for the next line would make what is read
      // here depend on text far behind.
      while (i < end && !(text.charCodeAt(i) === code.star && text.charCodeAt(i + 1) === code.slash)) i++;
      if (i >= end) this.reportCutOff("a comment", path);
      i = Math.min(end, i + 2);
    }
    this.at = i;
    const message = "JSON has no comments; take this one out. It is passed over.";
    this.report("comment", message, at, i, path);
    return true;
  }
}

function isBlank(text: string): boolean {
  return /^[ \t]*$/.test(text);
}

/** A piece of the text for a message: on one line, and short. */
export function quoted(piece: string): string {
  const line = piece.replace(/\s+/g, " ").trim();
  return `"${line.length > 40 ? `${line.slice(0, 37)}…` : line}"`;
}

/** The same of any value of a document, as it is written there; an object's own `toString` is never called. */
export function quotedValue(value: unknown): string {
  return quoted(typeof value === "string" ? value : JSON.stringify(value));
}

/** Whether a character ends a stretch of text that cannot be read: brackets, braces, quotes, commas, line ends. */
function isMark(c: number): boolean {
  return (
    c === code.openBracket ||
    c === code.closeBracket ||
    c === code.openBrace ||
    c === code.closeBrace ||
    c === code.quote ||
    c === code.comma ||
    c === 10 ||
    c === 13
  );
}
