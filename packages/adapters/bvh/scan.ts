/** A word of a text and where it stands. */
export interface Token {
  readonly text: string;
  readonly start: number;
  readonly end: number;
}

/** Walks over a text word by word; braces are words of their own. */
export class Scanner {
  at = 0;
  readonly text: string;

  constructor(text: string) {
    this.text = text;
    if (text.charCodeAt(0) === 0xfeff) this.at = 1;
  }

  /** The next word without going on; null at the end. */
  peek(): Token | null {
    const { text } = this;
    let start = this.at;
    while (start < text.length && isBlank(text.charCodeAt(start))) start++;
    if (start === text.length) return null;
    let end = start + 1;
    if (!isBrace(text.charCodeAt(start))) {
      while (end < text.length && !isBlank(text.charCodeAt(end)) && !isBrace(text.charCodeAt(end))) end++;
    }
    return { text: text.slice(start, end), start, end };
  }

  next(): Token | null {
    const token = this.peek();
    this.at = token?.end ?? this.text.length;
    return token;
  }

  /** What is left of the line up to a brace, without blanks around; empty where nothing is. */
  restOfLine(): Token {
    const { text } = this;
    let start = this.at;
    while (start < text.length && isSpace(text.charCodeAt(start))) start++;
    let end = start;
    while (end < text.length && !isLineEnd(text.charCodeAt(end)) && !isBrace(text.charCodeAt(end))) end++;
    this.at = end;
    while (end > start && isSpace(text.charCodeAt(end - 1))) end--;
    return { text: text.slice(start, end), start, end };
  }
}

export function isLineEnd(code: number): boolean {
  return code === 10 || code === 13;
}

/** Blank, tab and whatever else separates words within a line. */
export function isSpace(code: number): boolean {
  return code === 32 || code === 9 || code === 11 || code === 12 || code === 160;
}

function isBlank(code: number): boolean {
  return isSpace(code) || isLineEnd(code);
}

function isBrace(code: number): boolean {
  return code === 123 || code === 125;
}
