/** An expression that cannot be used: the reason in a sentence, and where in the text, counted from 1. */
export class ExpressionError extends Error {
  override readonly name = "ExpressionError";
  readonly column: number | null;

  constructor(message: string, column: number | null) {
    super(message);
    this.column = column;
  }
}
