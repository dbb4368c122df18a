import { interpolations } from "../model.ts";
import { code } from "./cursor.ts";
import type { KeyBuffer } from "./key-buffer.ts";
import { readNumberInto } from "./number.ts";

/** Larger numbers than this are no motion: a slip of the pen, or a broken exporter. */
export const absurd = 1e12;

const modeNames = interpolations.map((name) => `"${name}"`);

export function skipSpace(text: string, at: number): number {
  let i = at;
  for (;;) {
    const c = text.charCodeAt(i);
    if (c === 32 || c === 10 || c === 13 || c === 9) i++;
    else return i;
  }
}

/**
 * Reads a key's `{ in, out, interpolation }` straight into the buffer.
 * @param at offset of the opening brace
 * @param index the key's position in the buffer
 * @returns the offset behind the closing brace; -1 where anything is unusual and has to be looked at slowly
 */
export function readExtrasInto(text: string, at: number, buffer: KeyBuffer, index: number): number {
  let i = skipSpace(text, at + 1);
  for (;;) {
    if (text.charCodeAt(i) !== code.quote) return -1;
    if (text.startsWith('in"', i + 1)) {
      i = colonAfter(text, i + 4);
      if (i < 0) return -1;
      i = readHandleInto(text, i, buffer, index, 0);
    } else if (text.startsWith('out"', i + 1)) {
      i = colonAfter(text, i + 5);
      if (i < 0) return -1;
      i = readHandleInto(text, i, buffer, index, 1);
    } else if (text.startsWith('interpolation"', i + 1)) {
      i = colonAfter(text, i + 15);
      if (i < 0) return -1;
      i = readModeInto(text, i, buffer, index);
    } else return -1;
    if (i < 0) return -1;
    i = skipSpace(text, i);
    const c = text.charCodeAt(i);
    if (c === code.closeBrace) return i + 1;
    if (c !== code.comma) return -1;
    i = skipSpace(text, i + 1);
  }
}

function colonAfter(text: string, at: number): number {
  const i = skipSpace(text, at);
  return text.charCodeAt(i) === code.colon ? skipSpace(text, i + 1) : -1;
}

function readModeInto(text: string, at: number, buffer: KeyBuffer, index: number): number {
  for (let mode = 0; mode < modeNames.length; mode++) {
    const name = modeNames[mode];
    if (!text.startsWith(name, at)) continue;
    buffer.modes[index] = mode;
    return at + name.length;
  }
  return -1;
}

/** @param side 0 for the in handle, 1 for the out handle */
function readHandleInto(text: string, at: number, buffer: KeyBuffer, index: number, side: 0 | 1): number {
  if (buffer.handled <= index) buffer.openHandles(index);
  const { handles } = buffer;
  const count = buffer.width === 1 ? 2 : 4;
  const slot = index * count * 2 + side * count;
  if (text.charCodeAt(at) !== code.openBracket) {
    if (count === 4) return -1;
    handles[slot] = Number.NaN;
    const end = readNumberInto(text, at, handles, slot + 1);
    return Math.abs(handles[slot + 1]) <= absurd ? end : -1;
  }
  let i = at;
  for (let n = 0; n < count; n++) {
    i = readNumberInto(text, skipSpace(text, i + 1), handles, slot + n);
    if (i < 0 || !(Math.abs(handles[slot + n]) <= absurd)) return -1;
    i = skipSpace(text, i);
    if (text.charCodeAt(i) !== (n === count - 1 ? code.closeBracket : code.comma)) return -1;
  }
  return i + 1;
}
