import { type Channel, type Curve, type Interpolation, interpolations, type Problem } from "../model.ts";
import type { Cursor } from "./cursor.ts";
import { noteHandles } from "./handle-notes.ts";
import { handleStride, inherited, type KeyBuffer } from "./key-buffer.ts";

/** What a curve says of itself besides its keys; offsets in `nodePlace`, `channelPlace` and `keysAt` count from `start`. */
export interface CurveHead {
  /** Position in the document's list of curves. */
  readonly index: number;
  readonly start: number;
  readonly end: number;
  /** Offset of the opening bracket of the keys; -1 where there is none. */
  readonly keysAt: number;
  readonly node: string | null;
  readonly channel: Channel | null;
  readonly interpolation: Interpolation;
  readonly nodePlace: readonly [number, number];
  readonly channelPlace: readonly [number, number];
  readonly extra: Readonly<Record<string, unknown>> | null;
}

/** A curve as it was read, with what is wrong in it; offsets of the problems count from the start of the text. */
export interface ScannedCurve extends CurveHead {
  /** Null where the curve cannot be used. */
  readonly curve: Curve | null;
  readonly problems: readonly Problem[];
  /** Whether the curve ends with its own closing brace. */
  readonly isClosed: boolean;
}

/** Makes the curve out of the keys in the buffer: sorts them if need be, and reports what is wrong with them. */
export function finishCurve(
  cursor: Cursor,
  head: CurveHead,
  buffer: KeyBuffer,
  hasKeys: boolean,
): Curve | null {
  const { start, channel, node } = head;
  const path = `curves/${head.index}`;
  if (buffer.count === 0) {
    if (buffer.mismatches > 1) {
      foldMismatches(cursor, head, path);
    } else if (hasKeys && !cursor.isCutOff && cursor.problems.length === 0) {
      const at = start + head.keysAt;
      const message = "This curve has no keys; add some, or take the curve out. The curve is left out.";
      cursor.report("empty-curve", message, at, at + 1, `${path}/keys`);
    }
    return null;
  }
  if (channel !== null && (channel === "rotation") !== (buffer.width === 4)) {
    reportWidth(cursor, head, path);
    return null;
  }
  if (node === null || channel === null) return null;
  const { count, width } = buffer;
  const kept = buffer.isAscending ? null : keysInOrder(cursor, buffer, start, path);
  const stride = handleStride(width);
  if (buffer.handled > 0 && buffer.handled < count) buffer.openHandles(count - 1);
  const ownModes = resolveModes(buffer.modes, count, interpolations.indexOf(head.interpolation));
  const own = kept === null ? numbersOf(buffer) : null;
  const curve: Curve = {
    node,
    channel,
    interpolation: head.interpolation,
    width,
    frames: own?.frames ?? pick(buffer.frames, kept, count, 1),
    values: own?.values ?? pick(buffer.values, kept, count, width),
    modes: own?.modes ?? pick(buffer.modes, kept, count, 1),
    handles: buffer.handled === 0 ? null : pick(buffer.handles, kept, count, stride),
    ownModes: ownModes === null ? null : kept === null ? ownModes : pick(ownModes, kept, count, 1),
    place: {
      start,
      end: head.end,
      keyStart: own?.keyStart ?? pick(buffer.keyStart, kept, count, 1),
      keyEnd: own?.keyEnd ?? pick(buffer.keyEnd, kept, count, 1),
    },
  };
  if (width === 4 || curve.handles !== null) {
    noteHandles(cursor, curve, pick(buffer.rawIndex, kept, count, 1), path);
  }
  if (head.extra === null && buffer.extras === null) return curve;
  return { ...curve, extra: { curve: head.extra ?? {}, keys: extrasOf(buffer, kept) } };
}

/**
 * The numbers of the keys in the buffer as they stand there. Frames and modes are those of the curve before where they
 * are the same, as in motion that is keyed pose by pose; the rest lies in one block, since an array with a buffer of its
 * own costs several times as much to make.
 */
function numbersOf(buffer: KeyBuffer) {
  const { count, width } = buffer;
  buffer.lastFrames = sameAsBefore(buffer.frames, buffer.lastFrames, count);
  buffer.lastModes = sameAsBefore(buffer.modes, buffer.lastModes, count);
  const size = 8 * width * count;
  const block = new ArrayBuffer(size + 8 * count);
  const values = new Float64Array(block, 0, width * count);
  const keyStart = new Int32Array(block, size, count);
  const keyEnd = new Int32Array(block, size + 4 * count, count);
  for (let i = 0; i < values.length; i++) values[i] = buffer.values[i];
  for (let key = 0; key < count; key++) {
    keyStart[key] = buffer.keyStart[key];
    keyEnd[key] = buffer.keyEnd[key];
  }
  return { frames: buffer.lastFrames, modes: buffer.lastModes, values, keyStart, keyEnd };
}

/** The array of the curve before if it holds the first `count` entries, else an array of their own. */
function sameAsBefore<T extends Float64Array | Uint8Array>(from: T, before: T | null, count: number): T {
  if (before?.length !== count) return from.slice(0, count) as T;
  for (let i = 0; i < count; i++) if (before[i] !== from[i]) return from.slice(0, count) as T;
  return before;
}

function extrasOf(buffer: KeyBuffer, kept: Int32Array | null): ReadonlyMap<number, Record<string, unknown>> {
  const { extras } = buffer;
  if (extras === null || kept === null) return extras ?? new Map();
  const moved = new Map<number, Record<string, unknown>>();
  kept.forEach((from, to) => {
    const extra = extras.get(from);
    if (extra !== undefined) moved.set(to, extra);
  });
  return moved;
}

/** Puts the curve's interpolation where a key names none; tells which keys do, null if none does. */
function resolveModes(modes: Uint8Array, count: number, ofCurve: number): Uint8Array | null {
  let own: Uint8Array | null = null;
  for (let i = 0; i < count; i++) {
    if (modes[i] === inherited) modes[i] = ofCurve;
    else {
      own ??= new Uint8Array(count);
      own[i] = 1;
    }
  }
  return own;
}

/**
 * The chosen entries, `width` numbers each, in a new array.
 * @param kept which entries, in order; the first `count` where it is null
 */
function pick<T extends Float64Array | Int32Array | Uint8Array>(
  from: T,
  kept: Int32Array | null,
  count: number,
  width: number,
): T {
  if (kept === null) return from.slice(0, count * width) as T;
  const picked = from.slice(0, kept.length * width) as T;
  for (let to = 0; to < kept.length; to++) {
    for (let n = 0; n < width; n++) picked[to * width + n] = from[kept[to] * width + n];
  }
  return picked;
}

/** Indices of the keys in order of time; of keys at one frame the last in the text. Reports both. */
function keysInOrder(cursor: Cursor, buffer: KeyBuffer, start: number, path: string): Int32Array {
  const { count, frames, keyStart, keyEnd, rawIndex } = buffer;
  const report = (code: string, message: string, key: number) =>
    cursor.report(code, message, start + keyStart[key], start + keyEnd[key], `${path}/keys/${rawIndex[key]}`);
  for (let key = 1; key < count; key++) {
    if (!(frames[key] < frames[key - 1])) continue;
    const message = `The key at frame ${frames[key]} stands behind the one at frame ${frames[key - 1]}; keys are to be in order of time. They are sorted.`;
    report("key-order", message, key);
  }
  const order = Int32Array.from({ length: count }, (_, key) => key).sort(
    (a, b) => frames[a] - frames[b] || a - b,
  );
  let kept = 0;
  for (let i = 0; i < count; i++) {
    const key = order[i];
    if (i + 1 < count && frames[order[i + 1]] === frames[key]) {
      const message = `There is another key at frame ${frames[key]} further on, which is used; take one out.`;
      report("duplicate-key", message, key);
    } else order[kept++] = key;
  }
  return order.slice(0, kept);
}

function reportWidth(cursor: Cursor, head: CurveHead, path: string): void {
  const [from, to] = head.channelPlace;
  const message =
    head.channel === "rotation"
      ? 'The channel "rotation" takes quaternions [x, y, z, w], and these keys hold single numbers; use "rotation.x", "rotation.y" and "rotation.z". The curve is left out.'
      : `The channel "${head.channel}" takes one number per key, and these keys hold quaternions; use "rotation". The curve is left out.`;
  cursor.report("value-kind", message, head.start + from, head.start + to, `${path}/channel`);
}

/** One problem for a curve all of whose keys are of the other kind, in place of one per key. */
function foldMismatches(cursor: Cursor, head: CurveHead, path: string): void {
  const others = cursor.problems.filter((problem) => problem.code !== "value-kind");
  cursor.problems.length = 0;
  cursor.problems.push(...others);
  if (head.channel !== null) reportWidth(cursor, head, path);
}
