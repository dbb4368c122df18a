import type { z } from "zod";
import type { Problem } from "../model.ts";
import type { SegmentPlaces } from "../places.ts";
import { quoted } from "../scan/cursor.ts";
import { type DocumentHeader, headerSchema } from "../schema.ts";
import { nearestName } from "./names.ts";
import { knownNames, mayBeMissing, schemaOf } from "./schema-walk.ts";
import { kindOf, valueAtPath } from "./words.ts";

/** Reports a problem at the place of a path. */
export type Report = (code: string, message: string, path: string) => void;

/** Reports at the places of paths, but not where the text itself is already reported as broken. */
export function reportAt(places: SegmentPlaces, broken: readonly Problem[], into: Problem[]): Report {
  return (code, message, path) => {
    const [start, end] = places.around(path);
    if (code === "bad-value" || code === "missing-property") {
      if (broken.some((problem) => problem.start >= start && problem.start <= end)) return;
    }
    into.push({ code, message, start, end, path });
  };
}

export interface ValidHeader {
  readonly header: DocumentHeader;
  /** Per list of the document from which entries were left out: the number in the text of each that is left. */
  readonly kept: ReadonlyMap<string, readonly number[]>;
}

/**
 * Checks the members of a document against the schema. What does not fit is reported and left out, as little as
 * possible: a property that may be missing goes alone, any other takes its entry with it.
 * @param members changed in place
 * @returns null where what is left is no header at all
 */
export function validHeader(members: Record<string, unknown>, report: Report): ValidHeader | null {
  const kept = new Map<string, readonly number[]>();
  reportUnknown(members, headerSchema, "", report);
  // Every round leaves something out, so there is an end to them.
  for (;;) {
    const checked = headerSchema.safeParse(members);
    if (checked.success) return { header: withDefaults(members, checked.data), kept };
    const doomed = new Set<string>();
    for (const issue of checked.error.issues) {
      const target = leavableFor(issue.path);
      if (target === null) return null;
      const path = originalPath(issue.path, kept);
      report(
        isMissing(members, issue) ? "missing-property" : "bad-value",
        worded(members, issue, target),
        path,
      );
      doomed.add(JSON.stringify(target));
    }
    leaveOut(
      members,
      [...doomed].map((target) => JSON.parse(target) as (string | number)[]),
      kept,
    );
  }
}

/** Path as it stands in the text, where entries that were left out count. */
function originalPath(path: readonly PropertyKey[], kept: ReadonlyMap<string, readonly number[]>): string {
  const [name, index, ...rest] = path;
  const numbers = kept.get(String(name));
  if (numbers === undefined || typeof index !== "number") return path.map(String).join("/");
  return [name, numbers[index], ...rest].map(String).join("/");
}

/** The smallest thing around a path that the schema lets go: an optional member, or an entry of a list. */
function leavableFor(path: readonly PropertyKey[]): readonly PropertyKey[] | null {
  for (let length = path.length; length > 0; length--) {
    let schema: unknown = headerSchema;
    let container: unknown;
    for (const step of path.slice(0, length)) {
      container = schema;
      schema = schemaOf(schema, step);
    }
    const isMember = knownNames(container) !== null;
    if (
      isMember
        ? mayBeMissing(schema)
        : typeof path[length - 1] === "number" && schemaOf(container, "") !== undefined
    ) {
      return path.slice(0, length);
    }
  }
  return null;
}

function leaveOut(
  members: Record<string, unknown>,
  targets: readonly (readonly (string | number)[])[],
  kept: Map<string, readonly number[]>,
): void {
  // From the back, so that positions in front stay as they are.
  const inOrder = [...targets].sort(
    (a, b) => Number(b[b.length - 1]) - Number(a[a.length - 1]) || b.length - a.length,
  );
  for (const target of inOrder) {
    const container = valueAtPath(members, target.slice(0, -1));
    const last = target[target.length - 1];
    if (!Array.isArray(container)) {
      if (container !== undefined) delete (container as Record<string, unknown>)[last];
      continue;
    }
    if (target.length === 2) {
      const name = String(target[0]);
      const numbers = kept.get(name) ?? container.map((_, index) => index);
      kept.set(
        name,
        numbers.filter((_, index) => index !== last),
      );
    }
    container.splice(last as number, 1);
  }
}

function withDefaults(members: Readonly<Record<string, unknown>>, checked: DocumentHeader): DocumentHeader {
  // The members as they are, not as zod gives them: properties that the schema does not know are kept.
  const header = members as unknown as DocumentHeader;
  return header.space === undefined || checked.space === undefined
    ? header
    : { ...header, space: { ...checked.space, ...header.space } };
}

function reportUnknown(value: unknown, schema: unknown, path: string, report: Report): void {
  if (Array.isArray(value)) {
    value.forEach((entry, index) => {
      if (typeof entry !== "object") return;
      reportUnknown(entry, schemaOf(schema, index), `${path}/${index}`, report);
    });
    return;
  }
  const known = knownNames(schema);
  if (typeof value !== "object" || value === null || known === null) return;
  for (const [name, member] of Object.entries(value)) {
    const memberPath = path === "" ? name : `${path}/${name}`;
    if (known.includes(name)) {
      if (typeof member === "object") reportUnknown(member, schemaOf(schema, name), memberPath, report);
      continue;
    }
    const near = nearestName(name, path === "" ? [...known, "curves"] : known);
    const message = `${quoted(name)} is not a property that is known here; did you mean "${near}"? It is kept, and not used.`;
    report("unknown-property", message, memberPath);
  }
}

function isMissing(members: unknown, issue: z.core.$ZodIssue): boolean {
  return valueAtPath(members, issue.path) === undefined;
}

function worded(members: unknown, issue: z.core.$ZodIssue, target: readonly PropertyKey[]): string {
  const outcome =
    target.length === issue.path.length ? "It is left out." : `${quotedPath(target)} is left out.`;
  return `${misfit(issue, valueAtPath(members, issue.path))} ${outcome}`;
}

/**
 * What is wrong with a value that does not fit its schema, and what to write.
 * @param value what stands there, undefined where nothing does
 */
export function misfit(issue: z.core.$ZodIssue, value: unknown): string {
  const name = String(issue.path[issue.path.length - 1]);
  const advice = advices[name];
  if (value === undefined) {
    const around = issue.path.length > 1 ? ` in ${quotedPath(issue.path.slice(0, -1))}` : "";
    return `"${name}" is missing${around}; ${advice === undefined ? "add it" : `add ${advice}`}.`;
  }
  const what = /^\d+$/.test(name) ? quotedPath(issue.path) : `"${name}"`;
  const sentence = `${what} has to be ${dueFor(issue)}, and is ${kindOf(value)}`;
  return advice === undefined ? `${sentence}.` : `${sentence}; write ${advice}.`;
}

/** What to write where a member is missing or wrong whose meaning its name does not tell. */
const advices: Readonly<Record<string, string>> = {
  reason: 'why this is meant, such as "reason": "a comic stop, agreed in dailies"',
  check: 'the name of the check whose notes are meant, such as "check": "hard-stop"',
  frames: 'the first and the last frame, such as "frames": [40, 62]',
};

function quotedPath(path: readonly PropertyKey[]): string {
  return `"${path.map(String).join("/")}"`;
}

/** What an issue asks for, in words. */
function dueFor(issue: z.core.$ZodIssue): string {
  switch (issue.code) {
    case "invalid_type":
      if (issue.expected === "tuple" || issue.expected === "array") return "a list";
      if (issue.expected === "string") return "a text in double quotes";
      if (issue.expected === "int") return "a whole number";
      return issue.expected === "object" ? "an object" : `a ${issue.expected}`;
    case "invalid_value":
      return `one of ${issue.values.map((value) => `"${String(value)}"`).join(", ")}`;
    case "too_small":
      if (issue.origin === "string") return "a text that is not empty";
      if (issue.origin === "array") return `a list of at least ${issue.minimum}`;
      return `${issue.inclusive ? "at least" : "more than"} ${issue.minimum}`;
    case "too_big":
      return issue.origin === "array" ? `a list of ${issue.maximum}` : `at most ${issue.maximum}`;
    case "invalid_union":
      return "the id of a node, or a list of ids";
    default:
      return `something else (${issue.message})`;
  }
}
