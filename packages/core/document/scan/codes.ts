interface Encoder {
  encode(text: string): Uint8Array;
  encodeInto(text: string, into: Uint8Array): { read: number; written: number };
}
// In every browser and in Node; declared here so that core needs the types of neither.
declare const TextEncoder: new () => Encoder;

const encoder = new TextEncoder();

/**
 * The characters of a text as bytes, one per UTF-16 unit: ASCII as it is, anything else as 128; zeros follow.
 *
 * Numbers and brackets are ASCII, and reading a typed array is cheaper than `charCodeAt`, which has to look at the
 * kind of string each time (a document of 72,000 keys: 7 ms against 12 ms, Node 20).
 */
export function codesOf(text: string): Uint8Array {
  const codes = new Uint8Array(text.length + 16);
  const { read, written } = encoder.encodeInto(text, codes);
  if (read === text.length && written === text.length) return codes;
  const bytes = encoder.encode(text);
  codes.fill(0, text.length);
  let unit = 0;
  for (let i = 0; i < bytes.length; ) {
    const byte = bytes[i];
    if (byte < 128) {
      codes[unit++] = byte;
      i++;
    } else {
      codes[unit++] = 128;
      if (byte >= 0xf0) codes[unit++] = 128;
      i += byte >= 0xf0 ? 4 : byte >= 0xe0 ? 3 : 2;
    }
  }
  return codes;
}
