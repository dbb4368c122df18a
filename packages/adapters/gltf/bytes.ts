const alphabet = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";

/** Base64 text (RFC 4648) of bytes. */
export function base64Of(bytes: Uint8Array): string {
  const pieces: string[] = [];
  for (let at = 0; at < bytes.length; at += 3) {
    const [a, b = 0, c = 0] = bytes.subarray(at, at + 3);
    const group = (a << 16) | (b << 8) | c;
    const digits = [18, 12, 6, 0].map((shift) => alphabet[(group >> shift) & 63]);
    const left = bytes.length - at;
    pieces.push(
      digits
        .slice(0, Math.min(4, left + 1))
        .join("")
        .padEnd(4, "="),
    );
  }
  return pieces.join("");
}

/** Bytes of base64 text (RFC 4648), null where it is none. */
export function bytesOfBase64(text: string): Uint8Array | null {
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

/** Bytes of a data URI (RFC 2397) in base64; null where it is none. */
export function bytesOfDataUri(uri: string): Uint8Array | null {
  const head = /^data:[^,]*;base64,/i.exec(uri);
  return head === null ? null : bytesOfBase64(uri.slice(head[0].length));
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

/** The JSON of a file of either kind. */
export function jsonOf(bytes: Uint8Array): string {
  return chunksOf(bytes)?.json ?? textOf(bytes);
}

/** Whether bytes begin as a binary glTF file does. */
export function isBinaryGltf(head: Uint8Array): boolean {
  return head.length >= 12 && [0x67, 0x6c, 0x54, 0x46].every((byte, i) => head[i] === byte);
}

/** What keeps a binary glTF file from being read, as a sentence; null where nothing in its header does, or it is none. */
export function faultOfHeader(bytes: Uint8Array): string | null {
  if (!isBinaryGltf(bytes)) return null;
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const [version, length] = [view.getUint32(4, true), view.getUint32(8, true)];
  if (version !== 2)
    return `This is binary glTF of version ${version}; version 2 is read. Save it as glTF 2.0.`;
  return length > bytes.length
    ? `The file ends after ${bytes.length} of its ${length} bytes; it was cut short.`
    : null;
}

/** UTF-8 as text. */
export function textOf(bytes: Uint8Array): string {
  return new TextDecoder().decode(bytes);
}
