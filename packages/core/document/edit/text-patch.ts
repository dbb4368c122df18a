/** A piece of a text that is to be replaced. */
export interface TextPatch {
  readonly start: number;
  readonly end: number;
  readonly text: string;
}

/** The text with all patches made; they must not overlap. Of patches at one place the first given comes first. */
export function patched(text: string, patches: readonly TextPatch[]): string {
  const inOrder = [...patches].sort((a, b) => a.start - b.start || a.end - b.end);
  let out = "";
  let at = 0;
  for (const patch of inOrder) {
    out += text.slice(at, patch.start) + patch.text;
    at = patch.end;
  }
  return out + text.slice(at);
}

export function skipBlank(text: string, at: number): number {
  let i = at;
  while (i < text.length && text.charCodeAt(i) <= 32) i++;
  return i;
}

/** What has to stand between two entries of a list so that they are laid out like the one at `at`. */
export function separatorAt(text: string, at: number): string {
  let i = at;
  while (i > 0 && (text[i - 1] === " " || text[i - 1] === "\t")) i--;
  if (i > 0 && text[i - 1] !== "\n" && text[i - 1] !== "\r") return " ";
  return lineEndOf(text) + text.slice(i, at);
}

export function lineEndOf(text: string): string {
  const at = text.indexOf("\n");
  return at > 0 && text[at - 1] === "\r" ? "\r\n" : "\n";
}

/**
 * The patches that take entries out of a list, with the commas that go with them.
 * @param ranges start and end offsets of the entries, ascending
 */
export function withoutEntries(text: string, ranges: readonly (readonly [number, number])[]): TextPatch[] {
  const patches: TextPatch[] = [];
  for (let first = 0; first < ranges.length; first++) {
    let last = first;
    // Neighbours go together, so that the comma between them is looked at once.
    while (last + 1 < ranges.length && areNeighbours(text, ranges[last][1], ranges[last + 1][0])) last++;
    patches.push(withoutRun(text, ranges[first][0], ranges[last][1]));
    first = last;
  }
  return patches;
}

function areNeighbours(text: string, end: number, start: number): boolean {
  const comma = skipBlank(text, end);
  return text[comma] === "," && skipBlank(text, comma + 1) === start;
}

function withoutRun(text: string, start: number, end: number): TextPatch {
  const after = skipBlank(text, end);
  if (text[after] === ",") {
    const next = skipBlank(text, after + 1);
    if (text[next] !== "]") return { start, end: next, text: "" };
  }
  let before = start;
  while (before > 0 && text.charCodeAt(before - 1) <= 32) before--;
  // The last of the list: the comma in front of it goes. The only one: the brackets close up.
  return text[before - 1] === ","
    ? { start: before - 1, end, text: "" }
    : { start: before, end: after, text: "" };
}
