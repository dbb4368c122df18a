import { readFileSync } from "node:fs";
import { dirname, resolve } from "node:path";

/** A name that an entry point gives, with where it is declared. */
export interface PublicName {
  readonly name: string;
  readonly kind: "function" | "measure" | "class" | "value" | "type";
  /** Path of the source that declares it. */
  readonly file: string;
  /** Heading of the group in which the entry lists it. */
  readonly group: string;
  /** The comment above the declaration, without its stars; null where there is none. */
  readonly docs: string | null;
  /** What can be called: the function itself, or the methods of a class. */
  readonly calls: readonly Callable[];
}

/** Something that can be called, as its source declares it. */
export interface Callable {
  readonly name: string;
  readonly docs: string | null;
  readonly parameters: readonly { readonly name: string; readonly type: string }[];
  /** Type of the result; "" where the source leaves it to be inferred. */
  readonly result: string;
  readonly body: string;
}

/**
 * The names that an entry point exports, in its order, with their declarations. An entry is a list of
 * `export { … } from "…"` under comments that name the groups.
 * @throws Error for a statement of another form, and for a name whose declaration is not found
 */
export function publicNames(entry: string): PublicName[] {
  const names: PublicName[] = [];
  let group = "";
  const head = /^\/\*\*[\s\S]*?\*\/\n/.exec(readFileSync(entry, "utf8"))?.[0] ?? "";
  const text = readFileSync(entry, "utf8").slice(head.length);
  for (const statement of text.matchAll(
    /\/\/ (.*)\n|export (?:type )?\{([^}]*)\} from "([^"]+)";\n|\S.*\n/g,
  )) {
    const [whole, heading, list, from] = statement;
    if (heading !== undefined) group = heading;
    else if (list === undefined || from === undefined) throw new Error(`Not a named list: ${whole.trim()}`);
    else for (const name of namesIn(list)) names.push(declared(name, resolve(dirname(entry), from), group));
  }
  return names;
}

function namesIn(list: string): string[] {
  return list
    .split(",")
    .map((name) => name.trim().replace(/^type /, ""))
    .filter((name) => name !== "");
}

function declared(name: string, file: string, group: string): PublicName {
  const text = readFileSync(file, "utf8");
  const pattern = new RegExp(
    `^export (?:async )?(function\\*?|const|class|interface|type) ${name}(?![\\w$])`,
    "m",
  );
  const found = pattern.exec(text);
  if (found === null) {
    for (const [, list = "", from = ""] of text.matchAll(
      /export (?:type )?(\*|\{[^}]*\}) from "([^"]+)";/g,
    )) {
      if (list !== "*" && !namesIn(list.slice(1, -1)).includes(name)) continue;
      try {
        return declared(name, resolve(dirname(file), from), group);
      } catch {
        // It may stand in another one.
      }
    }
    throw new Error(`${name} is not declared in ${file}.`);
  }
  const docs = commentAbove(text, found.index);
  const rest = text.slice(found.index);
  const common = { name, file, group, docs };
  switch (found[1]) {
    case "function":
    case "function*":
      return { ...common, kind: "function", calls: [callableAt(rest, name, docs)] };
    case "class":
      return { ...common, kind: "class", calls: methodsOf(rest, name) };
    case "const": {
      const made = /^[^=]*= (measure|shotMeasure|shotInput)\b(?:<([^(]*)>)?\(/.exec(rest);
      if (made === null) return { ...common, kind: "value", calls: [] };
      return { ...common, kind: "measure", calls: [measureAt(rest, name, docs, made[1], made[2])] };
    }
    default:
      return { ...common, kind: "type", calls: [] };
  }
}

/** The text of the comment that ends right above an offset. */
function commentAbove(text: string, offset: number): string | null {
  const found = /\/\*\*((?:(?!\*\/)[\s\S])*)\*\/\s*$/.exec(text.slice(0, offset));
  return found === null ? null : (found[1] ?? "").replace(/^\s*\*? ?/gm, "").trim();
}

/** What is called by a measure: its key, whatever it is named, and what it computes. */
function measureAt(
  rest: string,
  name: string,
  docs: string | null,
  maker = "",
  types: string | undefined = undefined,
): Callable {
  const [keyType, written] = maker === "measure" ? (types?.split(/,(.*)/s) ?? []) : ["", types];
  const statement = rest.slice(0, /\n\S|$(?![\s\S])/.exec(rest)?.index);
  const [, key, inline, result] =
    /\(\s*(?:study|_\w*)(?:: Study)?(?:, (\w+)(?:: ([^)]+))?)?\)(?:: ([^=]+))? =>/.exec(statement) ?? [];
  return {
    name,
    docs,
    parameters: maker === "measure" ? [{ name: key ?? "key", type: inline ?? keyType ?? "" }] : [],
    result: (result ?? written ?? "").trim(),
    body: statement,
  };
}

/** A function or method whose text begins at its name or before it. */
function callableAt(text: string, name: string, docs: string | null): Callable {
  const open = text.indexOf(
    "(",
    name === "constructor" ? 0 : skipTypes(text, text.indexOf(name) + name.length),
  );
  const close = closing(text, open);
  const [, result = ""] = /^:\s*((?:[^{=;]|\{[^}]*\}|=>)*?)\s*\{\n/.exec(text.slice(close + 1)) ?? [];
  const start = text.indexOf("{\n", close);
  return {
    name,
    docs,
    parameters: parametersIn(text.slice(open + 1, close)),
    result,
    body: start < 0 ? "" : blockAt(text, start, /^ */.exec(text)?.[0] ?? ""),
  };
}

/** A block from its opening brace to the closing one, which formatting puts at its own depth. */
function blockAt(text: string, open: number, indent: string): string {
  const end = text.indexOf(`\n${indent}}`, open);
  return text.slice(open, end < 0 ? undefined : end + indent.length + 2);
}

/** Where the list of type parameters behind a name ends. */
function skipTypes(text: string, at: number): number {
  return text[at] === "<" ? closing(text, at) : at;
}

/** The bracket that closes the one at an offset; arrows are passed over. */
function closing(text: string, open: number): number {
  let depth = 0;
  for (let i = open; i < text.length; i++) {
    const at = text[i] as string;
    if (at === "=" && text[i + 1] === ">") i++;
    else if ("([{".includes(at) || (at === "<" && text[open] === "<")) depth++;
    else if (")]}".includes(at) || (at === ">" && text[open] === "<")) depth--;
    if (depth === 0) return i;
  }
  throw new Error(`Nothing closes ${text.slice(open, open + 40)}`);
}

function parametersIn(list: string): { name: string; type: string }[] {
  const parts: string[] = [];
  let from = 0;
  for (let i = 0; i < list.length; i++) {
    if (list[i] === "=" && list[i + 1] === ">") i++;
    else if ("([{<".includes(list[i] as string)) i = closing(list, i);
    else if (list[i] === ",") {
      parts.push(list.slice(from, i));
      from = i + 1;
    }
  }
  parts.push(list.slice(from));
  return parts
    .map((part) => part.trim())
    .filter((part) => part !== "")
    .map((part) => {
      const [, name = "", type = ""] =
        /^(\{[\s\S]*\}|\[[\s\S]*\]|_?\w+)\??(?:\s*:\s*([\s\S]*?))?(?:\s=\s[\s\S]*)?$/.exec(part) ?? [];
      return { name, type: type === "" && /= -?[\d.]/.test(part) ? "number" : type };
    });
}

/** The public methods, getters and the constructor of a class. */
function methodsOf(rest: string, className: string): Callable[] {
  const open = rest.indexOf("{\n");
  const body = blockAt(rest, open, "");
  const calls: Callable[] = [];
  for (const match of body.matchAll(/^ {2}(?:async )?(?:get )?\*?(\w+)(?:<[^(]*>)?\(/gm)) {
    const name = match[1] as string;
    const call = callableAt(body.slice(match.index), name, commentAbove(body, match.index));
    calls.push({ ...call, name: `${className}.${name}` });
  }
  return calls;
}

/** Words that say in what a number is counted, or what stands where in an array. */
const inWhat =
  /metre|\bm\/s|radian|rad\/s|degree|second|frame|fps|\bindex|indices|\bper\b|numbers|0 to 1|\bshare|offset|sample|quaternion|how many|unit|factor|exactly|coordinates|ratio|column/i;

const isNumeric = (type: string) => /\bnumber\b|Array\b|\bVector\b|Numbers\b|GroundPoint/.test(type);

/**
 * What a docstring leaves out of something that can be called: itself, a parameter, the result, in what numbers are
 * counted, an error. `study` is the same in all and need not be told.
 * @param throwing names of what is known to throw, whose callers throw too
 */
export function docFaults(
  { name, docs, parameters, result, body }: Callable,
  throwing: ReadonlySet<string>,
): string[] {
  if (docs === null) return [`${name} has no docstring`];
  const faults: string[] = [];
  const tags = [...docs.matchAll(/@param (\w+) ((?:(?!\n@)[\s\S])*)/g)].map(([, tag, text]) => ({
    tag,
    text,
  }));
  for (const parameter of parameters.filter((one) => one.name !== "study" && one.name !== "this")) {
    const isTaken = (tag = "") => parameters.some((one) => one.name === tag);
    const told = tags.find(({ tag }) =>
      /^\w/.test(parameter.name) ? tag === parameter.name : !isTaken(tag),
    );
    if (told === undefined) faults.push(`${name}: no @param ${parameter.name}`);
    else if (isNumeric(parameter.type) && !inWhat.test(told.text ?? ""))
      faults.push(`${name}: @param ${parameter.name} does not say in what it is counted`);
  }
  for (const { tag } of tags) {
    if (parameters.every((one) => /^\w/.test(one.name) && one.name !== tag))
      faults.push(`${name}: there is no parameter ${tag}`);
  }
  const isGetter = parameters.length === 0 && /\./.test(name);
  const returned = /@returns ((?:(?!\n@)[\s\S])*)/.exec(docs)?.[1];
  const gives = isGetter ? docs : returned;
  if (result !== "void" && !name.endsWith(".constructor")) {
    if (gives === undefined) faults.push(`${name}: no @returns`);
    else if (isNumeric(result) && !inWhat.test(gives))
      faults.push(`${name}: @returns does not say in what it is counted`);
  }
  const throws =
    /\bthrow new \w+/.test(body) ||
    [...throwing].some((other) => new RegExp(`(?<![.\\w])${other}\\(`).test(body));
  if (throws && !/@throws|never throws/i.test(docs)) faults.push(`${name}: no @throws`);
  return faults;
}
