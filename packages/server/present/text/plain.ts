/*
 * Text as a terminal gets it. Names come from files, and files from anybody: what would move the cursor, begin a line or
 * turn the direction of what follows is spelled out, so that no name can look like a line of the report.
 */

/** Control characters, separators of lines, and marks of direction (Unicode Standard Annex 9). */
const acting = /[\p{Cc}\u2028\u2029\u200e\u200f\u061c\u202a-\u202e\u2066-\u2069]/gu;

/** Longer texts help nobody on a terminal; common practice. */
const longest = 1000;

/** A text on one line, with nothing in it that acts, and no longer than can be read. */
export function plainText(text: string): string {
  const short =
    text.length <= longest ? text : `${text.slice(0, longest - 40)}… (${text.length} characters in all)`;
  return short.replace(acting, (char) => `\\u${char.charCodeAt(0).toString(16).padStart(4, "0")}`);
}

/** The same of every text in a value of plain data. */
export function plainTexts<T>(value: T): T {
  if (typeof value === "string") return plainText(value) as T;
  if (Array.isArray(value)) return value.map(plainTexts) as T;
  // Series and maps hold no names.
  if (typeof value !== "object" || value === null || Object.getPrototypeOf(value) !== Object.prototype)
    return value;
  return Object.fromEntries(
    Object.entries(value).map(([name, member]) => [plainText(name), plainTexts(member)]),
  ) as T;
}

/** A line as it is said on stderr: the line end at its end stays, nothing else in it acts. */
export function plainLine(line: string): string {
  return line.endsWith("\n") ? `${plainText(line.slice(0, -1))}\n` : plainText(line);
}
