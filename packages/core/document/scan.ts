import type { Problem } from "./model.ts";
import { SegmentPlaces } from "./places.ts";
import { codesOf } from "./scan/codes.ts";
import { Cursor, code, quoted } from "./scan/cursor.ts";
import { scanCurve } from "./scan/curve.ts";
import { entryNamesOf, isListName } from "./scan/entries.ts";
import type { ScannedCurve } from "./scan/finish-curve.ts";
import { KeyBuffer } from "./scan/key-buffer.ts";
import { scanElements, scanMembers } from "./scan/members.ts";
import { memberNameAt } from "./scan/recover.ts";
import {
  reportTwice,
  reportUnopened,
  type Segment,
  scanArray,
  scanMemberValue,
  scanValue,
  setMember,
} from "./scan/values.ts";
import { scanString } from "./scan/words.ts";

/** What stands in the text of a document, before anything is checked against the schema. */
export interface Scan {
  /** Members of the document but "curves", as plain values; null where the text holds no JSON object. */
  readonly members: Record<string, unknown> | null;
  readonly curves: readonly ScannedCurve[];
  /** What is wrong with the text outside the curves. */
  readonly problems: readonly Problem[];
  readonly places: SegmentPlaces;
}

/**
 * Reads a text as a curve document, tolerantly: whatever can be read is given, whatever cannot is reported at its
 * place. Never throws.
 */
export function scanDocument(text: string): Scan {
  const cursor = new Cursor(text, codesOf(text), text.charCodeAt(0) === 0xfeff ? 1 : 0);
  const segments = new Map<string, Segment>();
  const members: Record<string, unknown> = {};
  let curves: readonly ScannedCurve[] = [];
  const first = cursor.skip("");
  const start = cursor.at;
  const isOpened = first === code.quote && memberNameAt(cursor) !== null;
  if (isOpened) {
    const message = 'The opening brace "{" of the document is missing before this.';
    cursor.reportMissing("missing-brace", message, start, "");
  } else if (first !== code.openBrace) {
    reportNoObject(cursor, first);
    return {
      members: null,
      curves,
      problems: cursor.problems,
      places: new SegmentPlaces(segments, [start, start + 1]),
    };
  }
  const readMember = (key: string, keyStart: number, keyEnd: number, isPlainList: boolean) => {
    // No member of the document is a list of plain values: what was read of it stands.
    if (isPlainList) return;
    const c = cursor.skip(key);
    const at = cursor.at;
    if (segments.has(key)) reportTwice(cursor, key, keyStart, keyEnd, key);
    // An object where a list of them is due is the first of them.
    const isUnopened = c === code.openBrace && isListName(key);
    if (isUnopened) reportUnopened(cursor, "[", key, key);
    if (key === "curves" && (c === code.openBracket || isUnopened)) {
      curves = scanCurves(cursor, isUnopened);
      segments.set(key, { start: at, end: cursor.at, places: new Map() });
      return;
    }
    const recorder = { start: at, places: new Map<string, readonly [number, number]>() };
    const value = isUnopened
      ? scanArray(cursor, key, recorder, 0, true)
      : scanMemberValue(cursor, key, keyStart, key, recorder);
    recorder.places.delete(key);
    segments.set(key, { start: at, end: cursor.at, places: recorder.places });
    if (key === "curves") {
      const message = '"curves" has to be a list of curves: [ … ]. There are none to be read here.';
      if (value !== undefined) cursor.report("bad-value", message, at, cursor.at, key);
    } else if (value !== undefined) setMember(members, key, value);
  };
  scanMembers(cursor, "", readMember, isOpened);
  reportRest(cursor, readMember);
  return {
    members,
    curves,
    problems: cursor.problems,
    places: new SegmentPlaces(segments, [start, start + 1]),
  };
}

/**
 * Reads the text of one curve alone.
 * @returns null where the text does not end exactly where the curve does, or what is in front of it would count
 */
export function scanCurveText(text: string, index: number): ScannedCurve | null {
  const cursor = new Cursor(text, codesOf(text), 0, text.length, true);
  if (cursor.skip("") !== code.openBrace || cursor.at !== 0) return null;
  const scanned = scanCurve(cursor, new KeyBuffer(), index);
  return scanned.isClosed && cursor.at === text.length && !cursor.leansOnFront ? scanned : null;
}

/** @param isOpened whether the list's opening bracket is missing, and the cursor stands at the first curve */
function scanCurves(cursor: Cursor, isOpened: boolean): ScannedCurve[] {
  const curves: ScannedCurve[] = [];
  const buffer = new KeyBuffer();
  const element = (index: number, c: number, isCurveOpened: boolean) => {
    if (c === code.openBrace || isCurveOpened) {
      curves.push(scanCurve(cursor, buffer, index, isCurveOpened));
      return;
    }
    const at = cursor.at;
    const value = scanValue(cursor, `curves/${index}`, null);
    if (value === undefined) return;
    const message = 'A curve is an object { "node": …, "channel": …, "keys": [ … ] }; this is left out.';
    cursor.report("bad-value", message, at, cursor.at, `curves/${index}`);
  };
  scanElements(cursor, "curves", element, { own: entryNamesOf("curves"), isOpened });
  return curves;
}

function reportNoObject(cursor: Cursor, first: number): void {
  const { text, at } = cursor;
  if (first === -1) {
    const message =
      'This document is empty; a curve document starts with { "format": "keyside.curves", "version": 1 }.';
    cursor.report("empty-document", message, 0, at, "");
    return;
  }
  const what = first === code.openBracket ? "a list" : quoted(text.slice(at, at + 40));
  const message = `A curve document is one JSON object, and this text starts with ${what}; open a file that was saved as a curve document.`;
  cursor.report("not-a-curve-document", message, at, at + 1, "");
}

/**
 * What stands behind the document. Where a brace too many closed it early, further members are read all the same.
 */
function reportRest(cursor: Cursor, member: (...place: [string, number, number, boolean]) => void): void {
  let hasReported = false;
  for (;;) {
    const c = cursor.skip("");
    if (c === -1) return;
    const at = cursor.at;
    if (!hasReported) {
      const message =
        "The document is already closed before this; take out what does not belong, or the bracket that closed it too early.";
      cursor.report("stray-text", message, at, at + 1, "");
      hasReported = true;
    }
    if (c !== code.quote) {
      cursor.at++;
      continue;
    }
    const key = scanString(cursor, "");
    if (cursor.skip("") !== code.colon) continue;
    cursor.at++;
    member(key, at, at + key.length + 2, false);
  }
}
