import { type Cursor, code, quoted } from "./cursor.ts";
import { readNumberInto } from "./number.ts";
import { isWordPart, markAfter, markAt } from "./recover.ts";

/** A text whose opening quote is missing is no longer than this; common practice. */
const longestWord = 256;

const scratch = new Float64Array(1);

/**
 * Reads the string at the cursor. One that is not closed ends where the brackets and commas behind it begin, at the
 * latest with its line.
 * @param isName whether it names a member: such a string ends at its colon
 */
export function scanString(cursor: Cursor, path: string, isName = false): string {
  const { text, end } = cursor;
  const start = cursor.at;
  let i = start + 1;
  let isPlain = true;
  let isClosed = false;
  while (i < end) {
    const c = text.charCodeAt(i);
    if (c === code.quote) {
      isClosed = true;
      break;
    }
    if (c === 10 || c === 13) break;
    if (c === code.backslash) {
      isPlain = false;
      const next = text.charCodeAt(i + 1);
      i += next === 10 || next === 13 ? 1 : 2;
    } else {
      if (c < 32) isPlain = false;
      i++;
    }
  }
  i = Math.min(i, end);
  cursor.at = isClosed ? i + 1 : i;
  const raw = text.slice(start + 1, i);
  // A quote with a letter behind it opens the next string: the one that closes this string is missing.
  const isOpen = !isClosed || isWordPart(markAt(cursor, i + 1));
  if (isOpen && i < end) {
    const length = isName ? nameLength(raw) : raw.replace(/[\s,[\]{}]+$/, "").length;
    if (!isClosed || (length > 0 && length < raw.length)) {
      const piece = raw.slice(0, length);
      cursor.at = start + 1 + length;
      const message = `A closing quote is missing behind ${quoted(piece)}.`;
      cursor.report("bad-string", message, start, cursor.at, path);
      // The next word of the line, or of the next one, is no surprise then.
      cursor.markMissing(isClosed ? cursor.at - 1 : markAfter(cursor, cursor.at - 1));
      return piece;
    }
  }
  if (!isClosed) {
    cursor.reportCutOff("a string", path);
    return raw;
  }
  if (isPlain) return raw;
  try {
    return JSON.parse(text.slice(start, i + 1)) as string;
  } catch {
    const message = `${quoted(raw)} holds a control character or an escape that JSON does not know; write it plainly.`;
    cursor.report("bad-string", message, start, i + 1, path);
    return raw;
  }
}

/** How much of a string that is not closed is the name of a member: what stands in front of its colon. */
function nameLength(raw: string): number {
  const colon = raw.indexOf(":");
  return (colon < 0 ? raw : raw.slice(0, colon)).trimEnd().length;
}

/**
 * Reads the name of a member that has no quotes, or none in front; the cursor stands at its first letter.
 * @returns null, with the cursor where it was, if no name stands there
 */
export function scanBareName(cursor: Cursor, path: string): string | null {
  const { text } = cursor;
  const start = cursor.at;
  let i = start;
  while (i < cursor.end && isWordPart(text.charCodeAt(i))) i++;
  const name = text.slice(start, i);
  const isQuoted = markAt(cursor, i) === code.quote;
  const behind = isQuoted ? i + 1 : i;
  if (name === "" || markAt(cursor, markAfter(cursor, behind - 1)) !== code.colon) return null;
  const message = isQuoted
    ? `An opening quote is missing before ${quoted(name)}.`
    : `The name of a member stands in double quotes; write ${quoted(name)}.`;
  cursor.report("bad-string", message, start, behind, path);
  cursor.at = behind;
  return name;
}

/** Offset of the quote that closes a string whose opening quote is missing; -1 where there is none on this line. */
function closingQuoteAhead({ text, end: last }: Cursor, at: number): number {
  const end = Math.min(last, at + longestWord);
  for (let i = at; i < end; i++) {
    const c = text.charCodeAt(i);
    if (c === code.quote) {
      // A quote with a letter behind it opens another string.
      return i + 1 < end && isWordPart(text.charCodeAt(i + 1)) ? -1 : i;
    }
    const isMark =
      c === code.comma ||
      c === code.colon ||
      c === code.openBracket ||
      c === code.closeBracket ||
      c === code.openBrace ||
      c === code.closeBrace;
    if (isMark || c === 10 || c === 13) return -1;
  }
  return -1;
}

/** Reads a number, true, false, null, or reports whatever else stands there. */
export function scanWord(cursor: Cursor, path: string): unknown {
  const { text, end } = cursor;
  const start = cursor.at;
  while (cursor.at < end && isWordPart(text.charCodeAt(cursor.at))) cursor.at++;
  if (cursor.at === start) {
    cursor.skipStray(path);
    return undefined;
  }
  const quote = closingQuoteAhead(cursor, cursor.at);
  if (quote >= 0) {
    const piece = text.slice(start, quote);
    cursor.at = quote + 1;
    const message = `An opening quote is missing before ${quoted(piece)}.`;
    cursor.report("bad-string", message, start, cursor.at, path);
    return piece;
  }
  const word = text.slice(start, cursor.at);
  if (cursor.at === end) {
    // The rest of the word may be missing: 9 may have been 95.
    cursor.reportCutOff("a value", path);
  } else if (word === "true") return true;
  else if (word === "false") return false;
  else if (word === "null") return null;
  else if (readNumberInto(cursor.codes, text, start, scratch, 0) === cursor.at) {
    if (Number.isFinite(scratch[0])) return scratch[0];
    const message = `${word} is too large for a number; write a finite one.`;
    cursor.report("not-finite", message, start, cursor.at, path);
  } else if (/^[+-]?(nan|inf|infinity)$/i.test(word)) {
    const message = `${word} is no number that motion can have; write a finite one.`;
    cursor.report("not-finite", message, start, cursor.at, path);
  } else if (/^[-+.\d]/.test(word)) {
    const message = `${quoted(word)} is no JSON number; write it in plain decimals, such as -12.5.`;
    cursor.report("not-a-number", message, start, cursor.at, path);
  } else {
    const message = `${quoted(word)} is no JSON value; write a number here, or put text in double quotes.`;
    cursor.report("not-a-value", message, start, cursor.at, path);
  }
  return undefined;
}
