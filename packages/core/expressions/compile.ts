import { create, type MathNode, parseDependencies } from "mathjs";
import { suggestion } from "../base/nearest.ts";
import type { Dimension } from "../base/quantity.ts";
import { unitNamed } from "../base/written-units.ts";
import { type Channel, channels } from "../document/model.ts";
import { operate } from "./bind.ts";
import { kindInWords, plainNumber, product, type Result, sameKind } from "./dimension.ts";
import { ExpressionError } from "./expression-error.ts";
import { type Compared, hasSeries, type Operator, operators, subjectName, type Term } from "./plan.ts";
import { quantityOfChannel, type SeriesName, series, seriesNamed } from "./series.ts";
import { type Token, tokensOf } from "./tokens.ts";
import { childrenOf, type Tree } from "./tree.ts";

/**
 * Reads expressions. mathjs is used as a parser alone: its tree is walked once, everything in it that is not known here
 * is refused, and what comes out is data ({@link Term}). Nothing is evaluated by it, so none of its functions can be
 * reached. Importing it takes long; nothing imports this file but `readOwnChecks`.
 */
const math = create({ parseDependencies });

/** More terms than these are refused. */
const maxTerms = 150;

/** An expression that has been read. */
export interface Compiled {
  readonly term: Term;
  readonly kind: Result;
  /** The comparison that decides: the whole expression, or the first one that has to hold. */
  readonly compared: Compared | null;
}

/**
 * Reads an expression: its names, units and kinds are checked, and units become metres, seconds and radians.
 * @param hasSubject whether the name "subject" has a meaning
 * @throws ExpressionError with the place of what is wrong
 */
export function compile(text: string, hasSubject: boolean): Compiled {
  const tokens = tokensOf(text);
  if (tokens.length === 0) throw new ExpressionError("There is no expression.", null);
  const compiler = new Compiler(tokens, hasSubject);
  const root = compiler.parse(text);
  const { term, kind } = compiler.read(root);
  return { term, kind, compared: compiler.comparedIn(root) };
}

interface Typed {
  readonly term: Term;
  readonly kind: Result;
}

const comparisons = new Set<string>(["smaller", "smallerEq", "larger", "largerEq"]);
const equalities = new Set<string>(["equal", "unequal"]);
const functions = new Set<string>(["abs", "sqrt", "min", "max"]);

class Compiler {
  private readonly leaves: readonly Token[];
  private readonly columns = new Map<Tree, number>();
  private readonly known = new Map<Tree, Typed>();
  private readonly hasSubject: boolean;
  private terms = 0;

  constructor(tokens: readonly Token[], hasSubject: boolean) {
    this.leaves = tokens.filter(({ isLeaf }) => isLeaf);
    this.hasSubject = hasSubject;
  }

  parse(text: string): Tree {
    let root: Tree;
    try {
      root = math.parse(text.replaceAll(/\s/g, " ")) as MathNode as unknown as Tree;
    } catch (error) {
      if (error instanceof RangeError) throw new ExpressionError("It is nested too deeply.", null);
      const { message, char } = error as Error & { readonly char?: number };
      throw new ExpressionError(`${message.replace(/ \(char \d+\)$/, "")}.`, char ?? null);
    }
    let next = 0;
    const place = (node: Tree, depth: number): void => {
      if (depth > 200) throw new ExpressionError("It is nested too deeply.", null);
      const inside = childrenOf(node);
      if (inside.length === 0) {
        // Leaves stand in the tree in the order in which they are written.
        const leaf = this.leaves[next++];
        if (leaf !== undefined) this.columns.set(node, leaf.column);
        return;
      }
      for (const child of inside) place(child, depth + 1);
      this.columns.set(node, this.columns.get(inside[0]) ?? 1);
    };
    place(root, 0);
    // A tree that does not hold exactly the words that were let through has been read in some other way.
    if (next !== this.leaves.length) throw new ExpressionError("It cannot be read.", null);
    return root;
  }

  read(node: Tree): Typed {
    if (++this.terms > maxTerms) throw new ExpressionError(`It has more than ${maxTerms} terms.`, null);
    const typed = this.readNode(node);
    this.known.set(node, typed);
    return typed;
  }

  /** The comparison in a condition that says what was measured; in "a and b" the first that is one. */
  comparedIn(node: Tree): Compared | null {
    if (node.type === "ParenthesisNode") return this.comparedIn(node.content as Tree);
    if (node.type !== "OperatorNode") return null;
    const [left, right] = node.args as readonly [Tree, Tree];
    if (node.fn === "and") return this.comparedIn(left) ?? this.comparedIn(right);
    if (!comparisons.has(node.fn as string)) return null;
    const [a, b] = [this.known.get(left) as Typed, this.known.get(right) as Typed];
    // The side that holds a series is what is measured; the other one is its limit.
    const isLeft = hasSeries(a.term) || !hasSeries(b.term);
    const [value, limit, tree] = isLeft ? [a, b, left] : [b, a, right];
    const isLarger = (node.fn as string).startsWith("larger") === isLeft;
    return {
      value: value.term,
      limit: limit.term,
      side: isLarger ? "max" : "min",
      text: String(tree),
      quantity: value.kind as Dimension,
    };
  }

  private readNode(node: Tree): Typed {
    switch (node.type) {
      case "ParenthesisNode":
        return this.read(node.content as Tree);
      case "ConstantNode":
        if (typeof node.value === "number" && Number.isFinite(node.value)) {
          return { term: { op: "number", value: node.value }, kind: plainNumber };
        }
        throw this.error(node, `${JSON.stringify(node.value) ?? "This"} is no number that can be used here.`);
      case "SymbolNode":
        return this.unit(node);
      case "OperatorNode":
        return this.operator(node);
      case "RelationalNode":
        return this.chain(node);
      case "FunctionNode":
        return this.call(node);
      default:
        throw this.error(node, "This cannot stand in an expression.");
    }
  }

  /** A name that stands alone: a unit, or π. */
  private unit(node: Tree): Typed {
    const name = node.name as string;
    if (name === "pi") return { term: { op: "number", value: Math.PI }, kind: plainNumber };
    const unit = unitNamed(name);
    if (unit === null) {
      const hint = seriesNamed(name) === undefined ? suggestion(name, Object.keys(series)) : "";
      const named =
        seriesNamed(name) === undefined ? "" : ` ${series[name as SeriesName].written} gives its values.`;
      throw this.error(
        node,
        `There is no unit "${name}"; nodes stand in brackets, as in speed(${name}).${named}${hint}`,
      );
    }
    const op = unit.isHeights ? "heights" : "number";
    return { term: { op, value: unit.factor }, kind: unit.quantity };
  }

  private operator(node: Tree): Typed {
    const name = node.fn as string;
    const args = (node.args as readonly Tree[]).map((arg) => this.read(arg));
    const column = node.args?.[0] ?? node;
    if (!(operators as readonly string[]).includes(name) || functions.has(name)) {
      throw this.error(column, `The operator "${node.op}" is not known here.`);
    }
    const op = name as Operator;
    const [a, b] = args;
    switch (op) {
      case "and":
      case "or":
      case "not":
        node.args?.forEach((arg, i) => {
          if (args[i].kind !== "truth")
            throw this.error(arg, `"${op}" takes yes or no; this is ${kindInWords(args[i].kind)}.`);
        });
        return folded(op, args, "truth");
      case "unaryMinus":
        return folded(op, args, this.quantity(a, node.args?.[0] as Tree));
      case "multiply":
      case "divide": {
        const [x, y] = this.quantities(args, node);
        return folded(op, args, product(x, y, op === "multiply" ? 1 : -1));
      }
      case "pow": {
        const [x] = this.quantities(args, node);
        const power = b.term.op === "number" ? b.term.value : Number.NaN;
        if (!Number.isInteger(power) || Math.abs(power) > 4) {
          throw this.error(node.args?.[1] as Tree, "A power is a whole number from -4 to 4.");
        }
        return folded(op, args, product(plainNumber, x, power));
      }
      default:
        this.alike(args, node.args as readonly Tree[], equalities.has(op));
        return folded(op, args, comparisons.has(op) || equalities.has(op) ? "truth" : a.kind);
    }
  }

  /** "a < b < c": each pair in turn. */
  private chain(node: Tree): Typed {
    const params = node.params as readonly Tree[];
    const args = params.map((param) => this.read(param));
    this.alike(args, params, false);
    const pairs = (node.conditionals as readonly Operator[]).map((op, i): Typed => {
      if (!comparisons.has(op)) throw this.error(params[i], "Only <, <=, > and >= can be chained.");
      return folded(op, [args[i], args[i + 1]], "truth");
    });
    return pairs.reduce((left, right) => folded("and", [left, right], "truth"));
  }

  private call(node: Tree): Typed {
    const fn = node.fn as Tree;
    const name = fn.type === "SymbolNode" ? (fn.name as string) : "";
    const args = node.args as readonly Tree[];
    if (functions.has(name)) return this.arithmetic(name as Operator, node, args);
    const found = seriesNamed(name);
    if (found === undefined) {
      const all = [...Object.keys(series), ...functions];
      throw this.error(
        node,
        `There is no series "${name}".${suggestion(name, all)} Known are ${all.join(", ")}.`,
      );
    }
    const takesChannel = found.kind === "by channel";
    const [least, most] = found.nodes;
    const count = args.length - (takesChannel ? 1 : 0);
    if (count < least || count > most) throw this.error(node, `It is written ${found.written}.`);
    const nodes = args.slice(0, count).map((arg) => this.nodeName(arg, found.written));
    const term = { op: "series", name: name as SeriesName, of: nodes } as const;
    if (found.kind !== "by channel") return { term, kind: found.kind };
    const channel = this.channel(args.at(-1) as Tree);
    return { term: { ...term, channel }, kind: quantityOfChannel(channel) };
  }

  private arithmetic(op: Operator, node: Tree, args: readonly Tree[]): Typed {
    const isSingle = op === "abs" || op === "sqrt";
    if (isSingle ? args.length !== 1 : args.length < 2 || args.length > 8) {
      throw this.error(node, `${op} takes ${isSingle ? "one value" : "two to eight values"}.`);
    }
    const values = args.map((arg) => this.read(arg));
    const quantity = this.quantity(values[0], args[0]);
    this.alike(values, args, false);
    if (op !== "sqrt") return folded(op, values, quantity);
    if (quantity.some((power) => power % 2 !== 0)) {
      throw this.error(args[0], `${kindInWords(quantity)} has no square root.`);
    }
    return folded(op, values, [quantity[0] / 2, quantity[1] / 2, quantity[2] / 2]);
  }

  private nodeName(node: Tree, written: string): string {
    const name =
      node.type === "SymbolNode" ? node.name : node.type === "ConstantNode" ? node.value : undefined;
    if (typeof name !== "string" || name === "") {
      throw this.error(
        node,
        `The name of a node is wanted here: ${written}. Quote a name that is no plain word.`,
      );
    }
    if (name === subjectName && !this.hasSubject) {
      throw this.error(node, `"${subjectName}" needs "node", "part" or "figure" beside the expression.`);
    }
    return name;
  }

  private channel(node: Tree): Channel {
    const name = node.type === "ConstantNode" ? node.value : undefined;
    const numbers = channels.filter((channel) => channel !== "rotation");
    if (typeof name === "string" && (numbers as readonly string[]).includes(name)) return name as Channel;
    const hint = typeof name === "string" ? suggestion(name, numbers) : "";
    throw this.error(node, `A channel is wanted here, in quotes: ${numbers.join(", ")}.${hint}`);
  }

  private quantities(args: readonly Typed[], node: Tree): Dimension[] {
    return args.map((arg, i) => this.quantity(arg, node.args?.[i] as Tree));
  }

  private quantity({ kind }: Typed, node: Tree): Dimension {
    if (kind === "truth") throw this.error(node, "A number is wanted here; this is yes or no.");
    return kind;
  }

  private alike(args: readonly Typed[], nodes: readonly Tree[], truthToo: boolean): void {
    const first = args[0].kind;
    if (!truthToo) this.quantity(args[0], nodes[0]);
    for (let i = 1; i < args.length; i++) {
      if (!sameKind(first, args[i].kind)) {
        const [a, b] = [kindInWords(first), kindInWords(args[i].kind)];
        throw this.error(nodes[i], `${a} (${nodes[0]}) cannot be compared with ${b} (${nodes[i]}).`);
      }
    }
  }

  private error(node: Tree, message: string): ExpressionError {
    const text = message.charAt(0).toUpperCase() + message.slice(1);
    return new ExpressionError(text, this.columns.get(node) ?? null);
  }
}

/** An operation; on numbers alone it is done here, once. */
function folded(op: Operator, args: readonly Typed[], kind: Result): Typed {
  const of = args.map(({ term }) => term);
  if (kind !== "truth" && of.every((term) => term.op === "number")) {
    const value = operate(
      op,
      of.map((term) => () => (term as { readonly value: number }).value),
    )(0);
    if (Number.isFinite(value)) return { term: { op: "number", value }, kind };
  }
  return { term: { op, of }, kind };
}
