import { type Cursor, code, quoted } from "./cursor.ts";
import { scanString, scanWord } from "./words.ts";

/** Where values stand, by path; offsets count from `start`. */
export interface Segment {
  readonly start: number;
  readonly end: number;
  readonly places: ReadonlyMap<string, readonly [number, number]>;
}

/** Collects places while values are read. */
export interface PlaceRecorder {
  readonly start: number;
  readonly places: Map<string, readonly [number, number]>;
}

/** Deeper nesting than this is no curve document. */
const depthLimit = 64;

/**
 * Reads a JSON value tolerantly: what is wrong is reported, what can be read is given.
 * @param recorder where to note the places of members and elements; numbers inside arrays are left out
 * @returns a plain value, or undefined where none could be read
 */
export function scanValue(cursor: Cursor, path: string, recorder: PlaceRecorder | null, depth = 0): unknown {
  const c = cursor.skip(path);
  const start = cursor.at;
  let value: unknown;
  if (c === code.openBrace || c === code.openBracket) {
    if (depth >= depthLimit) {
      cursor.report(
        "too-deep",
        "Brackets are nested too deeply here; this is left out.",
        start,
        start + 1,
        path,
      );
      skipNested(cursor, path);
      return undefined;
    }
    value =
      c === code.openBrace
        ? scanPlainObject(cursor, path, recorder, depth)
        : scanArray(cursor, path, recorder, depth);
  } else if (c === code.quote) {
    value = scanString(cursor, path);
  } else if (c === -1) {
    cursor.reportCutOff("a value", path);
    return undefined;
  } else if (c === code.comma || c === code.closeBrace || c === code.closeBracket || c === code.colon) {
    cursor.report("missing-value", "A value is missing here.", start, start + 1, path);
    return undefined;
  } else {
    return scanWord(cursor, path);
  }
  if (recorder !== null) note(recorder, path, start, cursor.at);
  return value;
}

function note(recorder: PlaceRecorder, path: string, start: number, end: number): void {
  recorder.places.set(path, [start - recorder.start, end - recorder.start]);
}

/**
 * Reads the members of an object whose opening brace is at the cursor, and leaves the cursor behind the object.
 * @param member reads one member's value; the cursor stands in front of it
 * @returns whether the object's closing brace was found
 */
export function scanMembers(
  cursor: Cursor,
  path: string,
  member: (key: string, keyStart: number, keyEnd: number) => void,
): boolean {
  cursor.at++;
  let needsComma = false;
  let lastComma = -1;
  for (;;) {
    const c = cursor.skip(path);
    const at = cursor.at;
    if (c === code.closeBrace) {
      if (lastComma >= 0) reportTrailingComma(cursor, lastComma, path);
      cursor.at++;
      return true;
    }
    if (c === -1) {
      cursor.reportCutOff("an object", path);
      return false;
    }
    if (c === code.quote) {
      if (needsComma) cursor.report("missing-comma", "A comma is missing before this.", at, at + 1, path);
      lastComma = -1;
      const key = scanString(cursor, path);
      const keyEnd = cursor.at;
      if (cursor.skip(path) === code.colon) cursor.at++;
      else if (cursor.at < cursor.end) {
        cursor.report("missing-colon", `A colon is missing behind ${quoted(key)}.`, at, keyEnd, path);
      }
      member(key, at, keyEnd);
      needsComma = true;
    } else if (c === code.comma) {
      if (!needsComma)
        cursor.report("stray-text", "There is a comma too many here; take it out.", at, at + 1, path);
      needsComma = false;
      lastComma = at;
      cursor.at++;
    } else if (c === code.closeBracket || c === code.openBrace) {
      cursor.report("missing-brace", 'A closing brace "}" is missing before this.', at, at + 1, path);
      // The comma in front of the next entry of a list is the list's.
      if (c === code.openBrace && lastComma >= 0) cursor.at = lastComma;
      return false;
    } else if (c === code.openBracket) {
      cursor.report("stray-text", "This list has no name; give it one, or take it out.", at, at + 1, path);
      scanValue(cursor, path, null, 1);
      needsComma = true;
    } else {
      cursor.skipStray(path);
    }
  }
}

/**
 * Reads the elements of an array whose opening bracket is at the cursor, and leaves the cursor behind the array.
 * @param element reads one element, given its position; it must move the cursor on
 */
export function scanElements(
  cursor: Cursor,
  path: string,
  element: (index: number, c: number) => void,
): void {
  cursor.at++;
  let index = 0;
  let needsComma = false;
  let lastComma = -1;
  for (;;) {
    const c = cursor.skip(path);
    const at = cursor.at;
    if (c === code.closeBracket) {
      if (lastComma >= 0) reportTrailingComma(cursor, lastComma, path);
      cursor.at++;
      return;
    }
    if (c === -1) {
      cursor.reportCutOff("a list", path);
      return;
    }
    if (c === code.comma) {
      if (!needsComma)
        cursor.report("stray-text", "There is a comma too many here; take it out.", at, at + 1, path);
      needsComma = false;
      lastComma = at;
      cursor.at++;
    } else if (c === code.closeBrace || (c === code.quote && isMember(cursor))) {
      cursor.report("missing-bracket", 'A closing bracket "]" is missing before this.', at, at + 1, path);
      return;
    } else if (c === code.colon) {
      cursor.skipStray(path);
    } else {
      if (needsComma) cursor.report("missing-comma", "A comma is missing before this.", at, at + 1, path);
      lastComma = -1;
      element(index++, c);
      if (cursor.at === at) cursor.skipStray(path);
      needsComma = true;
    }
  }
}

/** Whether the string at the cursor is followed by a colon, so that it names a member. */
function isMember(cursor: Cursor): boolean {
  const { text, end } = cursor;
  let i = cursor.at + 1;
  while (i < end) {
    const c = text.charCodeAt(i);
    if (c === code.quote || c === 10 || c === 13) break;
    i += c === code.backslash ? 2 : 1;
  }
  i++;
  while (i < end && (text.charCodeAt(i) === 32 || text.charCodeAt(i) === 9)) i++;
  return i < end && text.charCodeAt(i) === code.colon;
}

function scanPlainObject(
  cursor: Cursor,
  path: string,
  recorder: PlaceRecorder | null,
  depth: number,
): Record<string, unknown> {
  const object: Record<string, unknown> = {};
  scanMembers(cursor, path, (key, keyStart, keyEnd) => {
    const memberPath = `${path}/${key}`;
    cursor.skip(memberPath);
    const valueStart = cursor.at;
    const value = scanValue(cursor, memberPath, recorder, depth + 1);
    if (Object.hasOwn(object, key)) reportTwice(cursor, key, keyStart, keyEnd, memberPath);
    if (value === undefined) return;
    setMember(object, key, value);
    if (recorder !== null && !recorder.places.has(memberPath))
      note(recorder, memberPath, valueStart, cursor.at);
  });
  return object;
}

/** Sets a member, also one with the name of an accessor of all objects. */
export function setMember(object: Record<string, unknown>, key: string, value: unknown): void {
  if (key !== "__proto__") object[key] = value;
  else Object.defineProperty(object, key, { value, enumerable: true, configurable: true, writable: true });
}

export function reportTwice(cursor: Cursor, key: string, start: number, end: number, path: string): void {
  const message = `${quoted(key)} is given twice; the last one is used. Take one out.`;
  cursor.report("duplicate-property", message, start, end, path);
}

function scanArray(cursor: Cursor, path: string, recorder: PlaceRecorder | null, depth: number): unknown[] {
  const array: unknown[] = [];
  scanElements(cursor, path, (index, c) => {
    const isPlainNumber = c === code.minus || (c >= 48 && c <= 57);
    const elementPath = isPlainNumber ? path : `${path}/${index}`;
    array.push(scanValue(cursor, elementPath, recorder, depth + 1));
  });
  return array;
}

function reportTrailingComma(cursor: Cursor, at: number, path: string): void {
  cursor.report("trailing-comma", "There is a comma behind the last entry; take it out.", at, at + 1, path);
}

/** Passes over a bracketed value without looking into it, however deep it is. */
function skipNested(cursor: Cursor, path: string): void {
  let depth = 0;
  while (cursor.at < cursor.end) {
    const c = cursor.text.charCodeAt(cursor.at);
    if (c === code.quote) {
      scanString(cursor, path);
      continue;
    }
    cursor.at++;
    if (c === code.openBrace || c === code.openBracket) depth++;
    else if ((c === code.closeBrace || c === code.closeBracket) && --depth === 0) return;
  }
  cursor.reportCutOff("a value", path);
}
