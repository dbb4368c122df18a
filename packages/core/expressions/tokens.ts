import { ExpressionError } from "./expression-error.ts";

/** A word of an expression and where it stands, counted from 1. */
export interface Token {
  readonly text: string;
  readonly column: number;
  /** Whether it stands for itself in the parsed tree: a name, a number or a quoted name. */
  readonly isLeaf: boolean;
}

/** Longest expression. */
export const maxLength = 500;
/** Deepest nesting of brackets. */
const maxDepth = 24;

const token =
  /\s+|"[^"\\\n]*"|'[^'\\\n]*'|(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?|[\p{L}_][\p{L}\p{N}_]*|[=!<>]=|[-+*/^(),<>]|./gsu;
const operatorWords = new Set(["and", "or", "not"]);
/** Words that the parser would read as operators of its own. */
const otherWords = new Set(["xor", "mod", "to", "in"]);

/**
 * Cuts an expression into words. What is let through here is all that the parser ever sees: no brackets but round
 * ones, no dots but in numbers, no assignment, no strings but quoted names.
 * @throws ExpressionError at the first thing that cannot stand there
 */
export function tokensOf(text: string): Token[] {
  if (text.length > maxLength) {
    throw new ExpressionError(
      `An expression has at most ${maxLength} characters; this one has ${text.length}.`,
      null,
    );
  }
  const tokens: Token[] = [];
  let depth = 0;
  for (const { 0: word, index } of text.matchAll(token)) {
    const column = index + 1;
    if (word.trim() === "") continue;
    if (word === "0" && /[a-z]/i.test(text.charAt(index + 1))) {
      throw new ExpressionError("Numbers are written in decimal.", column);
    }
    if (word === "(") depth++;
    if (word === ")") depth--;
    if (depth > maxDepth) throw new ExpressionError(`Brackets are nested deeper than ${maxDepth}.`, column);
    const isName = /^[\p{L}_]/u.test(word);
    if (isName && otherWords.has(word)) throw new ExpressionError(`"${word}" has no meaning here.`, column);
    const isLeaf = (isName && !operatorWords.has(word)) || /^["'\d.]/.test(word);
    const isKnown = isLeaf || isName || /^(?:[=!<>]=|[-+*/^(),<>])$/.test(word);
    if (!isKnown || word === "." || word === '"' || word === "'")
      throw new ExpressionError(reason(word), column);
    tokens.push({ text: word, column, isLeaf });
  }
  return tokens;
}

function reason(word: string): string {
  switch (word) {
    case "=":
      return '"=" sets nothing here; to compare, write == or >=.';
    case "%":
      return '"%" cannot stand here; write 0.05 for 5 %.';
    case "&":
      return '"&" cannot stand here; write and.';
    case "|":
      return '"|" cannot stand here; write or.';
    case "!":
      return '"!" cannot stand here; write not.';
    case '"':
    case "'":
      return "A quoted name does not end, or holds a backslash or a line break.";
    default:
      return `"${word}" cannot stand in an expression.`;
  }
}
