import { interpolations } from "../model.ts";
import { nearestName } from "../validate/names.ts";
import { Cursor, code, quoted } from "./cursor.ts";
import { handleStride, inherited, type KeyBuffer, storePlace } from "./key-buffer.ts";
import { absurd } from "./key-extras.ts";
import { scanValue } from "./values.ts";

const form = "write [frame, value] or [frame, value, { … }]";

/**
 * Reads a key that is broken, or written in an unusual way: keeps it if it can be understood, else says why it is
 * left out. The cursor stands at its opening bracket and is left behind the key.
 * @returns whether the key's closing bracket was found
 */
export function scanOddKey(
  cursor: Cursor,
  buffer: KeyBuffer,
  start: number,
  raw: number,
  path: string,
): boolean {
  const at = cursor.at;
  const keyPath = `${path}/${raw}`;
  // What the quick reading may have stored of this key already is not to be kept.
  if (buffer.handled > buffer.count) buffer.handled = buffer.count;
  buffer.modes[buffer.count] = inherited;
  const isClosed = findKeyEnd(cursor);
  const end = trimmedEnd(cursor.text, at, cursor.at);
  if (!isClosed) {
    if (cursor.at >= cursor.end) {
      cursor.reportCutOff("a key", keyPath);
    } else {
      const message = 'The closing bracket "]" of this key is missing; the key is left out. Add the bracket.';
      cursor.report("missing-bracket", message, at, end, keyPath);
    }
    return false;
  }
  const inside = new Cursor(cursor.text, cursor.codes, at, cursor.at);
  const value = scanValue(inside, keyPath, null) as unknown[];
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

/**
 * Moves the cursor behind the key at it. A bracket that starts a line is taken for the next key, and a brace that
 * nothing opened for the curve's end, so that a key without its closing bracket costs no other key.
 * @returns whether the key's closing bracket was found
 */
function findKeyEnd(cursor: Cursor): boolean {
  const { text, end } = cursor;
  let brackets = 0;
  let braces = 0;
  let startsLine = false;
  for (let i = cursor.at; i < end; i++) {
    const c = text.charCodeAt(i);
    if (c === 10 || c === 13) startsLine = true;
    else if (c === code.openBracket) {
      if (startsLine && brackets > 0 && braces === 0 && lineIsKey(text, i, end)) return stopAt(cursor, i);
      brackets++;
      startsLine = false;
    } else if (c === code.closeBracket) {
      if (--brackets <= 0) {
        cursor.at = i + 1;
        return true;
      }
      startsLine = false;
    } else if (c === code.openBrace) {
      braces++;
      startsLine = false;
    } else if (c === code.closeBrace) {
      if (--braces < 0) return stopAt(cursor, i);
      startsLine = false;
    } else if (c === code.quote) {
      i++;
      while (i < end && text.charCodeAt(i) !== code.quote && text.charCodeAt(i) !== 10) {
        i += text.charCodeAt(i) === code.backslash ? 2 : 1;
      }
      startsLine = false;
    } else if (c !== 32 && c !== 9) startsLine = false;
  }
  cursor.at = end;
  return false;
}

function stopAt(cursor: Cursor, at: number): false {
  cursor.at = at;
  return false;
}

/** Whether the bracket is followed by a number on its line: a key of its own, not a list set apart in pretty print. */
function lineIsKey(text: string, at: number, end: number): boolean {
  let i = at + 1;
  while (i < end && text.charCodeAt(i) === 32) i++;
  if (i >= end) return false;
  const c = text.charCodeAt(i);
  return c === code.minus || (c >= 48 && c <= 57);
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
        const message = `${quoted(String(given))} is no interpolation; did you mean "${near}"? The key uses the curve's own.`;
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
