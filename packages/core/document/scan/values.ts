import { type Cursor, code, quoted } from "./cursor.ts";
import {
  entryNamesOf,
  innerEntryNamesOf,
  isObjectName,
  isPlainName,
  outerNamesOf,
  pointNamesOf,
  rowLengthOf,
} from "./entries.ts";
import { type ListForm, scanElements, scanMembers, skipNested } from "./members.ts";
import { markAfter, markAt, memberNameAt, startsNumber } from "./recover.ts";
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
        ? scanPlainObject(cursor, path, recorder, depth, false)
        : scanArray(cursor, path, recorder, depth, false);
  } else if (c === code.quote) {
    value = scanString(cursor, path);
  } else if (c === -1) {
    cursor.reportCutOff("a value", path);
    return undefined;
  } else if (c === code.comma || c === code.closeBrace || c === code.closeBracket || c === code.colon) {
    cursor.reportMissing("missing-value", "A value is missing here.", start, path);
    return undefined;
  } else {
    return scanWord(cursor, path);
  }
  if (recorder !== null) note(recorder, path, start, cursor.at);
  return value;
}

/**
 * Reads the value of a member as {@link scanValue} does, also where an opening brace or the whole value is missing and
 * the next name follows.
 */
export function scanMemberValue(
  cursor: Cursor,
  key: string,
  keyStart: number,
  path: string,
  recorder: PlaceRecorder | null,
  depth = 0,
): unknown {
  const c = cursor.skip(path);
  if (depth > 0 && depth < depthLimit && (rowLengthOf(key) !== null || innerEntryNamesOf(key) !== null)) {
    const isUnopened = isListUnopened(cursor, key, c);
    if (isUnopened) reportUnopened(cursor, "[", key, path);
    if (isUnopened || c === code.openBracket)
      return scanInnerList(cursor, key, path, recorder, depth, isUnopened);
  }
  if (c === code.openBracket && isPlainName(key)) return scanFlatList(cursor, path, recorder, depth);
  const isBrace = c === code.openBrace && isPlainName(key) && cursor.isOutdented(cursor.at, keyStart);
  const isName = c === code.quote && depth < depthLimit && memberNameAt(cursor) !== null;
  if (!isBrace && !isName) return scanValue(cursor, path, recorder, depth);
  const start = cursor.at;
  const isPoint = isName && pointNamesOf(key)?.has(memberNameAt(cursor) ?? "") === true;
  if (isBrace || !(isObjectName(key) || isPoint)) {
    cursor.reportMissing("missing-value", `The value of ${quoted(key)} is missing before this.`, start, path);
    return undefined;
  }
  reportUnopened(cursor, "{", key, path);
  return scanPlainObject(cursor, path, recorder, depth, true);
}

/**
 * Whether the value of a member is a list of objects or of rows whose opening bracket is missing: an object stands where
 * the list is due, or a number behind the one bracket that is there.
 */
function isListUnopened(cursor: Cursor, key: string, c: number): boolean {
  if (rowLengthOf(key) === null) return c === code.openBrace;
  return c === code.openBracket && startsNumber(markAt(cursor, markAfter(cursor, cursor.at)));
}

/** Reads a list of objects or of rows within an entry. */
function scanInnerList(
  cursor: Cursor,
  key: string,
  path: string,
  recorder: PlaceRecorder | null,
  depth: number,
  isOpened: boolean,
): unknown[] {
  const start = cursor.at;
  const form = { own: innerEntryNamesOf(key), rowLength: rowLengthOf(key) };
  const list = scanArray(cursor, path, recorder, depth, isOpened, form);
  if (recorder !== null) note(recorder, path, start, cursor.at);
  return list;
}

/** Says that a member's value lacks its opening bracket or brace; the cursor stands where it should be. */
export function reportUnopened(cursor: Cursor, mark: "[" | "{", key: string, path: string): void {
  const { at } = cursor;
  const [code, what] = mark === "[" ? ["missing-bracket", "bracket"] : ["missing-brace", "brace"];
  cursor.reportMissing(
    code,
    `The opening ${what} "${mark}" of ${quoted(key)} is missing before this.`,
    at,
    path,
  );
}

function note(recorder: PlaceRecorder, path: string, start: number, end: number): void {
  recorder.places.set(path, [start - recorder.start, end - recorder.start]);
}

/** Reads an object whose opening brace is missing; the cursor stands at its first member. */
export function scanOpenedObject(cursor: Cursor, path: string): Record<string, unknown> {
  return scanPlainObject(cursor, path, null, 1, true);
}

/**
 * Reads the object whose opening brace is at the cursor.
 * @param isOpened whether the brace is missing, and the cursor stands at the first member
 */
function scanPlainObject(
  cursor: Cursor,
  path: string,
  recorder: PlaceRecorder | null,
  depth: number,
  isOpened: boolean,
): Record<string, unknown> {
  const object: Record<string, unknown> = {};
  const member = (key: string, keyStart: number, keyEnd: number, isUnopened: boolean) => {
    const memberPath = `${path}/${key}`;
    const valueStart = cursor.at;
    const value = isUnopened
      ? scanArray(cursor, memberPath, recorder, depth + 1, true)
      : scanMemberValue(cursor, key, keyStart, memberPath, recorder, depth + 1);
    if (Object.hasOwn(object, key) && !isUnopened) reportTwice(cursor, key, keyStart, keyEnd, memberPath);
    if (value === undefined) return;
    setMember(object, key, value);
    if (recorder !== null && (isUnopened || !recorder.places.has(memberPath)))
      note(recorder, memberPath, valueStart, cursor.at);
  };
  scanMembers(cursor, path, member, isOpened, outerNamesOf(path));
  return object;
}

/** Reads a list of plain values, such as a quaternion, whose opening bracket is at the cursor. */
export function scanFlatList(
  cursor: Cursor,
  path: string,
  recorder: PlaceRecorder | null,
  depth: number,
  most = Number.POSITIVE_INFINITY,
): unknown[] {
  const start = cursor.at;
  const list = scanArray(cursor, path, recorder, depth, false, { isFlat: true, most });
  if (recorder !== null) note(recorder, path, start, cursor.at);
  return list;
}

/**
 * Reads the array whose opening bracket is at the cursor.
 * @param isOpened whether the bracket is missing, and the cursor stands at the first element
 * @param form what else is known of it
 */
export function scanArray(
  cursor: Cursor,
  path: string,
  recorder: PlaceRecorder | null,
  depth: number,
  isOpened: boolean,
  form: ListForm = {},
): unknown[] {
  const array: unknown[] = [];
  const element = (index: number, c: number, isEntryOpened: boolean) => {
    const { rowLength = null } = form;
    const start = cursor.at;
    if (rowLength !== null && (startsNumber(c) || c === code.openBracket)) {
      const rowPath = `${path}/${index}`;
      const isRowOpened = c !== code.openBracket;
      if (isRowOpened) {
        const message = 'The opening bracket "[" of this entry is missing before this.';
        cursor.reportMissing("missing-bracket", message, start, rowPath);
      }
      array.push(scanArray(cursor, rowPath, recorder, depth + 1, isRowOpened, { most: rowLength }));
      if (recorder !== null) note(recorder, rowPath, start, cursor.at);
      return;
    }
    const elementPath = startsNumber(c) ? path : `${path}/${index}`;
    const value = isEntryOpened
      ? scanPlainObject(cursor, elementPath, recorder, depth + 1, true)
      : scanValue(cursor, elementPath, recorder, depth + 1);
    if (isEntryOpened && recorder !== null) note(recorder, elementPath, start, cursor.at);
    array.push(value);
  };
  scanElements(cursor, path, element, {
    own: depth === 0 ? entryNamesOf(path) : null,
    isOpened,
    ...form,
  });
  return array;
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
