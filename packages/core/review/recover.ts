import { jsonFault } from "../document/json-fault.ts";
import type { FoundEntry, ReviewProblem } from "./problem.ts";

/** What a text that is no JSON still gives. */
export interface Recovered {
  readonly found: readonly FoundEntry[];
  readonly head: string | null;
  readonly extra: Readonly<Record<string, unknown>>;
  readonly problems: readonly ReviewProblem[];
}

/** What a merge that was not finished leaves in a text. */
const mergeMark = /^(<{7}|={7}|>{7}|\|{7})( |$)/;
/** Lines that hold nothing but the frame around the entries. */
const frame =
  /^(?:[{}[\]\s,]|null)*$|^"(?:entries"\s*:\s*\[|format"\s*:\s*"keyside\.review"|version"\s*:\s*1\b)[\s,]*$/;

/** Reads a review file line by line, which is how it is written, where it is no JSON as a whole. */
export function recoverReview(text: string): Recovered {
  const found: FoundEntry[] = [];
  const problems: ReviewProblem[] = [];
  const extra: Record<string, unknown> = {};
  let head: string | null = null;
  let pending: { line: number; lines: string[] } | null = null;
  const flush = () => {
    if (pending === null) return;
    const { line, lines } = pending;
    const { objects, rest } = objectsIn(lines.join("\n"));
    for (const value of objects) found.push({ value, line: () => line });
    if (rest !== "") found.push({ value: rest, line: () => line });
    pending = null;
  };
  let isMerge = false;
  text.split(/\r\n|\r|\n/).forEach((whole, index) => {
    const content = whole.trim();
    if (mergeMark.test(content)) {
      if (!isMerge) {
        const message =
          "A merge was not finished here; the lines of both sides are used. Saving the review finishes it.";
        problems.push({ line: index + 1, message, id: null });
      }
      isMerge = true;
      return;
    }
    if (frame.test(content)) {
      flush();
      return;
    }
    const value = parsed(content.replace(/,$/, ""));
    if (isObject(value)) {
      flush();
      found.push({ value, line: () => index + 1 });
      return;
    }
    const member = parsed(`{${content.replace(/,$/, "")}}`);
    if (pending === null && isObject(member) && found.length === 0) {
      for (const [name, stands] of Object.entries(member)) {
        if (name === "shot" && typeof stands === "string") head = stands;
        else if (name !== "format" && name !== "version") extra[name] = stands;
      }
      return;
    }
    pending ??= { line: index + 1, lines: [] };
    pending.lines.push(content);
  });
  flush();
  if (!isMerge) {
    const message = `${jsonFault(text).message} What can be read is used.`;
    problems.unshift({ line: null, message, id: null });
  }
  return { found, head, extra, problems };
}

/** Objects that stand whole in a piece of text, and what is left of it. */
function objectsIn(text: string): { objects: object[]; rest: string } {
  const objects: object[] = [];
  let rest = "";
  for (let at = 0; at < text.length; ) {
    const end = text[at] === "{" ? objectEnd(text, at) : -1;
    const value = end < 0 ? undefined : parsed(text.slice(at, end));
    if (isObject(value) && "kind" in value) {
      objects.push(value);
      at = end;
    } else rest += text[at++];
  }
  const left = rest.trim().replace(/^[\s,]+|[\s,]+$/g, "");
  return { objects, rest: /^[{}[\]\s,]*$/.test(left) ? "" : left };
}

/** Where an object that begins at an offset ends; −1 where it does not. */
function objectEnd(text: string, start: number): number {
  let depth = 0;
  let isText = false;
  for (let i = start; i < text.length; i++) {
    const c = text[i];
    if (isText) {
      if (c === "\\") i++;
      else if (c === '"') isText = false;
    } else if (c === '"') isText = true;
    else if (c === "{") depth++;
    else if (c === "}" && --depth === 0) return i + 1;
  }
  return -1;
}

function parsed(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}

function isObject(value: unknown): value is Record<string, unknown> {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}
