/*
 * Series of numbers as bytes. A number is rounded to whole grains; what is kept is how far it lies from where the two
 * before it lead, so that what moves evenly costs one byte a number, and the bytes compress well. Seven bits a byte,
 * the lowest first; the eighth says that another byte follows; signs alternate: 0, −1, 1, −2, …
 */

/** Farther from nought, in grains, no number can lie: its differences are whole numbers of 32 bits. */
export const farthest = 2 ** 28;

/**
 * @param series one after the other, each of `count` numbers
 * @param grain what two numbers must differ by to be told apart
 * @throws RangeError where a number is none, or too far off
 */
export function toBytes(series: Float64Array, count: number, grain: number): Uint8Array {
  let bytes = new Uint8Array(2 * series.length + 16);
  let at = 0;
  for (let start = 0; start < series.length; start += count) {
    let [before, last] = [0, 0];
    for (let i = 0; i < count; i++) {
      const value = Math.round(series[start + i] / grain);
      if (!(Math.abs(value) <= farthest)) throw new RangeError(`${series[start + i]} cannot be packed.`);
      const off = value - (i < 2 ? last : 2 * last - before);
      [before, last] = [last, value];
      if (at + 5 > bytes.length) {
        const longer = new Uint8Array(2 * bytes.length);
        longer.set(bytes);
        bytes = longer;
      }
      let rest = off < 0 ? -2 * off - 1 : 2 * off;
      while (rest > 127) {
        bytes[at++] = (rest % 128) | 128;
        rest = Math.floor(rest / 128);
      }
      bytes[at++] = rest;
    }
  }
  return bytes.subarray(0, at);
}

/**
 * @param total how many numbers there are, in series of `count`
 * @throws RangeError where the bytes hold another number of them
 */
export function fromBytes(bytes: Uint8Array, total: number, count: number, grain: number): Float32Array {
  const series = new Float32Array(total);
  let at = 0;
  for (let start = 0; start < total; start += count) {
    let [before, last] = [0, 0];
    for (let i = 0; i < count; i++) {
      let [rest, place, byte] = [0, 1, 128];
      while (byte > 127) {
        if (at >= bytes.length) throw new RangeError("The motion breaks off.");
        byte = bytes[at++];
        rest += (byte & 127) * place;
        place *= 128;
      }
      const off = rest % 2 === 1 ? -(rest + 1) / 2 : rest / 2;
      const value = off + (i < 2 ? last : 2 * last - before);
      [before, last] = [last, value];
      series[start + i] = value * grain;
    }
  }
  if (at !== bytes.length) throw new RangeError("There is more than the motion's points.");
  return series;
}
