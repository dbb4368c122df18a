import type { Study } from "../base/study.ts";
import { type BodyPart, bodyParts } from "../document/schema.ts";
import { figureOfNode, figuresOf } from "../rig/body.ts";
import { rigOf } from "../rig/rig.ts";
import { type Operator, subjectName, type Term } from "./plan.ts";
import { type At, series } from "./series.ts";

/** In what an expression is read: the shot, the node and the figure that it is about. */
export interface Context {
  readonly study: Study;
  /** Rig index; -1 for none. */
  readonly subject: number;
  /** Index of the figure whose body parts are meant; -1 for none. */
  readonly figure: number;
  /** Metres of a body height. */
  readonly stature: number;
}

/**
 * An expression as a function of the judged frame, made once per shot and subject; calling it allocates nothing.
 * @returns null where the shot has no node of a name that stands in it, or no such series
 */
export function bind(term: Term, context: Context): At | null {
  switch (term.op) {
    case "number":
      return constant(term.value);
    case "heights":
      return constant(term.value * context.stature);
    case "series": {
      const nodes = term.of.map((name) => nodeNamed(name, context));
      if (nodes.some((node) => node < 0)) return null;
      return series[term.name].bind(context.study, nodes, term.channel);
    }
    default: {
      const parts: At[] = [];
      for (const part of term.of) {
        const at = bind(part, context);
        if (at === null) return null;
        parts.push(at);
      }
      return operate(term.op, parts);
    }
  }
}

/** Rig index of a name in an expression: the subject, a node's id, or a body part of the figure; -1 for none. */
function nodeNamed(name: string, { study, subject, figure }: Context): number {
  if (name === subjectName) return subject;
  const node = rigOf(study).indexOf.get(name);
  if (node !== undefined) return node;
  if (!(bodyParts as readonly string[]).includes(name)) return -1;
  const figures = figuresOf(study);
  const own = figure >= 0 ? figure : subject >= 0 ? figureOfNode(study, subject) : -1;
  const among = own >= 0 ? [figures[own]] : figures;
  for (const one of among) {
    const [first] = one.parts.get(name as BodyPart) ?? [];
    if (first !== undefined) return first;
  }
  return -1;
}

/** The nodes that stand in an expression, each once. */
export function nodesIn(terms: readonly (Term | null)[], context: Context): number[] {
  const nodes = new Set<number>();
  const visit = (term: Term) => {
    if (term.op === "series") {
      for (const name of term.of) nodes.add(nodeNamed(name, context));
    } else if (term.op !== "number" && term.op !== "heights") term.of.forEach(visit);
  };
  for (const term of terms) if (term !== null) visit(term);
  nodes.delete(-1);
  return [...nodes];
}

function constant(value: number): At {
  return () => value;
}

/** What an operator gives for its parts at a frame. */
export function operate(op: Operator, parts: readonly At[]): At {
  const [a, b] = parts as readonly [At, At];
  switch (op) {
    case "add":
      return (i) => a(i) + b(i);
    case "subtract":
      return (i) => a(i) - b(i);
    case "multiply":
      return (i) => a(i) * b(i);
    case "divide":
      return (i) => a(i) / b(i);
    case "pow":
      return (i) => a(i) ** b(i);
    case "unaryMinus":
      return (i) => -a(i);
    case "smaller":
      return (i) => (a(i) < b(i) ? 1 : 0);
    case "smallerEq":
      return (i) => (a(i) <= b(i) ? 1 : 0);
    case "larger":
      return (i) => (a(i) > b(i) ? 1 : 0);
    case "largerEq":
      return (i) => (a(i) >= b(i) ? 1 : 0);
    case "equal":
      return (i) => (a(i) === b(i) ? 1 : 0);
    case "unequal":
      return (i) => (a(i) !== b(i) ? 1 : 0);
    case "and":
      return (i) => (a(i) !== 0 && b(i) !== 0 ? 1 : 0);
    case "or":
      return (i) => (a(i) !== 0 || b(i) !== 0 ? 1 : 0);
    case "not":
      return (i) => (a(i) === 0 ? 1 : 0);
    case "abs":
      return (i) => Math.abs(a(i));
    case "sqrt":
      return (i) => Math.sqrt(a(i));
    case "min":
      return extreme(parts, Math.min);
    case "max":
      return extreme(parts, Math.max);
  }
}

function extreme(parts: readonly At[], pick: (a: number, b: number) => number): At {
  return (i) => {
    let value = parts[0](i);
    for (let k = 1; k < parts.length; k++) value = pick(value, parts[k](i));
    return value;
  };
}
