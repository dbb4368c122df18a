/** Powers of ten that a double holds exactly. */
const powersOfTen = Float64Array.from({ length: 23 }, (_, exponent) => Number(`1e${exponent}`));

/** Below this a mantissa takes one more decimal digit and stays under 2^53. */
const roomForDigit = 900719925474099;

/**
 * Reads a JSON number at an offset and stores it, exactly as `Number(...)` would read it.
 *
 * A decimal mantissa below 2^53 times or divided by a power of ten up to 10^22 is correctly rounded by one
 * operation, because both operands are exact (W. D. Clinger, "How to read floating point numbers accurately",
 * PLDI 1990); anything else is left to `Number`. The number goes into an array, not out as a result, so that it
 * need not be boxed.
 * @returns the offset just behind the number, or -1 where no JSON number stands
 */
export function readNumberInto(text: string, at: number, out: Float64Array, index: number): number {
  let i = at;
  let c = text.charCodeAt(i);
  const negative = c === 45;
  if (negative) c = text.charCodeAt(++i);
  if (!(c >= 48 && c <= 57)) return -1;
  let mantissa = 0;
  let isShort = true;
  if (c === 48) {
    c = text.charCodeAt(++i);
    if (c >= 48 && c <= 57) return -1;
  } else {
    do {
      if (mantissa < roomForDigit) mantissa = mantissa * 10 + (c - 48);
      else isShort = false;
      c = text.charCodeAt(++i);
    } while (c >= 48 && c <= 57);
  }
  let scale = 0;
  if (c === 46) {
    c = text.charCodeAt(++i);
    if (!(c >= 48 && c <= 57)) return -1;
    do {
      if (mantissa < roomForDigit) {
        mantissa = mantissa * 10 + (c - 48);
        scale--;
      } else isShort = false;
      c = text.charCodeAt(++i);
    } while (c >= 48 && c <= 57);
  }
  if (c === 101 || c === 69) {
    c = text.charCodeAt(++i);
    const isSmall = c === 45;
    if (isSmall || c === 43) c = text.charCodeAt(++i);
    if (!(c >= 48 && c <= 57)) return -1;
    let exponent = 0;
    do {
      if (exponent < 10_000) exponent = exponent * 10 + (c - 48);
      c = text.charCodeAt(++i);
    } while (c >= 48 && c <= 57);
    scale += isSmall ? -exponent : exponent;
  }
  if (isShort && scale >= -22 && scale <= 22) {
    const size = scale < 0 ? mantissa / powersOfTen[-scale] : mantissa * powersOfTen[scale];
    out[index] = negative ? -size : size;
  } else {
    out[index] = Number(text.slice(at, i));
  }
  return i;
}
