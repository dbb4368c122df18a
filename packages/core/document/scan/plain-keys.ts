import { absurd } from "../terms.ts";
import { code } from "./cursor.ts";
import { inherited, type KeyBuffer } from "./key-buffer.ts";
import { readNumberInto } from "./number.ts";

/**
 * Reads a run of keys `[frame, value],` with one number each and nothing else, ascending: most keys there are. Kept in
 * one loop over local variables, which takes two thirds of the time of reading them one by one.
 * @param at offset of the first key's opening bracket
 * @param start offset from which the places of keys count
 * @param raw position of the first key in the document's list
 * @returns the offset of the opening bracket of the first key that is not read, or that follows the last one's comma
 */
export function readPlainKeys(
  codes: Uint8Array,
  text: string,
  at: number,
  buffer: KeyBuffer,
  start: number,
  raw: number,
): number {
  const { frames, values, modes, keyStart, keyEnd, rawIndex } = buffer;
  const shift = raw - buffer.count;
  const capacity = buffer.capacity - 1;
  let { count } = buffer;
  let previous = count === 0 ? Number.NEGATIVE_INFINITY : frames[count - 1];
  let key = at;
  while (count < capacity) {
    let i = key + 1;
    let c = codes[i];
    // Whole positive frames up to eight digits, as nearly all are.
    let frame = 0;
    const digits = i;
    while (c >= 48 && c <= 57) {
      frame = frame * 10 + (c - 48);
      c = codes[++i];
    }
    if (i === digits || i - digits > 8 || c !== code.comma || codes[digits] === 48) break;
    c = codes[++i];
    if (c === 32) c = codes[++i];
    i = readNumberInto(codes, text, i, values, count);
    if (i < 0 || codes[i] !== code.closeBracket) break;
    const value = values[count];
    if (!(frame > previous && value <= absurd && value >= -absurd)) break;
    i++;
    frames[count] = frame;
    previous = frame;
    modes[count] = inherited;
    keyStart[count] = key - start;
    keyEnd[count] = i - start;
    rawIndex[count] = count + shift;
    if (codes[i] !== code.comma) {
      // The last of the list, or something is missing: the key is read again where that is looked at.
      break;
    }
    count++;
    do c = codes[++i];
    while (c === 32 || c === 10 || c === 13 || c === 9);
    key = i;
    if (c !== code.openBracket) break;
  }
  buffer.count = count;
  return key;
}
