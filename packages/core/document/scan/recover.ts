import { type Cursor, code, reach } from "./cursor.ts";

/*
 * What comes next in a text from which a bracket, a brace or a quote is missing. None of this moves the cursor, and
 * nothing looks further than the next few marks: what is read of a curve must not depend on text far behind it.
 */

/** Whether the string at the cursor is followed by a colon, so that it names a member; then its name, else null. */
export function memberNameAt(cursor: Cursor, at = cursor.at): string | null {
  const { text, end } = cursor;
  if (markAt(cursor, at) !== code.quote) return null;
  const behind = stringEnd(cursor, at);
  if (!isClosedString(cursor, at, behind)) return null;
  let i = behind;
  while (i < end && (text.charCodeAt(i) === 32 || text.charCodeAt(i) === 9)) i++;
  return markAt(cursor, i) === code.colon ? text.slice(at + 1, behind - 1) : null;
}

/**
 * Where a list closes whose opening bracket is missing: behind plain values with commas between them, and nothing else.
 * The cursor stands at one of the values.
 * @returns the offset of the closing bracket, or -1
 */
export function listCloseAhead(cursor: Cursor): number {
  let i = cursor.at;
  for (const far = i + reach; i < far; ) {
    const c = markAt(cursor, i);
    const behind = c === code.quote ? stringEnd(cursor, i) : wordEnd(cursor, i);
    if (behind === i || (c === code.quote && !isClosedString(cursor, i, behind))) return -1;
    i = behind <= cursor.end ? markAfter(cursor, behind - 1) : cursor.end;
    const mark = markAt(cursor, i);
    if (mark === code.closeBracket) return i;
    if (mark !== code.comma) return -1;
    i = markAfter(cursor, i);
  }
  return -1;
}

function isClosedString({ text }: Cursor, at: number, behind: number): boolean {
  return behind > at + 1 && text.charCodeAt(behind - 1) === code.quote;
}

/** Offset behind the string at an offset; one that is not closed ends with its line, or out of reach. */
function stringEnd({ text, end: last }: Cursor, at: number, within = reach): number {
  const end = Math.min(last, at + within);
  let i = at + 1;
  while (i < end) {
    const c = text.charCodeAt(i);
    if (c === code.quote) return i + 1;
    if (c === 10 || c === 13) return i;
    i += c === code.backslash ? 2 : 1;
  }
  return end;
}

function wordEnd({ text, end: last }: Cursor, at: number): number {
  const end = Math.min(last, at + reach);
  let i = at;
  while (i < end && isWordPart(text.charCodeAt(i))) i++;
  return i;
}

/** Whether a character can be part of a number, of true, false or null, or of a name without its quotes. */
export function isWordPart(c: number): boolean {
  return (
    (c >= 48 && c <= 57) ||
    (c >= 65 && c <= 90) ||
    (c >= 97 && c <= 122) ||
    c === 43 ||
    c === 45 ||
    c === 46 ||
    c === 95 ||
    c > 127
  );
}

/**
 * Whether the closing bracket at an offset closes the list of a curve's keys too early: another key follows, or the
 * bracket that does close it. (A bracket more and then the end of the document may as well be a curve without its brace.)
 */
export function closesKeysTooEarly(cursor: Cursor, at: number): boolean {
  let i = markAfter(cursor, at);
  let c = markAt(cursor, i);
  if (c === code.openBracket) return true;
  if (c === code.comma) return markAt(cursor, markAfter(cursor, i)) === code.openBracket;
  if (c !== code.closeBracket) return false;
  i = markAfter(cursor, i);
  if (markAt(cursor, i) !== code.closeBrace) return false;
  c = markAt(cursor, markAfter(cursor, i));
  return c === code.comma || c === code.closeBracket;
}

/**
 * Offset of the bracket or brace that closes the one at an offset, by counting its kind; -1 where there is none. Those
 * that are met on the way are remembered, so that brackets within brackets are looked through once.
 */
export function closeOf(cursor: Cursor, at: number): number {
  const known = cursor.closes.get(at);
  if (known !== undefined) return known;
  const open = cursor.text.charCodeAt(at);
  const close = open === code.openBracket ? code.closeBracket : code.closeBrace;
  const opened: number[] = [];
  for (let i = at; i < cursor.end; i++) {
    const c = cursor.text.charCodeAt(i);
    if (c === code.quote) i = stringEnd(cursor, i, Number.POSITIVE_INFINITY) - 1;
    else if (c === open) opened.push(i);
    else if (c === close) {
      cursor.closes.set(opened.pop() as number, i);
      if (opened.length === 0) return i;
    }
  }
  for (const start of opened) cursor.closes.set(start, -1);
  return -1;
}

/** Offset of the first character behind one that is no blank. */
export function markAfter(cursor: Cursor, at: number): number {
  let i = at + 1;
  while (i < cursor.end && cursor.text.charCodeAt(i) <= 32) i++;
  return i;
}

/** The character at an offset, -1 behind the end. */
export function markAt(cursor: Cursor, at: number): number {
  return at < cursor.end ? cursor.text.charCodeAt(at) : -1;
}

/** Whether a character can start a number. */
export function startsNumber(c: number): boolean {
  return c === code.minus || (c >= 48 && c <= 57);
}

/**
 * Where the key at an offset ends at the latest, if keys have lines of their own: where the next line starts with one.
 * A bracket that is followed by a number on its line is such a key; one that stands alone belongs to a spread-out print.
 */
export function endOfKeyLines(cursor: Cursor, at: number): number {
  const { text, end } = cursor;
  if (text.charCodeAt(at) === code.openBracket && !isFollowedByNumber(text, at, end)) return end;
  const far = Math.min(end, at + reach);
  for (let i = at; i < far; i++) {
    const c = text.charCodeAt(i);
    if (c !== 10 && c !== 13) continue;
    let next = i + 1;
    while (next < end && (text.charCodeAt(next) === 32 || text.charCodeAt(next) === 9)) next++;
    if (text.charCodeAt(next) === code.openBracket && isFollowedByNumber(text, next, end)) return next;
    i = Math.max(i, next - 1);
  }
  return end;
}

function isFollowedByNumber(text: string, at: number, end: number): boolean {
  let i = at + 1;
  while (i < end && (text.charCodeAt(i) === 32 || text.charCodeAt(i) === 9)) i++;
  return i < end && startsNumber(text.charCodeAt(i));
}
