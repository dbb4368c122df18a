import { gunzipSync, gzipSync } from "node:zlib";

/** Bytes of the largest result that is kept or believed: thousands of notes. */
export const largestResult = 64_000_000;

/** A result as it is kept: its own key and its text, compressed; the compression's checksum tells a damaged one. */
export function packedResult(key: string, text: string): Uint8Array {
  return gzipSync(`${key}\n${text}`, { level: 1 });
}

/** The text of a kept result; null where it is damaged, or another key's. */
export function unpackedResult(key: string, bytes: Uint8Array): string | null {
  try {
    const text = gunzipSync(bytes, { maxOutputLength: largestResult }).toString("utf8");
    return text.startsWith(`${key}\n`) ? text.slice(key.length + 1) : null;
  } catch {
    return null;
  }
}
