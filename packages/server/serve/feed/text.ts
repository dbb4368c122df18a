import { lineStartsOf } from "@keyside/core";
import type { ChangeStep, TextChange } from "@keyside/core/internal";
import type { Position, Range, TextDocumentContentChangeEvent } from "vscode-languageserver";
import { PiecedText } from "./pieces.ts";

/** How a client counts characters within a line. */
export type Encoding = "utf-8" | "utf-16";

/**
 * The text of an open document, with the starts of its lines. A change costs what it touches, and one pass of
 * additions over the line starts behind it.
 */
export class LiveText {
  private current: PiecedText;
  private readonly encoding: Encoding;
  /** Line starts; entries from `count` on are spare. */
  private starts: Int32Array;
  private count: number;
  /** Whether every character is ASCII, where all encodings count alike; stays false once it was. */
  private isAscii: boolean;

  constructor(text: string, encoding: Encoding = "utf-16") {
    this.current = PiecedText.of(text);
    this.encoding = encoding;
    this.starts = lineStartsOf(text);
    this.count = this.starts.length;
    this.isAscii = isAscii(text);
  }

  get text(): string {
    return this.current.toString();
  }

  get lineCount(): number {
    return this.count;
  }

  /** Makes the changes of a client, one after the other; gives them as offsets, each with the text before it. */
  apply(changes: readonly TextDocumentContentChangeEvent[]): ChangeStep[] {
    return changes.map((change) => {
      const text = this.current;
      const made =
        "range" in change ? this.offsetsOf(change.range, change.text) : this.difference(change.text);
      this.replace(made);
      return { text, change: made };
    });
  }

  /** Offset of a position; one behind the end of its line counts as the line's end, one behind the text as its end. */
  offsetAt({ line, character }: Position): number {
    if (line < 0) return 0;
    if (line >= this.count) return this.current.length;
    const start = this.starts[line];
    const end = this.lineEnd(line);
    if (this.encoding === "utf-16" || this.isAscii) return Math.max(start, Math.min(start + character, end));
    let at = start;
    for (let units = 0; at < end; ) {
      const [bytes, length] = unitsAt(this.current, at);
      if (units + bytes > character) break;
      units += bytes;
      at += length;
    }
    return at;
  }

  positionAt(offset: number): Position {
    const at = Math.max(0, Math.min(offset, this.current.length));
    const line = this.lineOf(at);
    const start = this.starts[line];
    if (this.encoding === "utf-16" || this.isAscii) return { line, character: at - start };
    let character = 0;
    for (let i = start; i < at; ) {
      const [bytes, length] = unitsAt(this.current, i);
      character += bytes;
      i += length;
    }
    return { line, character };
  }

  rangeOf(start: number, end: number): Range {
    return { start: this.positionAt(start), end: this.positionAt(Math.max(start, end)) };
  }

  /** Offset of the end of a line, in front of its line break. */
  private lineEnd(line: number): number {
    if (line + 1 >= this.count) return this.current.length;
    let end = this.starts[line + 1] - 1;
    if (
      end > this.starts[line] &&
      this.current.charCodeAt(end) === 10 &&
      this.current.charCodeAt(end - 1) === 13
    ) {
      end--;
    }
    return end;
  }

  private lineOf(offset: number): number {
    let low = 0;
    let high = this.count - 1;
    while (low < high) {
      const middle = (low + high + 1) >> 1;
      if (this.starts[middle] <= offset) low = middle;
      else high = middle - 1;
    }
    return low;
  }

  private offsetsOf(range: Range, text: string): TextChange {
    const start = this.offsetAt(range.start);
    return { start, end: Math.max(start, this.offsetAt(range.end)), text };
  }

  /** A whole new text as the change that leaves what both begin and end with. */
  private difference(text: string): TextChange {
    const current = this.current.toString();
    const shorter = Math.min(current.length, text.length);
    let start = 0;
    while (start < shorter && current.charCodeAt(start) === text.charCodeAt(start)) start++;
    let kept = 0;
    while (
      kept < shorter - start &&
      current.charCodeAt(current.length - 1 - kept) === text.charCodeAt(text.length - 1 - kept)
    ) {
      kept++;
    }
    return { start, end: current.length - kept, text: text.slice(start, text.length - kept) };
  }

  private replace({ start, end, text }: TextChange): void {
    const before = this.current;
    this.current = before.replaced(start, end, text);
    if (this.isAscii && !isAscii(text)) this.isAscii = false;
    const delta = text.length - (end - start);
    // A line break of two characters may come together, or be taken apart, at either end of the change.
    const first = this.lineOf(Math.max(0, start - 1));
    const last = this.lineOf(Math.min(before.length, end + 1));
    const from = this.starts[first];
    const to = last + 1 < this.count ? this.starts[last + 1] + delta : this.current.length;
    const within = lineStartsOf(this.current.slice(from, to));
    // The piece's last line is the next one's start, unless the text ends there.
    const lines = last + 1 < this.count ? within.length - 1 : within.length;
    this.splice(first, last + 1, lines, delta);
    for (let i = 0; i < lines; i++) this.starts[first + i] = from + within[i];
  }

  /** Makes room for `lines` lines in place of those from `first` to `next`, and moves the ones behind by `delta`. */
  private splice(first: number, next: number, lines: number, delta: number): void {
    const count = this.count - (next - first) + lines;
    if (count > this.starts.length) {
      const wider = new Int32Array(count + (count >> 2) + 16);
      wider.set(this.starts.subarray(0, this.count));
      this.starts = wider;
    }
    const { starts } = this;
    starts.copyWithin(first + lines, next, this.count);
    this.count = count;
    if (delta !== 0) for (let i = first + lines; i < count; i++) starts[i] += delta;
  }
}

function isAscii(text: string): boolean {
  for (let i = 0; i < text.length; i++) if (text.charCodeAt(i) > 127) return false;
  return true;
}

/** Bytes in UTF-8, and code units in UTF-16, of the character at an offset. */
function unitsAt(text: PiecedText, at: number): readonly [number, number] {
  const code = text.charCodeAt(at);
  if (code < 0x80) return one;
  if (code < 0x800) return two;
  const isPair =
    code >= 0xd800 && code < 0xdc00 && at + 1 < text.length && (text.charCodeAt(at + 1) & 0xfc00) === 0xdc00;
  return isPair ? four : three;
}

const one = [1, 1] as const;
const two = [2, 1] as const;
const three = [3, 1] as const;
const four = [4, 2] as const;
