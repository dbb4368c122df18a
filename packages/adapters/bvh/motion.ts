import { isFrameRate, isUsable, whyUnusable } from "@keyside/core/internal";
import type { Problems } from "../problems.ts";
import { isLineEnd, isSpace } from "./scan.ts";

/** The MOTION section: a table of numbers and where each stands. */
export interface BvhMotion {
  readonly rows: number;
  readonly columns: number;
  /** `rows · columns` numbers; NaN where the text has none that can be read. */
  readonly values: Float64Array;
  /** Offset in the text of each number and of the end of it. */
  readonly starts: Int32Array;
  readonly ends: Int32Array;
  /** Seconds per row as written, empty where it is missing. */
  readonly frameTime: string;
}

/** Reads the MOTION section from behind its keyword; bad numbers stay out, whatever else is in their row is read. */
export function readMotion(text: string, from: number, columns: number, problems: Problems): BvhMotion {
  const head = readHead(text, from, problems);
  const table = new Table(text, columns, problems);
  table.read(head.end);
  if (head.frames !== null && head.frames !== table.rows) {
    const message = `"Frames:" says ${head.frames}, and ${table.rows} rows follow; the rows are read. Correct the count.`;
    problems.add("frame-count", message, head.framesAt, head.framesEnd);
  }
  return { ...table.take(), frameTime: head.frameTime };
}

interface MotionHead {
  readonly frames: number | null;
  readonly framesAt: number;
  readonly framesEnd: number;
  readonly frameTime: string;
  readonly end: number;
}

function readHead(text: string, from: number, problems: Problems): MotionHead {
  const pattern = /\s*(frames|frame[ \t]*time)[ \t]*:?[ \t]*([^\s]*)/iy;
  let frames: number | null = null;
  let [framesAt, framesEnd, end] = [from, from, from];
  let frameTime = "";
  for (let i = 0; i < 2; i++) {
    pattern.lastIndex = end;
    const match = pattern.exec(text);
    if (match === null) break;
    end = pattern.lastIndex;
    const start = end - match[2].length;
    if (match[1].toLowerCase() !== "frames") {
      frameTime = match[2];
      if (!isFrameRate(1 / Number(frameTime))) {
        const message = `"${match[2]}" is no frame time in seconds; 30 frames a second are assumed.`;
        problems.add("frame-time", message, start, end);
        frameTime = "";
      }
      continue;
    }
    const count = Number(match[2]);
    [framesAt, framesEnd] = [start, end];
    if (match[2] !== "" && Number.isInteger(count) && count >= 0) frames = count;
    else
      problems.add("frame-count", `"${match[2]}" is no count of frames; the rows are counted.`, start, end);
  }
  if (frameTime === "" && !/frame[ \t]*time/i.test(text.slice(from, end))) {
    const message = 'The motion has no "Frame Time:"; 30 frames a second are assumed.';
    problems.add("frame-time", message, from, end);
  }
  if (framesAt === from) {
    problems.add("frame-count", 'The motion has no "Frames:"; the rows are counted.', from, end);
  }
  return { frames, framesAt, framesEnd, frameTime, end };
}

/** A table of numbers that grows row by row. */
class Table {
  rows = 0;
  private values: Float64Array;
  private starts: Int32Array;
  private ends: Int32Array;
  private readonly text: string;
  private readonly columns: number;
  private readonly problems: Problems;

  constructor(text: string, columns: number, problems: Problems) {
    this.text = text;
    this.columns = columns;
    this.problems = problems;
    this.values = new Float64Array(64 * columns);
    this.starts = new Int32Array(64 * columns);
    this.ends = new Int32Array(64 * columns);
  }

  read(from: number): void {
    const { text } = this;
    for (let at = from; at < text.length; ) {
      while (at < text.length && (isSpace(text.charCodeAt(at)) || isLineEnd(text.charCodeAt(at)))) at++;
      if (at < text.length) at = this.readRow(at);
    }
  }

  take(): Omit<BvhMotion, "frameTime"> {
    const count = this.rows * this.columns;
    return {
      rows: this.rows,
      columns: this.columns,
      values: this.values.subarray(0, count),
      starts: this.starts.subarray(0, count),
      ends: this.ends.subarray(0, count),
    };
  }

  /** Reads one line and gives the offset behind it. */
  private readRow(from: number): number {
    const { text, columns } = this;
    this.makeRoom();
    const first = this.rows * columns;
    let column = 0;
    let at = from;
    let usable = 0;
    let cutAt = -1;
    while (at < text.length) {
      let code = text.charCodeAt(at);
      if (isLineEnd(code)) break;
      if (isSpace(code)) {
        at++;
        continue;
      }
      const start = at;
      do code = text.charCodeAt(++at);
      while (at < text.length && !isSpace(code) && !isLineEnd(code));
      if (column < columns) {
        const value = numberAt(text, start, at);
        if (isUsable(value)) usable++;
        else this.complain(start, at, value);
        this.values[first + column] = isUsable(value) ? value : Number.NaN;
        this.starts[first + column] = start;
        this.ends[first + column] = at;
      } else if (cutAt < 0) cutAt = start;
      column++;
    }
    if (usable === 0 && column !== columns) {
      const message = `There is no number in this line of the motion; it is passed over and counts as no frame.`;
      this.problems.add("row", message, from, at);
      return at;
    }
    this.rows++;
    if (column !== columns) this.complainOfLength(column, cutAt < 0 ? from : cutAt, at);
    for (; column < columns; column++) {
      this.values[first + column] = Number.NaN;
      this.starts[first + column] = from;
      this.ends[first + column] = at;
    }
    return at;
  }

  private makeRoom(): void {
    const needed = (this.rows + 1) * this.columns;
    if (needed <= this.values.length) return;
    const grown = <A extends Float64Array | Int32Array>(old: A, next: A): A => {
      next.set(old);
      return next;
    };
    this.values = grown(this.values, new Float64Array(2 * needed));
    this.starts = grown(this.starts, new Int32Array(2 * needed));
    this.ends = grown(this.ends, new Int32Array(2 * needed));
  }

  private complain(start: number, end: number, value: number): void {
    const word = this.text.slice(start, Math.min(end, start + 40));
    const message = `"${word}" in frame ${this.rows + 1} ${whyUnusable(value)}; the channel has no key there.`;
    this.problems.add("number", message, start, end);
  }

  private complainOfLength(found: number, start: number, end: number): void {
    const { columns } = this;
    const outcome =
      found > columns ? "the numbers too many are passed over" : "the channels behind have no key there";
    const message = `Frame ${this.rows} has ${found} numbers, and the hierarchy has ${columns} channels; ${outcome}.`;
    this.problems.add("row-length", message, start, end);
  }
}

const powersOfTen = Array.from({ length: 23 }, (_, n) => 10 ** n);

/**
 * The number that stands in a text, NaN if it is none. Plain decimals of up to 15 digits are read in one pass: digits
 * and power of ten are both exact in double precision, so their quotient is the correctly rounded number.
 */
function numberAt(text: string, start: number, end: number): number {
  let at = start;
  const sign = text.charCodeAt(at);
  if (sign === 45 || sign === 43) at++;
  let digits = 0;
  let count = 0;
  let decimals = -1;
  for (; at < end; at++) {
    const code = text.charCodeAt(at);
    if (code >= 48 && code <= 57) {
      digits = digits * 10 + (code - 48);
      if (digits > 0) count++;
      if (decimals >= 0) decimals++;
    } else if (code === 46 && decimals < 0) decimals = 0;
    else break;
  }
  if (at < end || count > 15 || decimals > 22) {
    return slowNumber(text.slice(start, end));
  }
  if (end - start - (decimals >= 0 ? 1 : 0) - (sign === 45 || sign === 43 ? 1 : 0) <= 0) return Number.NaN;
  const value = decimals > 0 ? digits / powersOfTen[decimals] : digits;
  return sign === 45 ? -value : value;
}

function slowNumber(word: string): number {
  return /^[-+]?(\d+\.?\d*|\.\d+)(e[-+]?\d+)?$/i.test(word) ? Number(word) : Number.NaN;
}
