/** Characters of a piece when a text is cut; an edit copies a piece or two, and the list of pieces. */
const pieceLength = 16_384;

/**
 * A text in pieces, so that an edit of a long one copies little of it. A text is never changed: an edit makes another
 * one, which shares the pieces that it leaves alone.
 */
export class PiecedText {
  readonly length: number;
  private readonly pieces: readonly string[];
  /** Offset at which each piece starts. */
  private readonly starts: Float64Array;
  private joined: string | null = null;

  private constructor(pieces: readonly string[], joined: string | null = null) {
    this.pieces = pieces;
    this.joined = joined;
    this.starts = new Float64Array(pieces.length);
    let length = 0;
    for (let i = 0; i < pieces.length; i++) {
      this.starts[i] = length;
      length += pieces[i].length;
    }
    this.length = length;
  }

  static of(text: string): PiecedText {
    return new PiecedText(cut(text), text);
  }

  /** The characters from one offset up to another, both within the text. */
  slice(start: number, end: number): string {
    if (this.joined !== null) return this.joined.slice(start, end);
    let at = this.pieceAt(start);
    let text = this.pieces[at].slice(start - this.starts[at], end - this.starts[at]);
    while (++at < this.pieces.length && this.starts[at] < end) {
      text += this.pieces[at].slice(0, end - this.starts[at]);
    }
    return text;
  }

  charCodeAt(offset: number): number {
    const at = this.pieceAt(offset);
    return this.pieces[at].charCodeAt(offset - this.starts[at]);
  }

  /** The text with other characters in place of those from one offset up to another. */
  replaced(start: number, end: number, text: string): PiecedText {
    const first = this.pieceAt(start);
    const last = this.pieceAt(end);
    const head = this.pieces[first].slice(0, start - this.starts[first]);
    const tail = this.pieces[last].slice(end - this.starts[last]);
    const next = last + 1;
    const changed = head + text + tail;
    // Pieces that edits leave small are put to the one behind.
    const joins = changed.length < pieceLength / 4 && next < this.pieces.length;
    return new PiecedText([
      ...this.pieces.slice(0, first),
      ...cut(joins ? changed + this.pieces[next] : changed),
      ...this.pieces.slice(joins ? next + 1 : next),
    ]);
  }

  toString(): string {
    this.joined ??= this.pieces.join("");
    return this.joined;
  }

  /** Index of the piece that holds an offset; of the last one for the text's end. */
  private pieceAt(offset: number): number {
    let low = 0;
    let high = this.pieces.length - 1;
    while (low < high) {
      const middle = (low + high + 1) >> 1;
      if (this.starts[middle] <= offset) low = middle;
      else high = middle - 1;
    }
    return low;
  }
}

/** A text as pieces of the usual length, at least one; a piece may be half as long again. */
function cut(text: string): string[] {
  const pieces: string[] = [];
  let at = 0;
  while (text.length - at > 1.5 * pieceLength) {
    pieces.push(text.slice(at, at + pieceLength));
    at += pieceLength;
  }
  pieces.push(at === 0 ? text : text.slice(at));
  return pieces;
}
