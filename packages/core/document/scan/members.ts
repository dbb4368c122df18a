import { type Cursor, code, quoted } from "./cursor.ts";
import { isDocumentName, isObjectName } from "./entries.ts";
import { closeOf, isWordPart, listCloseAhead, markAfter, markAt, memberNameAt } from "./recover.ts";
import { scanBareName, scanString } from "./words.ts";

/**
 * Reads the members of an object whose opening brace is at the cursor, and leaves the cursor behind the object.
 * @param member reads one member's value; the cursor stands in front of it. A value that turns out to be a list whose
 *   opening bracket is missing is read once more, with `isUnopened`
 * @param isOpened whether the brace is missing, and the cursor stands at the first member
 * @param outer names of members of what is around the object: one of them ends it, if it stands no deeper
 * @returns whether the object's closing brace was found
 */
export function scanMembers(
  cursor: Cursor,
  path: string,
  member: (key: string, keyStart: number, keyEnd: number, isUnopened: boolean) => void,
  isOpened = false,
  outer: ReadonlySet<string> | null = null,
): boolean {
  const start = cursor.at;
  if (!isOpened) cursor.at++;
  let needsComma = false;
  let lastComma = -1;
  /** The last member: its name, where its value starts, and whether it has one. */
  let last = { key: "", keyStart: -1, keyEnd: -1, valueAt: -1, hasValue: false };
  for (;;) {
    const c = cursor.skip(path);
    const at = cursor.at;
    if (c === code.closeBrace) {
      if (lastComma >= 0) reportTrailingComma(cursor, lastComma, path);
      cursor.at++;
      return true;
    }
    if (c === -1) {
      cursor.reportCutOff("an object", path);
      return false;
    }
    if (c === code.comma) {
      if (!needsComma) reportSpareComma(cursor, at, path);
      needsComma = false;
      lastComma = at;
      cursor.at++;
      continue;
    }
    const listEnd = last.hasValue ? unopenedListEnd(cursor, c, last.valueAt, lastComma >= 0) : -1;
    if (listEnd >= 0) {
      const { key, keyStart, keyEnd, valueAt } = last;
      const message = `The opening bracket "[" of ${quoted(key)} is missing before this.`;
      cursor.reportMissing("missing-bracket", message, valueAt, path);
      cursor.at = valueAt;
      member(key, keyStart, keyEnd, true);
      cursor.at = listEnd + 1;
      needsComma = true;
      lastComma = -1;
      last = { ...last, hasValue: false };
      continue;
    }
    if (c === code.quote && endsObject(cursor, outer, path, start)) {
      if (lastComma >= 0) cursor.at = lastComma;
      reportUnclosed(cursor, "}", at, path);
      return false;
    }
    const key = c === code.quote ? scanString(cursor, path, true) : scanBareName(cursor, path);
    if (key !== null) {
      if (needsComma && (last.hasValue || last.valueAt < 0))
        cursor.reportMissing("missing-comma", "A comma is missing before this.", at, path);
      lastComma = -1;
      const keyEnd = cursor.at;
      if (cursor.skip(path) === code.colon) {
        cursor.at++;
        cursor.skip(path);
      } else {
        // A name that ended without its quote has been told of.
        if (cursor.at < cursor.end && !cursor.isMissingAt(keyEnd - 1) && !cursor.isMissingAt(cursor.at)) {
          cursor.report("missing-colon", `A colon is missing behind ${quoted(key)}.`, at, keyEnd, path);
        }
        if (!hasValueBehind(cursor, keyEnd)) {
          cursor.markMissing(cursor.at);
          last = { ...last, hasValue: false };
          needsComma = true;
          continue;
        }
      }
      const valueAt = cursor.at;
      member(key, at, keyEnd, false);
      last = { key, keyStart: at, keyEnd, valueAt, hasValue: cursor.at > valueAt };
      needsComma = true;
    } else if (c === code.closeBracket || c === code.openBrace) {
      // The comma in front of the next entry of a list is the list's.
      if (c === code.openBrace && lastComma >= 0) cursor.at = lastComma;
      reportUnclosed(cursor, "}", at, path);
      return false;
    } else if (c === code.openBracket) {
      cursor.report("stray-text", "This list has no name; give it one, or take it out.", at, at + 1, path);
      skipNested(cursor, path);
      needsComma = true;
    } else {
      cursor.skipStray(path);
    }
  }
}

/**
 * Whether the name at the cursor belongs to what is around an object: it stands no deeper, or the brace that closes the
 * object is the document's last.
 */
function endsObject(cursor: Cursor, outer: ReadonlySet<string> | null, path: string, start: number): boolean {
  if (outer === null || !outer.has(memberNameAt(cursor) ?? "")) return false;
  if (cursor.isOutdented(cursor.at, start)) return true;
  if (!isObjectName(path) || markAt(cursor, start) !== code.openBrace) return false;
  const close = closeOf(cursor, start);
  return close < 0 || markAfter(cursor, close) >= cursor.end;
}

/** Whether the value of a member stands behind its name without a colon between them: on the same line. */
function hasValueBehind(cursor: Cursor, keyEnd: number): boolean {
  const c = markAt(cursor, cursor.at);
  if (c === -1 || c === code.comma || c === code.closeBrace || c === code.closeBracket) return false;
  return !/[\r\n]/.test(cursor.text.slice(keyEnd, cursor.at));
}

/**
 * Where the list ends that the last member's value begins, if its opening bracket is missing; else -1. The cursor stands where
 * the next member is due.
 */
function unopenedListEnd(cursor: Cursor, c: number, valueAt: number, isBehindComma: boolean): number {
  const first = markAt(cursor, valueAt);
  if (first !== code.quote && !isWordPart(first)) return -1;
  if (isBehindComma) {
    if (c === code.quote ? memberNameAt(cursor) !== null : !isWordPart(c)) return -1;
    return listCloseAhead(cursor);
  }
  if (c !== code.closeBracket) return -1;
  // A list of one. The bracket may as well close the list around an entry whose brace is missing: what follows tells.
  const next = markAfter(cursor, cursor.at);
  const mark = markAt(cursor, next);
  if (mark === code.comma) {
    const name = memberNameAt(cursor, markAfter(cursor, next));
    return name !== null && !isDocumentName(name) ? cursor.at : -1;
  }
  if (mark !== code.closeBrace) return -1;
  const behind = markAt(cursor, markAfter(cursor, next));
  return behind === code.comma || behind === code.closeBracket ? cursor.at : -1;
}

/** What is known of an array. */
export interface ListForm {
  /**
   * Names of members by which an entry is known whose opening brace is missing; it is read with `isOpened`, the cursor
   * at its first member.
   */
  readonly own?: ReadonlySet<string> | null;
  /** Whether the array's opening bracket is missing, and the cursor stands at its first element. */
  readonly isOpened?: boolean;
  /** Whether it holds plain values only: a bracket or a brace that stands no deeper is behind it then. */
  readonly isFlat?: boolean;
  /** Its entries are lists that start with a number, and hold at most so many values. */
  readonly rowLength?: number | null;
  /** So many plain values it holds at most: a bracket or a brace behind them is not its own. */
  readonly most?: number;
}

/**
 * Reads the elements of an array whose opening bracket is at the cursor, and leaves the cursor behind the array.
 * @param element reads one element, given its position and first character; it must move the cursor on
 * @param form what is known of the array
 */
export function scanElements(
  cursor: Cursor,
  path: string,
  element: (index: number, c: number, isOpened: boolean) => void,
  form: ListForm = {},
): void {
  const { own = null, isOpened = false, isFlat = false, most = Number.POSITIVE_INFINITY } = form;
  const start = cursor.at;
  if (!isOpened) cursor.at++;
  let index = 0;
  let needsComma = false;
  let lastComma = -1;
  for (;;) {
    const c = cursor.skip(path);
    const at = cursor.at;
    if (c === code.closeBracket) {
      if (lastComma >= 0) reportTrailingComma(cursor, lastComma, path);
      cursor.at++;
      return;
    }
    if (c === -1) {
      cursor.reportCutOff("a list", path);
      return;
    }
    if (c === code.comma) {
      if (!needsComma) reportSpareComma(cursor, at, path);
      needsComma = false;
      lastComma = at;
      cursor.at++;
      continue;
    }
    const name = c === code.quote ? memberNameAt(cursor) : null;
    const isEntry = name !== null && own?.has(name) === true;
    if (isEntry) {
      const message = 'The opening brace "{" of this entry is missing.';
      cursor.reportMissing("missing-brace", message, at, `${path}/${index}`);
    } else if (
      c === code.closeBrace ||
      name !== null ||
      (isOpening(c) && ((isFlat && cursor.isOutdented(at, start)) || index >= most))
    ) {
      // The comma in front of what follows is not the list's.
      if (c !== code.closeBrace && lastComma >= 0) cursor.at = lastComma;
      // A list without either bracket has been told of where it starts.
      if (!isOpened) reportUnclosed(cursor, "]", at, path);
      return;
    } else if (c === code.colon) {
      cursor.skipStray(path);
      continue;
    } else if (needsComma) {
      cursor.reportMissing("missing-comma", "A comma is missing before this.", at, path);
    }
    lastComma = -1;
    element(index++, c, isEntry);
    if (cursor.at === at) cursor.skipStray(path);
    needsComma = true;
  }
}

/**
 * Says at the cursor that a closing bracket or brace is missing, unless something is said to be missing there, or at the
 * next word, already.
 */
function reportUnclosed(cursor: Cursor, mark: "]" | "}", next: number, path: string): void {
  if (cursor.isMissingAt(next)) return;
  const [name, what] = mark === "]" ? ["missing-bracket", "bracket"] : ["missing-brace", "brace"];
  cursor.reportMissing(name, `A closing ${what} "${mark}" is missing before this.`, cursor.at, path);
  cursor.markMissing(next);
}

function isOpening(c: number): boolean {
  return c === code.openBracket || c === code.openBrace;
}

function reportSpareComma(cursor: Cursor, at: number, path: string): void {
  cursor.report("stray-text", "There is a comma too many here; take it out.", at, at + 1, path);
}

function reportTrailingComma(cursor: Cursor, at: number, path: string): void {
  cursor.report("trailing-comma", "There is a comma behind the last entry; take it out.", at, at + 1, path);
}

/** Passes over a bracketed value without looking into it, however deep it is. */
export function skipNested(cursor: Cursor, path: string): void {
  let depth = 0;
  while (cursor.at < cursor.end) {
    const c = cursor.text.charCodeAt(cursor.at);
    if (c === code.quote) {
      scanString(cursor, path);
      continue;
    }
    cursor.at++;
    if (c === code.openBrace || c === code.openBracket) depth++;
    else if ((c === code.closeBrace || c === code.closeBracket) && --depth === 0) return;
  }
  cursor.reportCutOff("a value", path);
}
