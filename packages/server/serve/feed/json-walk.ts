/** A path into a JSON document: names of members, and positions in lists. */
export type JsonPath = readonly (string | number)[];

/** A text, number or word in a JSON document. */
export interface JsonToken {
  readonly path: JsonPath;
  readonly start: number;
  /** Offset behind its last character, a closing quote included. */
  readonly end: number;
  readonly isString: boolean;
  readonly isKey: boolean;
  /** Whether a text ends with its own quote; a half-written one ends with its line. */
  readonly isClosed: boolean;
}

/** Where an offset stands in a JSON document. */
export interface JsonPlace {
  /** Path of the value that stands or may be written here; of the object, where a key may. */
  readonly path: JsonPath;
  readonly isKey: boolean;
  /** What is being written there. */
  readonly token: JsonToken | null;
  /** Keys that the object holds in front of here. */
  readonly keys: readonly string[];
}

interface Frame {
  readonly isObject: boolean;
  key: string | null;
  index: number;
  /** In an object: whether a key comes next. */
  wantsKey: boolean;
  readonly keys: string[];
}

const word = /[^\s,:[\]{}"]+/y;

/**
 * Walks through a JSON text of which any part may be half-written; never throws.
 * @param visit is given each key and value that is no object or list; true ends the walk
 * @returns the objects and lists in which the walk ended, outermost first
 */
export function walkJson(
  text: string,
  until: number,
  visit: (token: JsonToken) => boolean | undefined,
): readonly Frame[] {
  const stack: Frame[] = [];
  for (let at = 0; at < text.length && at < until; ) {
    const top = stack[stack.length - 1];
    switch (text.charCodeAt(at)) {
      case 0x7b: // {
        stack.push({ isObject: true, key: null, index: 0, wantsKey: true, keys: [] });
        at++;
        continue;
      case 0x5b: // [
        stack.push({ isObject: false, key: null, index: 0, wantsKey: false, keys: [] });
        at++;
        continue;
      case 0x7d: // }
      case 0x5d: // ]
        stack.pop();
        at++;
        continue;
      case 0x2c: // ,
        if (top !== undefined) {
          top.index++;
          top.key = null;
          top.wantsKey = top.isObject;
        }
        at++;
        continue;
      case 0x3a: // :
        if (top !== undefined) top.wantsKey = false;
        at++;
        continue;
      case 0x20:
      case 0x09:
      case 0x0a:
      case 0x0d:
        at++;
        continue;
    }
    const isString = text.charCodeAt(at) === 0x22;
    const [end, isClosed] = isString ? stringEnd(text, at) : [wordEnd(text, at), true];
    const isKey = isString && top?.isObject === true && top.wantsKey;
    if (isKey) top.key = null;
    const token = { path: pathOf(stack), start: at, end, isString, isKey, isClosed };
    if (visit(token) === true) return stack;
    if (isKey) {
      top.key = stringValue(text, token);
      top.keys.push(top.key);
      top.wantsKey = false;
    } else if (top?.isObject === true) {
      // A value: whatever text follows without a comma is a key whose comma is still to be written.
      top.wantsKey = true;
    }
    at = end;
  }
  return stack;
}

/** Where an offset stands. */
export function placeInJson(text: string, offset: number): JsonPlace {
  let under: JsonToken | null = null;
  const stack = walkJson(text, offset, (token) => {
    if (token.end < offset || token.start >= offset) return false;
    // Behind a closing quote a text is over.
    if (token.isString && token.isClosed && token.end === offset) return false;
    under = token;
    return true;
  });
  const top = stack[stack.length - 1];
  const token = under as JsonToken | null;
  const isKey = token === null ? top?.isObject === true && top.wantsKey : token.isKey;
  if (isKey && top !== undefined) top.key = null;
  return { path: pathOf(stack), isKey, token, keys: top?.keys ?? [] };
}

/** What a text stands for; of a half-written one, what there is. */
export function stringValue(text: string, { start, end, isClosed }: JsonToken): string {
  const raw = text.slice(start, end);
  try {
    return JSON.parse(isClosed ? raw : `${raw}"`) as string;
  } catch {
    return raw.slice(1, isClosed ? -1 : undefined);
  }
}

function pathOf(stack: readonly Frame[]): JsonPath {
  const path: (string | number)[] = [];
  for (const frame of stack) {
    if (!frame.isObject) path.push(frame.index);
    else if (frame.key !== null) path.push(frame.key);
  }
  return path;
}

function stringEnd(text: string, start: number): readonly [number, boolean] {
  for (let at = start + 1; at < text.length; at++) {
    const c = text.charCodeAt(at);
    if (c === 0x22) return [at + 1, true];
    if (c === 0x0a || c === 0x0d) return [at, false];
    if (c === 0x5c) at++;
  }
  return [text.length, false];
}

function wordEnd(text: string, start: number): number {
  word.lastIndex = start;
  const match = word.exec(text);
  return match === null ? start + 1 : start + match[0].length;
}
