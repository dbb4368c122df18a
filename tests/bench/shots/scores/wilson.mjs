// @ts-check
/** A share with the range in which it lies in 95 of 100 samples of its size. */

/** Two-sided 95 % point of the normal distribution. */
const z = 1.959963984540054;

/**
 * Wilson's score interval (E. B. Wilson 1927, Journal of the American Statistical Association 22, 209–212; the formula from memory).
 * @param {number} hits @param {number} of
 * @returns {[number, number]} both ends; 0 to 1 where there is no sample
 */
export function wilson(hits, of) {
  if (of === 0) return [0, 1];
  const share = hits / of;
  const spread = z * Math.sqrt((share * (1 - share)) / of + (z * z) / (4 * of * of));
  const middle = share + (z * z) / (2 * of);
  const scale = 1 + (z * z) / of;
  return [Math.max(0, (middle - spread) / scale), Math.min(1, (middle + spread) / scale)];
}
