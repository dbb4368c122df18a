/** A number in the fewest digits that read back as it. */
export function numberText(number: number): string {
  return Object.is(number, -0) ? "-0" : String(number);
}

/** A value as JSON on one line; members that are undefined are left out. */
export function inlineText(value: unknown): string {
  if (typeof value === "number") return numberText(value);
  if (Array.isArray(value)) return `[${value.map(inlineText).join(", ")}]`;
  if (typeof value === "object" && value !== null) {
    const members = Object.entries(value).filter(([, member]) => member !== undefined);
    if (members.length === 0) return "{}";
    return `{ ${members.map(([name, member]) => memberText(name, member)).join(", ")} }`;
  }
  return JSON.stringify(value) ?? "null";
}

export function memberText(name: string, value: unknown): string {
  return `${JSON.stringify(name)}: ${inlineText(value)}`;
}
