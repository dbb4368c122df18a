import { interpolations } from "../model.ts";
import { absurd } from "../terms.ts";
import { code } from "./cursor.ts";
import type { KeyBuffer } from "./key-buffer.ts";
import { readNumberInto } from "./number.ts";

const modeNames = interpolations.map((name) => `"${name}"`);

export function skipSpace(codes: Uint8Array, at: number): number {
  let i = at;
  for (;;) {
    const c = codes[i];
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
export function readExtrasInto(
  codes: Uint8Array,
  text: string,
  at: number,
  buffer: KeyBuffer,
  index: number,
): number {
  let i = skipSpace(codes, at + 1);
  for (;;) {
    if (codes[i] !== code.quote) return -1;
    const letter = codes[i + 1];
    if (letter === 105 && codes[i + 2] === 110 && codes[i + 3] === code.quote) {
      i = colonAfter(codes, i + 4);
      if (i < 0) return -1;
      i = readHandleInto(codes, text, i, buffer, index, 0);
    } else if (
      letter === 111 &&
      codes[i + 2] === 117 &&
      codes[i + 3] === 116 &&
      codes[i + 4] === code.quote
    ) {
      i = colonAfter(codes, i + 5);
      if (i < 0) return -1;
      i = readHandleInto(codes, text, i, buffer, index, 1);
    } else if (text.startsWith('interpolation"', i + 1)) {
      i = colonAfter(codes, i + 15);
      if (i < 0) return -1;
      i = readModeInto(text, i, buffer, index);
    } else return -1;
    if (i < 0) return -1;
    i = skipSpace(codes, i);
    const c = codes[i];
    if (c === code.closeBrace) return i + 1;
    if (c !== code.comma) return -1;
    i = skipSpace(codes, i + 1);
  }
}

function colonAfter(codes: Uint8Array, at: number): number {
  const i = skipSpace(codes, at);
  return codes[i] === code.colon ? skipSpace(codes, i + 1) : -1;
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
function readHandleInto(
  codes: Uint8Array,
  text: string,
  at: number,
  buffer: KeyBuffer,
  index: number,
  side: 0 | 1,
): number {
  if (buffer.handled <= index) buffer.openHandles(index);
  const { handles } = buffer;
  const count = buffer.width === 1 ? 2 : 4;
  const slot = index * count * 2 + side * count;
  if (codes[at] !== code.openBracket) {
    if (count === 4) return -1;
    handles[slot] = Number.NaN;
    const end = readNumberInto(codes, text, at, handles, slot + 1);
    return Math.abs(handles[slot + 1]) <= absurd ? end : -1;
  }
  let i = at;
  for (let n = 0; n < count; n++) {
    i = readNumberInto(codes, text, skipSpace(codes, i + 1), handles, slot + n);
    if (i < 0 || !(Math.abs(handles[slot + n]) <= absurd)) return -1;
    i = skipSpace(codes, i);
    if (codes[i] !== (n === count - 1 ? code.closeBracket : code.comma)) return -1;
  }
  return i + 1;
}
