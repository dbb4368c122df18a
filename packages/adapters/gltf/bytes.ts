/** In Node and in browsers; declared here because this package is compiled without either's types. */
declare const TextDecoder: new () => { decode(bytes: Uint8Array): string };

/** Bytes of base64 text (RFC 4648), null where it is none. */
export function bytesOfBase64(text: string): Uint8Array | null {
  const alphabet = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
  const digits = text.replace(/[\s=]+/g, "");
  if (digits.length % 4 === 1) return null;
  const bytes = new Uint8Array(Math.floor((digits.length * 3) / 4));
  let bits = 0;
  let count = 0;
  let at = 0;
  for (const digit of digits) {
    const value = alphabet.indexOf(digit);
    if (value < 0) return null;
    bits = ((bits << 6) | value) & 0xffffff;
    count += 6;
    if (count < 8) continue;
    count -= 8;
    bytes[at++] = bits >> count;
  }
  return bytes;
}

/** The two chunks of a binary glTF file; null where the bytes are none. glTF 2.0 specification, section 4.4. */
export function chunksOf(bytes: Uint8Array): { json: string; binary: Uint8Array | null } | null {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  if (bytes.length < 20 || view.getUint32(0, true) !== 0x46546c67) return null;
  let json: string | null = null;
  let binary: Uint8Array | null = null;
  for (let at = 12; at + 8 <= bytes.length; ) {
    const length = view.getUint32(at, true);
    const chunk = bytes.subarray(at + 8, at + 8 + length);
    const kind = view.getUint32(at + 4, true);
    if (kind === 0x4e4f534a) json ??= textOf(chunk);
    else if (kind === 0x004e4942) binary ??= chunk;
    at += 8 + length;
  }
  return json === null ? null : { json, binary };
}

/** UTF-8 as text. */
export function textOf(bytes: Uint8Array): string {
  return new TextDecoder().decode(bytes);
}
