import { type Cursor, code, quoted } from "./cursor.ts";
import { readNumberInto } from "./number.ts";

const scratch = new Float64Array(1);

/** Reads the string at the cursor; one that is not closed ends with its line. */
export function scanString(cursor: Cursor, path: string): string {
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
  if (!isClosed) {
    if (i >= end) cursor.reportCutOff("a string", path);
    else cursor.report("bad-string", `A closing quote is missing behind ${quoted(raw)}.`, start, i, path);
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

/** Reads a number, true, false, null, or reports whatever else stands there. */
export function scanWord(cursor: Cursor, path: string): unknown {
  const { text, end } = cursor;
  const start = cursor.at;
  while (cursor.at < end && isWordPart(text.charCodeAt(cursor.at))) cursor.at++;
  if (cursor.at === start) {
    cursor.skipStray(path);
    return undefined;
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

function isWordPart(c: number): boolean {
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
