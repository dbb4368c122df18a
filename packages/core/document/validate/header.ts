import type { z } from "zod";
import type { Problem } from "../model.ts";
import type { SegmentPlaces } from "../places.ts";
import { quoted } from "../scan/cursor.ts";
import { type DocumentHeader, headerSchema } from "../schema.ts";
import { LeftOut } from "./left-out.ts";
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
  readonly leftOut: LeftOut;
}

/**
 * Checks the members of a document against the schema. What does not fit is reported and left out, as little as
 * possible: a property that may be missing goes alone, any other takes its entry with it.
 * @param members changed in place
 * @param tellsUnknown whether properties that the schema does not know are told of
 * @returns null where what is left is no header at all
 */
export function validHeader(
  members: Record<string, unknown>,
  report: Report,
  tellsUnknown: boolean,
): ValidHeader | null {
  const leftOut = new LeftOut(members);
  if (tellsUnknown) reportUnknown(members, headerSchema, "", report);
  // Every round leaves something out, so there is an end to them.
  for (;;) {
    const checked = headerSchema.safeParse(members);
    if (checked.success) return { header: withDefaults(members, checked.data), leftOut };
    const doomed = new Map<string, readonly PropertyKey[]>();
    for (const issue of checked.error.issues) {
      const target = leavableFor(members, issue.path);
      if (target === null) return null;
      const value = valueAtPath(members, issue.path);
      const at = leftOut.pathInText(target.map(String).join("/"));
      const outcome = target.length === issue.path.length ? "It is left out." : `"${at}" is left out.`;
      report(
        value === undefined ? "missing-property" : "bad-value",
        `${misfit(issue, value)} ${outcome}`,
        leftOut.pathInText(issue.path.map(String).join("/")),
      );
      doomed.set(at, target);
    }
    leftOut.take([...doomed.values()]);
  }
}

/** The smallest thing around a path that the schema lets go: an optional member, or an entry of a list. */
function leavableFor(members: unknown, path: readonly PropertyKey[]): readonly PropertyKey[] | null {
  const schemas: unknown[] = [headerSchema];
  path.forEach((step, depth) => {
    schemas.push(schemaOf(schemas[depth], step, valueAtPath(members, path.slice(0, depth))));
  });
  for (let length = path.length; length > 0; length--) {
    const container = schemas[length - 1];
    const isMember = knownNames(container, valueAtPath(members, path.slice(0, length - 1))) !== null;
    if (
      isMember
        ? mayBeMissing(schemas[length])
        : typeof path[length - 1] === "number" && schemaOf(container, "") !== undefined
    ) {
      return path.slice(0, length);
    }
  }
  return null;
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
  const known = knownNames(schema, value);
  if (typeof value !== "object" || value === null || known === null) return;
  for (const [name, member] of Object.entries(value)) {
    const memberPath = path === "" ? name : `${path}/${name}`;
    if (known.includes(name)) {
      if (typeof member === "object")
        reportUnknown(member, schemaOf(schema, name, value), memberPath, report);
      continue;
    }
    const near = nearestName(name, path === "" ? [...known, "curves"] : known);
    const message = `${quoted(name)} is not a property that is known here; did you mean "${near}"? It is kept, and not used.`;
    report("unknown-property", message, memberPath);
  }
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
  colour: 'six hexadecimal digits, such as "colour": "#d08040", or keys of them',
  background: 'six hexadecimal digits, such as "background": "#c8d0d8", or keys of them',
  edges: 'two opposite corners, or more around, such as "edges": [[-60, 40], [60, 90]]',
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
      if (issue.origin === "array") return `a list of ${issue.maximum}`;
      return `${issue.inclusive ? "at most" : "less than"} ${issue.maximum}`;
    case "invalid_union":
    case "invalid_format":
      // These say in the schema what they ask for.
      return issue.message;
    default:
      return `something else (${issue.message})`;
  }
}
