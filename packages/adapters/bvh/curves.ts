import type { Channel, Curve } from "@keyside/core";
import type { BvhMotion } from "./motion.ts";

/** Index of "linear" in the core's list of interpolations. */
const linear = 1;

/** How the rows of the motion become frames. */
export interface Sampling {
  /** Rows from one frame to the next; a whole number takes rows as they are. */
  readonly step: number;
  /** Number of frames. */
  readonly count: number;
}

/** What a column drives. */
export interface Column {
  readonly node: string;
  readonly channel: Channel;
  readonly index: number;
  /** Added to each number, to make offsets from the rest position whole. */
  readonly add: number;
  /** Value of the channel where no curve drives it. */
  readonly rest: number;
  /** Angles by row that stand for the file's own, NaN where its number cannot be read; the file's where left out. */
  readonly values?: Float64Array | undefined;
}

/**
 * The curve of one column, frames counted from 1: a key per frame, at the place of the number in its row. A column
 * that never moves gives one key, and none where it stays at rest.
 */
export function curveOfColumn(
  motion: BvhMotion,
  column: Column,
  sampling: Sampling,
  length: number,
): Curve | null {
  const rows = readableRows(motion, column.index);
  if (rows.length === 0) return null;
  const { values } = column;
  const at = (row: number) =>
    (values === undefined ? motion.values[row * motion.columns + column.index] : values[row]) + column.add;
  const first = at(rows[0]);
  if (rows.every((row) => at(row) === first)) {
    if (first === column.rest) return null;
    return curve(motion, column, [1], [first], [rows[0]], length);
  }
  const exact = Number.isInteger(sampling.step);
  return exact
    ? decimate(motion, column, sampling, length, at)
    : interpolate(motion, column, sampling, length, rows, at);
}

function readableRows(motion: BvhMotion, index: number): Int32Array {
  const rows = new Int32Array(motion.rows);
  let count = 0;
  for (let row = 0; row < motion.rows; row++) {
    if (!Number.isNaN(motion.values[row * motion.columns + index])) rows[count++] = row;
  }
  return rows.subarray(0, count);
}

function decimate(
  motion: BvhMotion,
  column: Column,
  { step, count }: Sampling,
  length: number,
  at: (row: number) => number,
): Curve {
  const frames: number[] = [];
  const values: number[] = [];
  const rows: number[] = [];
  for (let frame = 0; frame < count; frame++) {
    const value = at(frame * step);
    if (Number.isNaN(value)) continue;
    frames.push(frame + 1);
    values.push(value);
    rows.push(frame * step);
  }
  return curve(motion, column, frames, values, rows, length);
}

function interpolate(
  motion: BvhMotion,
  column: Column,
  { step, count }: Sampling,
  length: number,
  rows: Int32Array,
  at: (row: number) => number,
): Curve {
  const frames: number[] = [];
  const values: number[] = [];
  const places: number[] = [];
  let k = 0;
  for (let frame = 0; frame < count; frame++) {
    const time = frame * step;
    while (k + 2 < rows.length && rows[k + 1] <= time) k++;
    const [before, after] = [rows[k], rows[Math.min(k + 1, rows.length - 1)]];
    if (time < before || time > after) continue;
    const share = after > before ? (time - before) / (after - before) : 0;
    frames.push(frame + 1);
    values.push(at(before) + share * (at(after) - at(before)));
    places.push(share < 0.5 ? before : after);
  }
  return curve(motion, column, frames, values, places, length);
}

function curve(
  motion: BvhMotion,
  column: Column,
  frames: readonly number[],
  values: readonly number[],
  rows: readonly number[],
  length: number,
): Curve {
  const number = (row: number) => row * motion.columns + column.index;
  return {
    node: column.node,
    channel: column.channel,
    interpolation: "linear",
    width: 1,
    frames: Float64Array.from(frames),
    values: Float64Array.from(values),
    modes: new Uint8Array(frames.length).fill(linear),
    handles: null,
    ownModes: null,
    place: {
      start: 0,
      end: length,
      keyStart: Int32Array.from(rows, (row) => motion.starts[number(row)]),
      keyEnd: Int32Array.from(rows, (row) => motion.ends[number(row)]),
    },
  };
}
