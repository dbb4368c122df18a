import { bracketAt, closingOf, groupOf, partsOf } from "./pattern-parts.ts";

/*
 * Patterns of paths, matched in time that grows with the path times the pattern and no faster: all ways in which a
 * pattern can be read go side by side along the path (Thompson, Regular Expression Search Algorithm, 1968). A regular
 * expression tries one after the other, which takes seconds for a dozen stars.
 */

/** A pattern that is not understood; the message says why. */
export class PatternError extends Error {
  override readonly name = "PatternError";
}

export interface PathPattern {
  /** Whether a whole path, with slashes, is meant. */
  matches(path: string): boolean;
  /** Whether paths that begin so may be meant. */
  mayBegin(start: string): boolean;
}

export interface PatternOptions {
  /** Whether wildcards take a dot at the beginning of a name. */
  readonly dots: boolean;
  readonly ignoresCase: boolean;
  /** As .gitignore has it: stars, question marks and brackets alone, and ** at the end takes one name at least. */
  readonly isGit?: boolean;
}

/** Patterns are written by people. */
const longestPattern = 4096;
const mostSteps = 20_000;
const deepest = 20;

type Step =
  | { readonly kind: "one"; readonly takes: (char: string) => boolean; readonly isWild: boolean }
  | { readonly kind: "go"; readonly to: number[] };

/** @throws PatternError */
export function pathPattern(text: string, options: PatternOptions): PathPattern {
  if (text.length > longestPattern) {
    throw new PatternError(
      `The pattern has ${text.length} characters, and at most ${longestPattern} are read.`,
    );
  }
  const steps = new Writer(options).written(text);
  const along = (path: string) =>
    statesAfter(steps, options.ignoresCase ? path.toLowerCase() : path, options.dots);
  return {
    matches: (path) => along(path).has(steps.length),
    mayBegin: (start) => along(start).size > 0,
  };
}

/** A text as a pattern that means it alone. */
export function escapedPath(path: string): string {
  return path.replaceAll("\\", "/").replace(/[*?[\]{}()!@+|]/g, "\\$&");
}

/** Whether a text has marks by which it means more than itself. */
export function isPattern(text: string): boolean {
  return /[*?[\]{}]|[@+!]\(/.test(text.replace(/\\./g, ""));
}

function statesAfter(steps: readonly Step[], path: string, dots: boolean): ReadonlySet<number> {
  let now = new Set<number>();
  reach(steps, 0, now);
  let before = "/";
  for (const char of path) {
    const next = new Set<number>();
    const isHidden = char === "." && before === "/" && !dots;
    for (const at of now) {
      const step = steps[at];
      if (step?.kind !== "one" || (isHidden && step.isWild) || !step.takes(char)) continue;
      reach(steps, at + 1, next);
    }
    if (next.size === 0) return next;
    now = next;
    before = char;
  }
  return now;
}

/** Adds a state, and all to which the way goes on without taking a character. */
function reach(steps: readonly Step[], from: number, into: Set<number>): void {
  const open = [from];
  for (let at = open.pop(); at !== undefined; at = open.pop()) {
    if (into.has(at)) continue;
    into.add(at);
    const step = steps[at];
    if (step?.kind === "go") open.push(...step.to);
  }
}

const isName = (char: string) => char !== "/";
const isSlash = (char: string) => char === "/";

/** Turns a pattern into steps. */
class Writer {
  private readonly steps: Step[] = [];
  private readonly options: PatternOptions;

  constructor(options: PatternOptions) {
    this.options = options;
  }

  written(text: string): readonly Step[] {
    this.sequence(text, true, true, 0);
    return this.steps;
  }

  private add(step: Step): number {
    if (this.steps.length >= mostSteps) throw new PatternError("The pattern means too many things at once.");
    return this.steps.push(step) - 1;
  }

  private one(takes: (char: string) => boolean, isWild: boolean): void {
    this.add({ kind: "one", takes, isWild });
  }

  /** What may be left out, or come again. */
  private perhaps(write: () => void, isRepeated: boolean): void {
    const way: number[] = [];
    const start = this.add({ kind: "go", to: way });
    write();
    if (isRepeated) this.add({ kind: "go", to: [start] });
    way.push(start + 1, this.steps.length);
  }

  private literal(char: string): void {
    const meant = this.options.ignoresCase ? char.toLowerCase() : char;
    this.one((other) => other === meant, false);
  }

  /**
   * @param isFirst whether a name of the path begins here
   * @param isLast whether the path ends behind it
   */
  private sequence(text: string, isFirst: boolean, isLast: boolean, depth: number): void {
    if (depth > deepest) throw new PatternError("The pattern's brackets are nested too deep.");
    for (let at = 0; at < text.length; ) at = this.piece(text, at, isFirst, isLast, depth);
  }

  /** Writes what stands at a place. Gives the place behind it. */
  private piece(text: string, at: number, isFirst: boolean, isLast: boolean, depth: number): number {
    const char = String.fromCodePoint(text.codePointAt(at) as number);
    const { isGit = false, ignoresCase } = this.options;
    if (char === "\\" && at + 1 < text.length) {
      const next = String.fromCodePoint(text.codePointAt(at + 1) as number);
      this.literal(next);
      return at + 1 + next.length;
    }
    const isStart = at === 0 ? isFirst : text[at - 1] === "/";
    if (char === "*") {
      let end = at;
      while (text[end] === "*") end++;
      const isEnd = end === text.length;
      if (end - at === 2 && isStart && (text[end] === "/" || (isEnd && isLast)))
        return this.names(end, isEnd);
      // An extended group follows the last star.
      const isGroup = !isGit && text[end] === "(" && closingOf(text, end) > 0;
      if (!isGroup || end - at > 1) this.perhaps(() => this.one(isName, true), true);
      if (!isGroup) return end;
      at = end - 1;
    }
    if (!isGit && "@+?*!".includes(char) && text[at + 1] === "(") {
      const group = groupOf(text, at + 1);
      if (group !== null) return this.group(char, group.parts, isStart, depth, group.end);
    }
    if (char === "?") {
      this.one(isName, true);
      return at + 1;
    }
    const bracket = char === "[" ? bracketAt(text, at, ignoresCase) : null;
    if (bracket !== null) {
      this.one((other) => isName(other) && bracket.takes(other), true);
      return bracket.end;
    }
    const parts = char === "{" && !isGit ? partsOf(text, at) : null;
    if (parts !== null) {
      this.either(parts.parts, isStart, isLast && parts.end === text.length, depth);
      return parts.end;
    }
    this.literal(char);
    return at + char.length;
  }

  /** Any number of names, each with its slash; at the end of the path, all that is beneath. */
  private names(end: number, isEnd: boolean): number {
    const name = () => {
      this.one(isName, true);
      this.perhaps(() => this.one(isName, true), true);
    };
    if (!isEnd) {
      this.perhaps(() => {
        name();
        this.one(isSlash, false);
      }, true);
      return end + 1;
    }
    const all = () => {
      name();
      this.perhaps(() => {
        this.one(isSlash, false);
        name();
      }, true);
    };
    if (this.options.isGit === true) all();
    else this.perhaps(all, false);
    return end;
  }

  private group(
    mark: string,
    parts: readonly string[],
    isFirst: boolean,
    depth: number,
    end: number,
  ): number {
    if (mark === "!") throw new PatternError("Patterns with !(…) are not read; name what is meant instead.");
    const write = () => this.either(parts, isFirst, false, depth);
    if (mark === "@") write();
    else if (mark === "+") {
      write();
      this.perhaps(write, true);
    } else this.perhaps(write, mark === "*");
    return end;
  }

  private either(parts: readonly string[], isFirst: boolean, isLast: boolean, depth: number): void {
    const starts: number[] = [];
    this.add({ kind: "go", to: starts });
    const ends: number[][] = [];
    for (const part of parts) {
      starts.push(this.steps.length);
      this.sequence(part, isFirst, isLast, depth + 1);
      const end: number[] = [];
      ends.push(end);
      this.add({ kind: "go", to: end });
    }
    for (const end of ends) end.push(this.steps.length);
  }
}
