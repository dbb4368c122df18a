import { quoted } from "../scan/cursor.ts";

/** What a value is, in words for a message. */
export function kindOf(value: unknown): string {
  if (value === null) return "null";
  if (Array.isArray(value)) return value.length === 1 ? "a list of one" : `a list of ${value.length}`;
  if (typeof value === "string") return `the text ${quoted(value)}`;
  if (typeof value === "object") return "an object";
  return String(value);
}

/** The value at a path of member names and positions, undefined where there is none. */
export function valueAtPath(root: unknown, path: readonly PropertyKey[]): unknown {
  let value = root;
  for (const step of path) {
    if (typeof value !== "object" || value === null) return undefined;
    value = (value as Record<PropertyKey, unknown>)[step];
  }
  return value;
}
