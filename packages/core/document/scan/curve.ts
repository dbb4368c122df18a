import { type Channel, channels, type Interpolation, interpolations, type Problem } from "../model.ts";
import { nearestName } from "../validate/names.ts";
import { type Cursor, code, quoted, quotedValue } from "./cursor.ts";
import { outerNamesOf } from "./entries.ts";
import { type CurveHead, finishCurve, type ScannedCurve } from "./finish-curve.ts";
import type { KeyBuffer } from "./key-buffer.ts";
import { scanKeys } from "./keys.ts";
import { scanMembers } from "./members.ts";
import { reportTwice, scanMemberValue, setMember } from "./values.ts";

const names = ["node", "channel", "interpolation", "keys"];
/** Names that belong to what is around a curve. */
const outerNames = outerNamesOf("curves/0");

/**
 * Reads the curve whose opening brace is at the cursor, and leaves the cursor behind it.
 * @param index position in the document's list of curves
 * @param isOpened whether the brace is missing, and the cursor stands at the first member
 */
export function scanCurve(cursor: Cursor, buffer: KeyBuffer, index: number, isOpened = false): ScannedCurve {
  const start = cursor.at;
  const path = `curves/${index}`;
  const outer = cursor.problems;
  const problems: Problem[] = [];
  cursor.problems = problems;
  const seen: string[] = [];
  // All of a curve's members from the start: objects that grow differently cost more to read.
  const values: Record<string, unknown> = { node: undefined, channel: undefined, interpolation: undefined };
  const ranges: Record<string, readonly [number, number] | undefined> = {
    node: undefined,
    channel: undefined,
    interpolation: undefined,
  };
  let extra: Record<string, unknown> | null = null;
  let keysAt = -1;
  buffer.reset();
  const member = (key: string, keyStart: number, keyEnd: number, isPlainList: boolean) => {
    // No member of a curve is a list of plain values: what was read of it stands.
    if (isPlainList) return;
    if (seen.includes(key)) reportTwice(cursor, key, keyStart, keyEnd, `${path}/${key}`);
    seen.push(key);
    const c = cursor.skip(path);
    const at = cursor.at;
    if (key === "keys" && c === code.openBracket) {
      buffer.reset();
      if (typeof values["channel"] === "string") {
        buffer.hasWidth = true;
        buffer.width = values["channel"] === "rotation" ? 4 : 1;
      }
      keysAt = at;
      scanKeys(cursor, buffer, start, `${path}/keys`);
      return;
    }
    const value = scanMemberValue(cursor, key, keyStart, `${path}/${key}`, null);
    if (names.includes(key)) {
      values[key] = value;
      ranges[key] = [at - start, cursor.at - start];
      return;
    }
    const message = `A curve has no property ${quoted(key)}; did you mean "${nearestName(key, names)}"? It is kept, and not used.`;
    cursor.report("unknown-property", message, keyStart, keyEnd, `${path}/${key}`);
    if (value === undefined) return;
    extra ??= {};
    setMember(extra, key, value);
  };
  const isClosed = scanMembers(cursor, path, member, isOpened, outerNames);
  const members: Members = { values, ranges, start, path, isCutOff: cursor.isCutOff || !isClosed };
  const end = cursor.at;
  const head: CurveHead = {
    index,
    start,
    end,
    keysAt: keysAt < 0 ? -1 : keysAt - start,
    node: nodeOf(cursor, members),
    channel: channelOf(cursor, members),
    interpolation: interpolationOf(cursor, members),
    nodePlace: ranges["node"] ?? [0, 1],
    channelPlace: ranges["channel"] ?? [0, 1],
    extra,
  };
  if (keysAt < 0 && !members.isCutOff) {
    const message = 'This curve has no list "keys"; add it, or take the curve out. The curve is left out.';
    cursor.report("missing-property", message, start, start + 1, path);
  }
  const curve = finishCurve(cursor, head, buffer, keysAt >= 0);
  cursor.problems = outer;
  return { ...head, curve, problems, isClosed };
}

/** The members of a curve besides its keys, with their places from `start` on. */
interface Members {
  readonly values: Readonly<Record<string, unknown>>;
  readonly ranges: Readonly<Record<string, readonly [number, number] | undefined>>;
  readonly start: number;
  readonly path: string;
  /** Whether the text breaks the curve off, so that what it lacks cannot be known. */
  readonly isCutOff: boolean;
}

function nodeOf(cursor: Cursor, members: Members): string | null {
  const { node } = members.values;
  if (typeof node === "string" && node !== "") return node;
  reportHead(cursor, "node", 'the id of the node that it drives, such as "node": "hips"', members);
  return null;
}

function channelOf(cursor: Cursor, members: Members): Channel | null {
  const { channel } = members.values;
  if (channels.includes(channel as Channel)) return channel as Channel;
  if (typeof channel !== "string") {
    reportHead(cursor, "channel", 'the channel that it drives, such as "channel": "rotation.x"', members);
    return null;
  }
  const { ranges, start, path, isCutOff } = members;
  const [from, to] = ranges["channel"] ?? [0, 1];
  if (isCutOff) return null;
  const near = nearestName(channel, channels);
  const message = `${quoted(channel)} is no channel; did you mean "${near}"? The curve is left out.`;
  cursor.report("unknown-channel", message, start + from, start + to, `${path}/channel`);
  return null;
}

function interpolationOf(cursor: Cursor, members: Members): Interpolation {
  const { values, ranges, start, path, isCutOff } = members;
  const { interpolation } = values;
  if (interpolation === undefined) return "linear";
  if (interpolations.includes(interpolation as Interpolation)) return interpolation as Interpolation;
  if (isCutOff) return "linear";
  const [from, to] = ranges["interpolation"] ?? [0, 1];
  const near = typeof interpolation === "string" ? nearestName(interpolation, interpolations) : "linear";
  const message = `${quotedValue(interpolation)} is no interpolation; did you mean "${near}"? "linear" is used.`;
  cursor.report("unknown-interpolation", message, start + from, start + to, `${path}/interpolation`);
  return "linear";
}

function reportHead(cursor: Cursor, name: string, what: string, members: Members): void {
  const { values, ranges, start, path, isCutOff } = members;
  const [from, to] = ranges[name] ?? [0, 1];
  const isGiven = ranges[name] !== undefined;
  // A curve that the text breaks off, or a value that cannot be read, has been reported as that.
  if (isCutOff || (isGiven && values[name] === undefined)) return;
  const message = `This curve ${isGiven ? "does not say" : "lacks"} ${what}; ${isGiven ? "write" : "add"} it. The curve is left out.`;
  const placePath = isGiven ? `${path}/${name}` : path;
  cursor.report(isGiven ? "bad-value" : "missing-property", message, start + from, start + to, placePath);
}
