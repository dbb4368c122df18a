/** Powers of ten that a double holds exactly. */
const powersOfTen = Float64Array.from({ length: 23 }, (_, exponent) => Number(`1e${exponent}`));

/** Below this a mantissa takes one more decimal digit and stays under 2^53. */
const roomForDigit = 900719925474099;

/**
 * Reads a JSON number at an offset and stores it, exactly as `Number(...)` would read it.
 *
 * A decimal mantissa below 2^53 times or divided by a power of ten up to 10^22 is correctly rounded by one
 * operation, because both operands are exact (W. D. Clinger, "How to read floating point numbers accurately",
 * PLDI 1990); a few more digits, as captured motion has them, take {@link longQuotient}; anything else is left to
 * `Number`. The number goes into an array, not out as a result, so that it
 * need not be boxed.
 * @param codes the text's characters, see codes.ts
 * @returns the offset just behind the number, or -1 where no JSON number stands
 */
export function readNumberInto(
  codes: Uint8Array,
  text: string,
  at: number,
  out: Float64Array,
  index: number,
): number {
  let i = at;
  let c = codes[i];
  const negative = c === 45;
  if (negative) c = codes[++i];
  if (!(c >= 48 && c <= 57)) return -1;
  let mantissa = 0;
  // Digits for which the mantissa has no room.
  let rest = 0;
  let restDigits = 0;
  if (c === 48) {
    c = codes[++i];
    if (c >= 48 && c <= 57) return -1;
  } else {
    do {
      if (mantissa < roomForDigit) mantissa = mantissa * 10 + (c - 48);
      else {
        rest = rest * 10 + (c - 48);
        restDigits++;
      }
      c = codes[++i];
    } while (c >= 48 && c <= 57);
  }
  let scale = 0;
  if (c === 46) {
    c = codes[++i];
    if (!(c >= 48 && c <= 57)) return -1;
    do {
      if (mantissa < roomForDigit) {
        mantissa = mantissa * 10 + (c - 48);
      } else {
        rest = rest * 10 + (c - 48);
        restDigits++;
      }
      scale--;
      c = codes[++i];
    } while (c >= 48 && c <= 57);
  }
  if (c === 101 || c === 69) {
    c = codes[++i];
    const isSmall = c === 45;
    if (isSmall || c === 43) c = codes[++i];
    if (!(c >= 48 && c <= 57)) return -1;
    let exponent = 0;
    do {
      if (exponent < 10_000) exponent = exponent * 10 + (c - 48);
      c = codes[++i];
    } while (c >= 48 && c <= 57);
    scale += isSmall ? -exponent : exponent;
  }
  let size = Number.NaN;
  if (restDigits === 0) {
    if (scale >= -22 && scale <= 22) {
      size = scale < 0 ? mantissa / powersOfTen[-scale] : mantissa * powersOfTen[scale];
    }
  } else if (scale <= 0 && scale >= -22 && restDigits <= 6) {
    size = longQuotient(mantissa, rest, powersOfTen[restDigits], powersOfTen[-scale]);
  }
  if (Number.isNaN(size)) out[index] = Number(text.slice(at, i));
  else out[index] = negative ? -size : size;
  return i;
}

/**
 * (head · shift + rest) / divisor, correctly rounded; NaN where that is not certain. All four are exact integers.
 *
 * Numerator and quotient are carried as sums of two doubles (T. J. Dekker, "A floating-point technique for extending
 * the available precision", Numerische Mathematik 18, 1971), whose error stays below 2^-100 of the quotient. The sum
 * is rounded once; where a margin of 1e-29 of it could change that rounding, the caller has to look more closely.
 */
function longQuotient(head: number, rest: number, shift: number, divisor: number): number {
  const product = head * shift;
  const productTail = productError(head, shift, product);
  const high = product + rest;
  const low = rest - (high - product) + productTail;
  const quotient = high / divisor;
  const back = quotient * divisor;
  const remainder = high - back - productError(quotient, divisor, back) + low;
  const correction = remainder / divisor;
  const margin = quotient * 1e-29;
  const size = quotient + (correction - margin);
  return size === quotient + (correction + margin) ? size : Number.NaN;
}

/** What a · b is more than the rounded product (Dekker, with Veltkamp's splitting). */
function productError(a: number, b: number, product: number): number {
  const wideA = a * 134217729;
  const highA = wideA - (wideA - a);
  const lowA = a - highA;
  const wideB = b * 134217729;
  const highB = wideB - (wideB - b);
  const lowB = b - highB;
  return lowA * lowB - (product - highA * highB - lowA * highB - highA * lowB);
}
