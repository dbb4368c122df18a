import { interpolations } from "../model.ts";
import { absurd } from "../terms.ts";
import { nearestName } from "../validate/names.ts";
import { Cursor, code, quoted, quotedValue } from "./cursor.ts";
import { handleStride, inherited, type KeyBuffer, storePlace } from "./key-buffer.ts";
import {
  closeOf,
  closesKeysTooEarly,
  endOfKeyLines,
  markAfter,
  markAt,
  memberNameAt,
  startsNumber,
} from "./recover.ts";
import { scanFlatList, scanOpenedObject, scanValue } from "./values.ts";

const form = "write [frame, value] or [frame, value, { … }]";

/**
 * Reads a key that is broken, or written in an unusual way: keeps it if it can be understood, else says why it is
 * left out. The cursor stands at its opening bracket and is left behind the key.
 * @param isOpened whether that bracket is missing, and the cursor stands at the key's frame
 * @returns whether the key's closing bracket was found
 */
export function scanOddKey(
  cursor: Cursor,
  buffer: KeyBuffer,
  start: number,
  raw: number,
  path: string,
  isOpened = false,
): boolean {
  const at = cursor.at;
  const keyPath = `${path}/${raw}`;
  // What the quick reading may have stored of this key already is not to be kept.
  if (buffer.handled > buffer.count) buffer.handled = buffer.count;
  buffer.modes[buffer.count] = inherited;
  const stop = endOfKeyLines(cursor, at);
  const closes = stop === cursor.end ? cursor.closes : undefined;
  const inside = new Cursor(cursor.text, cursor.codes, at, stop, false, closes);
  if (!isOpened) inside.at++;
  const { value, isClosed } = scanKeyParts(inside, cursor, keyPath, buffer.hasWidth && buffer.width === 4);
  cursor.at = inside.at;
  const end = trimmedEnd(cursor.text, at, inside.at);
  if (!isClosed) {
    if (inside.at >= cursor.end) {
      cursor.reportCutOff("a key", keyPath);
    } else {
      const message =
        'The closing bracket "]" of this key is missing behind this; the key is left out. Add the bracket.';
      cursor.report("missing-bracket", message, end - 1, end, keyPath);
    }
    return false;
  }
  if (isOpened) {
    const message =
      'The opening bracket "[" of this key is missing before this; the key is left out. Add the bracket.';
    cursor.reportMissing("missing-bracket", message, at, keyPath);
    return true;
  }
  const lost = storeOddKey(value, buffer);
  for (const problem of inside.problems) {
    const message = lost === null ? problem.message : `${problem.message} The key is left out.`;
    cursor.report(problem.code, message, problem.start, problem.end, problem.path);
  }
  // A key that is left out is told of once: what its handles should be cannot be said without its value.
  const notes = inside.problems.length > 0 || lost !== null ? [] : notesOf(value);
  for (const note of notes) cursor.report(note.code, note.message, at, end, keyPath);
  if (lost === null) {
    storePlace(buffer, at - start, end - start, raw);
  } else {
    if (lost.code === "value-kind") buffer.mismatches++;
    if (inside.problems.length === 0) cursor.report(lost.code, lost.message, at, end, keyPath);
  }
  return true;
}

const keyNames: ReadonlySet<string> = new Set(["in", "out", "interpolation"]);

/**
 * Reads what stands inside a key, up to and with its closing bracket. A list where a key has none is the next key, and
 * a brace that nothing opened closes the curve: a key without its closing bracket costs no other key.
 * @param cursor stands behind the key's opening bracket, and ends where the next key starts a line
 * @param whole the cursor of the document, to look further
 * @param isQuaternion whether the key is known to hold one
 */
function scanKeyParts(
  cursor: Cursor,
  whole: Cursor,
  path: string,
  isQuaternion: boolean,
): { readonly value: unknown[]; readonly isClosed: boolean } {
  const value: unknown[] = [];
  const start = cursor.at - 1;
  let needsComma = false;
  let valueAt = cursor.at;
  const stop = (isClosed: boolean) => ({ value, isClosed });
  for (;;) {
    const c = cursor.skip(path);
    const at = cursor.at;
    if (c === code.closeBracket) {
      cursor.at++;
      if (isQuaternion && isBareQuaternion(value) && goesOnBehind(whole, at)) {
        const message = 'The opening bracket "[" of the quaternion is missing before this.';
        cursor.reportMissing("missing-bracket", message, valueAt, path);
        value.splice(1, 4, value.slice(1));
        continue;
      }
      return stop(true);
    }
    if (c === -1 || c === code.closeBrace) return stop(false);
    if (c === code.openBracket && value.length !== 1 && !isNested(whole, start, cursor.end))
      return stop(false);
    if (c === code.openBrace && cursor.isOutdented(at, start)) return stop(false);
    if (c === code.comma) {
      if (!needsComma)
        cursor.report("stray-text", "There is a comma too many here; take it out.", at, at + 1, path);
      needsComma = false;
      cursor.at++;
      continue;
    }
    const name = c === code.quote ? memberNameAt(cursor) : null;
    if (name !== null && keyNames.has(name)) {
      cursor.reportMissing("missing-brace", 'The opening brace "{" is missing before this.', at, path);
      value.push(scanOpenedObject(cursor, `${path}/${value.length}`));
    } else {
      if (needsComma) cursor.reportMissing("missing-comma", "A comma is missing before this.", at, path);
      if (value.length === 1) valueAt = at;
      const partPath = startsNumber(c) ? path : `${path}/${value.length}`;
      value.push(
        c === code.openBracket
          ? scanFlatList(cursor, partPath, null, 1, 4)
          : scanValue(cursor, partPath, null),
      );
    }
    if (cursor.at === at) cursor.skipStray(path);
    needsComma = true;
  }
}

/** Whether a list inside a key is its own: the key's bracket is closed, and behind that the list of keys goes on or ends. */
function isNested(cursor: Cursor, start: number, keyEnd: number): boolean {
  const close = markAt(cursor, start) === code.openBracket ? closeOf(cursor, start) : -1;
  if (close < 0) return false;
  if (keyEnd < cursor.end) return close < keyEnd;
  const next = markAfter(cursor, close);
  const c = markAt(cursor, next);
  // Whatever else it holds, a list holds no members: behind the bracket that closes all keys, the curve goes on with one.
  return (
    c === code.closeBracket || (c === code.comma && memberNameAt(cursor, markAfter(cursor, next)) === null)
  );
}

function isBareQuaternion(value: readonly unknown[]): boolean {
  return value.length === 5 && value.every((part) => typeof part === "number");
}

/** Whether a key goes on behind the bracket at an offset, which closes its quaternion. */
function goesOnBehind(cursor: Cursor, at: number): boolean {
  const next = markAfter(cursor, at);
  if (markAt(cursor, next) === code.comma) return markAt(cursor, markAfter(cursor, next)) === code.openBrace;
  return markAt(cursor, next) === code.closeBracket && closesKeysTooEarly(cursor, next);
}

function trimmedEnd(text: string, start: number, end: number): number {
  let i = end;
  while (i > start + 1 && (text.charCodeAt(i - 1) <= 32 || text.charCodeAt(i - 1) === code.comma)) i--;
  return i;
}

interface Lost {
  readonly code: string;
  readonly message: string;
}

/** Stores a key at the end of the buffer, without counting it; says why if it cannot be used. */
function storeOddKey(value: readonly unknown[], buffer: KeyBuffer): Lost | null {
  const [frame, keyValue, extras] = value;
  if (typeof frame === "string") return lost("bad-key", `The frame ${asText(frame, form)}`);
  if (typeof keyValue === "string") {
    return lost("bad-key", `The value ${asText(keyValue, "write a number")}`);
  }
  if (typeof frame !== "number" || keyValue === undefined) return lost("bad-key", `This is no key; ${form}.`);
  const numbers = typeof keyValue === "number" ? [keyValue] : keyValue;
  if (
    !isNumbers(numbers) ||
    (numbers.length !== 1 && numbers.length !== 4) ||
    Array.isArray(keyValue) !== (numbers.length === 4)
  ) {
    return lost("bad-key", "A key's value is a number, or four numbers [x, y, z, w] for a quaternion.");
  }
  if (Math.abs(frame) > absurd || numbers.some((number) => Math.abs(number) > absurd)) {
    return lost("absurd-value", `No motion has numbers beyond ${absurd}; write what was meant.`);
  }
  if (value.length > 3 || (extras !== undefined && !isPlainObject(extras))) {
    return lost("bad-key", `There is something behind the value that a key does not have; ${form}.`);
  }
  const width = numbers.length as 1 | 4;
  if (!buffer.hasWidth) {
    buffer.width = width;
    buffer.hasWidth = true;
  }
  if (width !== buffer.width) {
    const due = buffer.width === 1 ? "one number" : "a quaternion [x, y, z, w]";
    return lost("value-kind", `Each key of this curve holds ${due}; write one here.`);
  }
  if (width === 4 && numbers.every((number) => number === 0)) {
    return lost(
      "zero-quaternion",
      "A quaternion of length zero is no rotation; [0, 0, 0, 1] is no turn at all.",
    );
  }
  buffer.frames[buffer.count] = frame;
  buffer.values.set(numbers, buffer.count * width);
  if (extras !== undefined) storeExtras(extras as Record<string, unknown>, buffer);
  return null;
}

/** What is wrong with a text where a number is due, and what to write: the number in it, or what is due. */
function asText(text: string, due: string): string {
  const isNumber = text.trim() !== "" && Number.isFinite(Number(text));
  return `${quoted(text)} is text; ${isNumber ? `write ${Number(text)}, without the quotes` : due}.`;
}

function lost(name: string, message: string): Lost {
  return { code: name, message: `${message} The key is left out.` };
}

function storeExtras(extras: Readonly<Record<string, unknown>>, buffer: KeyBuffer): void {
  const index = buffer.count;
  const unknown: Record<string, unknown> = {};
  for (const [name, value] of Object.entries(extras)) {
    if (name === "in" || name === "out") {
      const numbers = handleNumbers(value, buffer.width);
      if (numbers === null) continue;
      if (buffer.handled <= index) buffer.openHandles(index);
      const stride = handleStride(buffer.width);
      buffer.handles.set(numbers, index * stride + (name === "out" ? stride / 2 : 0));
    } else if (name === "interpolation") {
      const mode = interpolations.indexOf(value as (typeof interpolations)[number]);
      if (mode < 0) continue;
      buffer.modes[index] = mode;
    } else unknown[name] = value;
  }
  if (Object.keys(unknown).length > 0) {
    buffer.extras ??= new Map();
    buffer.extras.set(index, unknown);
  }
}

/** A handle as stored: frames (NaN for a slope) and value, or four slopes; null where it is none. */
function handleNumbers(value: unknown, width: 1 | 4): readonly number[] | null {
  const numbers = typeof value === "number" ? [Number.NaN, value] : value;
  if (!isNumbers(numbers) || numbers.length !== (width === 1 ? 2 : 4)) return null;
  return numbers.some((number) => Math.abs(number) > absurd) ? null : numbers;
}

/** What is wrong with a key's properties without costing the key. */
function notesOf(value: unknown): Lost[] {
  if (!Array.isArray(value) || !isPlainObject(value[2])) return [];
  const width = typeof value[1] === "number" ? 1 : 4;
  const notes: Lost[] = [];
  for (const [name, given] of Object.entries(value[2])) {
    if (name === "in" || name === "out") {
      if (handleNumbers(given, width) === null) {
        const due =
          width === 1 ? "[frames, value] or a slope" : "a slope of four numbers, quaternions have no others";
        notes.push({
          code: "handle-form",
          message: `"${name}" is no handle: write ${due}. The handle is left out.`,
        });
      }
    } else if (name === "interpolation") {
      if (!interpolations.includes(given as (typeof interpolations)[number])) {
        const near = typeof given === "string" ? nearestName(given, interpolations) : interpolations[1];
        const message = `${quotedValue(given)} is no interpolation; did you mean "${near}"? The key uses the curve's own.`;
        notes.push({ code: "unknown-interpolation", message });
      }
    } else {
      const near = nearestName(name, ["in", "out", "interpolation"]);
      const message = `A key has no property ${quoted(name)}; did you mean "${near}"? It is kept, and not used.`;
      notes.push({ code: "unknown-property", message });
    }
  }
  return notes;
}

function isNumbers(value: unknown): value is number[] {
  return Array.isArray(value) && value.every((number) => typeof number === "number");
}

function isPlainObject(value: unknown): value is Record<string, unknown> {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}
