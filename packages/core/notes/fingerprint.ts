/**
 * A short text by which a note is known again in a later version.
 *
 * It is made of what re-timing and moved lines leave alone: the check, the figure, the node, the causing channel and
 * the value of the causing key. Frames and line numbers are not in it.
 */
export function fingerprintOf(parts: readonly (string | number)[]): string {
  // FNV-1a, 64 bits in two halves: no cryptography is needed, and it is the same in every place where core runs.
  let low = 0x811c9dc5;
  let high = 0xcbf29ce4;
  const text = parts.map((part) => (typeof part === "number" ? part.toPrecision(5) : part)).join("\u0000");
  for (let i = 0; i < text.length; i++) {
    const code = text.charCodeAt(i);
    low = Math.imul(low ^ code, 0x01000193);
    high = Math.imul(high ^ (code + i), 0x01000193) ^ (low >>> 13);
  }
  return hex(high) + hex(low);
}

function hex(half: number): string {
  return (half >>> 0).toString(16).padStart(8, "0");
}
