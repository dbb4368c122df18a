import { absurd } from "../terms.ts";
import { type Cursor, code } from "./cursor.ts";
import { inherited, type KeyBuffer, storePlace } from "./key-buffer.ts";
import { readExtrasInto, skipSpace } from "./key-extras.ts";
import { readNumberInto } from "./number.ts";
import { scanOddKey } from "./odd-key.ts";
import { readPlainKeys } from "./plain-keys.ts";
import { closesKeysTooEarly, isWordPart, markAfter, memberNameAt, startsNumber } from "./recover.ts";
import { scanValue } from "./values.ts";

/**
 * Reads a curve's list of keys, whose opening bracket is at the cursor, into the buffer.
 *
 * A key that is written as it should be is read without making an object; any other goes to {@link scanOddKey}.
 * @param start offset from which the places of keys count
 */
export function scanKeys(cursor: Cursor, buffer: KeyBuffer, start: number, path: string): void {
  const { text, codes, at: keysAt } = cursor;
  const isUnopened = startsNumber(codes[skipSpace(codes, cursor.at + 1)]);
  if (isUnopened) {
    // A list that begins with a number is the first of the keys.
    const message = 'The opening bracket "[" of the keys is missing before this.';
    cursor.report("missing-bracket", message, cursor.at, cursor.at + 1, path);
  } else cursor.at++;
  let raw = 0;
  let needsComma = false;
  let lastComma = -1;
  for (;;) {
    let at = skipSpace(codes, cursor.at);
    if (buffer.hasWidth && buffer.width === 1 && !needsComma && codes[at] === code.openBracket) {
      const before = buffer.count;
      at = readPlainKeys(codes, text, at, buffer, start, raw);
      raw += buffer.count - before;
      // The commas are read along with the keys; where the last stands only matters if nothing follows.
      if (buffer.count > before) lastComma = commaBefore(codes, at);
    }
    cursor.at = at;
    if (codes[at] === code.openBracket) {
      if (needsComma) cursor.reportMissing("missing-comma", "A comma is missing before this key.", at, path);
      if (buffer.count === buffer.capacity) buffer.grow();
      const end = readKey(codes, text, at, buffer, start, raw);
      needsComma = end >= 0 || oddKey(cursor, buffer, start, raw, path);
      if (end >= 0) cursor.at = end;
      raw++;
      lastComma = -1;
      // The usual way on: a comma at once.
      if (codes[cursor.at] === code.comma) {
        lastComma = cursor.at++;
        needsComma = false;
      }
      continue;
    }
    const c = cursor.skip(path);
    if (c === code.openBracket) continue;
    const here = cursor.at;
    if (c === code.closeBracket) {
      if (closesKeysTooEarly(cursor, here)) {
        const message = 'There is a closing bracket "]" too many here; take it out.';
        cursor.report("stray-text", message, here, here + 1, path);
        cursor.at++;
        continue;
      }
      if (lastComma >= 0) {
        const message = "There is a comma behind the last key; take it out.";
        cursor.report("trailing-comma", message, lastComma, lastComma + 1, path);
      }
      cursor.at++;
      return;
    }
    if (c === -1) {
      cursor.reportCutOff("a curve's keys", path);
      return;
    }
    if (c === code.closeBrace || endsKeys(cursor, c, keysAt)) {
      const message = 'The closing bracket "]" of the keys is missing before this.';
      // A list without either bracket has been told of where it starts.
      if (!isUnopened) cursor.reportMissing("missing-bracket", message, here, path);
      return;
    }
    if (c === code.comma) {
      if (!needsComma)
        cursor.report("stray-text", "There is a comma too many here; take it out.", here, here + 1, path);
      needsComma = false;
      lastComma = here;
      cursor.at++;
      continue;
    }
    const isValue = c === code.openBrace || c === code.quote || isWordPart(c);
    if (needsComma && isValue) {
      cursor.reportMissing("missing-comma", "A comma is missing before this.", here, path);
    }
    if (startsNumber(c)) needsComma = oddKey(cursor, buffer, start, raw++, path, true);
    else if (isValue) {
      const keyPath = `${path}/${raw++}`;
      const before = cursor.problems.length;
      scanValue(cursor, keyPath, null);
      const message = "A key is a list [frame, value]; this is left out.";
      if (cursor.problems.length === before) cursor.report("bad-key", message, here, cursor.at, keyPath);
      needsComma = true;
    } else cursor.skipStray(path);
    lastComma = -1;
  }
}

/** Reads an odd key (see {@link scanOddKey}): if something is wrong with it, what is missing behind it comes of that. */
function oddKey(...[cursor, ...rest]: Parameters<typeof scanOddKey>): boolean {
  const before = cursor.problems.length;
  const isClosed = scanOddKey(cursor, ...rest);
  if (cursor.problems.length > before) cursor.markMissing(markAfter(cursor, cursor.at - 1));
  return isClosed;
}

/** Whether what stands where a key is due belongs to this curve, or is the next one: a list of keys that is not closed. */
function endsKeys(cursor: Cursor, c: number, keysAt: number): boolean {
  if (c === code.quote) return memberNameAt(cursor) !== null;
  return c === code.openBrace && cursor.isOutdented(cursor.at, keysAt);
}

/**
 * Reads a key that is written as it should be.
 * @returns the offset behind the key, or -1 where something is unusual; the buffer is then as before
 */
function readKey(
  codes: Uint8Array,
  text: string,
  at: number,
  buffer: KeyBuffer,
  start: number,
  raw: number,
): number {
  const { count, frames, values } = buffer;
  let i = readNumberInto(codes, text, skipSpace(codes, at + 1), frames, count);
  if (i < 0) return -1;
  const frame = frames[count];
  i = skipSpace(codes, i);
  if (codes[i] !== code.comma) return -1;
  i = skipSpace(codes, i + 1);
  const isQuaternion = codes[i] === code.openBracket;
  if (!buffer.hasWidth) buffer.width = isQuaternion ? 4 : 1;
  if (isQuaternion) {
    if (buffer.width !== 4) return -1;
    i = readQuaternionInto(codes, text, i, values, count * 4);
    if (i < 0) return -1;
  } else {
    if (buffer.width !== 1) return -1;
    i = readNumberInto(codes, text, i, values, count);
    if (i < 0 || !(Math.abs(values[count]) <= absurd)) return -1;
  }
  if (!(Math.abs(frame) <= absurd)) return -1;
  i = skipSpace(codes, i);
  buffer.modes[count] = inherited;
  if (codes[i] === code.comma) {
    const brace = skipSpace(codes, i + 1);
    if (codes[brace] !== code.openBrace) return -1;
    i = readExtrasInto(codes, text, brace, buffer, count);
    if (i < 0) return -1;
    i = skipSpace(codes, i);
  }
  if (codes[i] !== code.closeBracket) return -1;
  buffer.hasWidth = true;
  storePlace(buffer, at - start, i + 1 - start, raw);
  return i + 1;
}

function readQuaternionInto(
  codes: Uint8Array,
  text: string,
  at: number,
  values: Float64Array,
  slot: number,
): number {
  let i = at;
  let length = 0;
  for (let n = 0; n < 4; n++) {
    i = readNumberInto(codes, text, skipSpace(codes, i + 1), values, slot + n);
    if (i < 0) return -1;
    length += values[slot + n] * values[slot + n];
    i = skipSpace(codes, i);
    if (codes[i] !== (n === 3 ? code.closeBracket : code.comma)) return -1;
  }
  return length > 0 && length <= absurd ? i + 1 : -1;
}

function commaBefore(codes: Uint8Array, at: number): number {
  let i = at - 1;
  while (codes[i] !== code.comma) i--;
  return i;
}
