import type { Dimension } from "../base/quantity.ts";
import type { Channel } from "../document/model.ts";
import type { BodyPart } from "../document/schema.ts";
import type { OwnCheck } from "../settings/settings.ts";
import type { SeriesName } from "./series.ts";

/**
 * A studio's own check after its expressions have been read: plain data that survives JSON, so that it can be handed
 * to worker threads and be part of a cache's key. Units are resolved to metres, seconds and radians; nothing in it is
 * ever evaluated as code.
 */
export interface OwnCheckPlan extends OwnCheck {
  readonly subject: OwnSubject;
  readonly when: Term | null;
  readonly condition: Term;
  /** The comparison that is told as a measured value and its limit; null where the condition holds none. */
  readonly compared: Compared | null;
  /** For how many frames at 24 per second the condition must hold. */
  readonly frames: number;
  readonly message: Template;
  readonly suggestion: Template;
  readonly why: string;
  /** The expression as it was written. */
  readonly text: string;
}

/** On what the check is run: nodes by id (with * for any characters), a body part, a figure, or the shot. */
export type OwnSubject =
  | { readonly kind: "node"; readonly pattern: string; readonly figure?: string }
  | { readonly kind: "part"; readonly part: BodyPart; readonly figure?: string }
  | { readonly kind: "figure"; readonly figure: string }
  | { readonly kind: "shot" };

export interface Compared {
  readonly value: Term;
  readonly limit: Term;
  /** Whether the limit is the most or the least that the value should have been. */
  readonly side: "max" | "min";
  readonly text: string;
  readonly quantity: Dimension;
}

/** Text with values in it. */
export type Template = readonly (
  | string
  | { readonly value: Term; readonly quantity: Dimension }
  | { readonly subject: true }
)[];

export const operators = [
  "add",
  "subtract",
  "multiply",
  "divide",
  "pow",
  "unaryMinus",
  "smaller",
  "smallerEq",
  "larger",
  "largerEq",
  "equal",
  "unequal",
  "and",
  "or",
  "not",
  "abs",
  "sqrt",
  "min",
  "max",
] as const;
export type Operator = (typeof operators)[number];

/** One term of an expression. */
export type Term =
  | { readonly op: "number"; readonly value: number }
  /** So many body heights, in metres. */
  | { readonly op: "heights"; readonly value: number }
  | {
      readonly op: "series";
      readonly name: SeriesName;
      readonly of: readonly string[];
      readonly channel?: Channel;
    }
  | { readonly op: Operator; readonly of: readonly Term[] };

/** The name by which expressions mean the node that the check is run on. */
export const subjectName = "subject";

/** Whether a term depends on the motion. */
export function hasSeries(term: Term): boolean {
  return term.op === "series" || (term.op !== "number" && term.op !== "heights" && term.of.some(hasSeries));
}
