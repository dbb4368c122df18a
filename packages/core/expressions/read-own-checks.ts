import { sentence } from "../base/sentence.ts";
import { chosenValue } from "../base/written-units.ts";
import type { ConfigProblem } from "../settings/config.ts";
import { type Compiled, compile } from "./compile.ts";
import { kindInWords, shownAs } from "./dimension.ts";
import { ExpressionError } from "./expression-error.ts";
import { type OwnCheckPlan, type OwnSubject, subjectName, type Template } from "./plan.ts";
import type { OwnCheckSpec } from "./spec-schema.ts";

/** At most so many values stand in a message. */
const maxValues = 10;

/**
 * Reads a studio's own checks. Loads mathjs, which takes long: import it only where there are any.
 * @param taken names that other checks have
 * @returns what could be read, and what is wrong with the rest, with its place in the configuration
 */
export function readOwnChecks(
  specs: readonly OwnCheckSpec[],
  taken: ReadonlySet<string>,
): { readonly checks: readonly OwnCheckPlan[]; readonly problems: readonly ConfigProblem[] } {
  const checks: OwnCheckPlan[] = [];
  const problems: ConfigProblem[] = [];
  const names = new Set<string>();
  specs.forEach((spec, index) => {
    const place = (member: string) => `ownChecks.${index}.${member}`;
    const before = problems.length;
    const report = (member: string, message: string) => problems.push({ path: place(member), message });
    if (taken.has(spec.name)) report("name", `There is a check "${spec.name}" already; choose another name.`);
    if (names.has(spec.name))
      report("name", `Another check of this configuration is called "${spec.name}" too.`);
    names.add(spec.name);
    if (spec.node !== undefined && spec.part !== undefined) {
      report("part", 'A check is about a "node" or a "part", not both.');
    }
    const subject = subjectOf(spec);
    const hasSubject = subject.kind !== "shot";
    const attempt = <T>(member: string, read: () => T): T | null => {
      try {
        return read();
      } catch (error) {
        if (!(error instanceof ExpressionError) && (error as Error).name !== "UnitError") throw error;
        const column = error instanceof ExpressionError ? error.column : null;
        report(member, `${column === null ? "" : `Column ${column}: `}${(error as Error).message}`);
        return null;
      }
    };
    const condition = attempt("expression", () => truth(spec.expression, hasSubject));
    const { when: written } = spec;
    const when = written === undefined ? null : attempt("when", () => truth(written, hasSubject));
    const frames = attempt("for", () => framesOf(spec.for));
    const message = attempt("message", () => templateOf(spec.message, hasSubject));
    const { suggestion: suggested } = spec;
    const suggestion =
      suggested === undefined
        ? condition === null
          ? null
          : defaultSuggestion(condition)
        : attempt("suggestion", () => templateOf(suggested, hasSubject));
    if (problems.length > before) return;
    if (condition === null || frames === null || message === null || suggestion === null) return;
    checks.push({
      name: spec.name,
      tier: spec.tier,
      subject,
      when: when?.term ?? null,
      condition: condition.term,
      compared:
        condition.compared !== null && shownAs(condition.compared.quantity) !== null
          ? condition.compared
          : null,
      frames,
      message,
      suggestion,
      why: spec.why === undefined ? "This studio has set a limit here." : sentence(spec.why),
      text: spec.when === undefined ? spec.expression : `${spec.expression} (when ${spec.when})`,
    });
  });
  return { checks, problems };
}

function subjectOf({ node, part, figure }: OwnCheckSpec): OwnSubject {
  const of = figure === undefined ? {} : { figure };
  if (node !== undefined) return { kind: "node", pattern: node, ...of };
  if (part !== undefined) return { kind: "part", part, ...of };
  return figure === undefined ? { kind: "shot" } : { kind: "figure", figure };
}

function truth(text: string, hasSubject: boolean): Compiled {
  const compiled = compile(text, hasSubject);
  if (compiled.kind === "truth") return compiled;
  throw new ExpressionError(
    `It must be yes or no, for example "${text.trim().slice(0, 40)} > 1"; this gives ${kindInWords(compiled.kind)}.`,
    1,
  );
}

function framesOf(text: string | undefined): number {
  if (text === undefined) return 1;
  const { value } = chosenValue(text, "frames");
  if (!(value > 0)) throw new ExpressionError("It lasts longer than no time.", null);
  return value;
}

/** What is suggested where the studio says nothing: to bring what was measured back to its limit. */
function defaultSuggestion({ compared }: Compiled): Template {
  const change = "change the keys that are named";
  if (compared === null || shownAs(compared.quantity) === null) {
    return [`${change} until this no longer holds at any of these frames`];
  }
  const most = compared.side === "max" ? "most" : "least";
  return [
    `${change} until ${compared.text} is at ${most} `,
    { value: compared.limit, quantity: compared.quantity },
  ];
}

/** Text with expressions in braces; their places count from the beginning of the whole text. */
function templateOf(text: string, hasSubject: boolean): Template {
  const parts: Template[number][] = [];
  let values = 0;
  let at = 0;
  while (at < text.length) {
    const open = text.indexOf("{", at);
    const plain = text.slice(at, open < 0 ? text.length : open);
    const stray = plain.indexOf("}");
    if (stray >= 0) throw new ExpressionError('There is no "{" before this "}".', at + stray + 1);
    if (plain !== "") parts.push(plain);
    if (open < 0) break;
    const close = text.indexOf("}", open);
    if (close < 0) throw new ExpressionError('This "{" is not closed.', open + 1);
    if (++values > maxValues)
      throw new ExpressionError(`A message holds at most ${maxValues} values.`, open + 1);
    parts.push(valuePart(text.slice(open + 1, close), open + 1, hasSubject));
    at = close + 1;
  }
  return parts;
}

function valuePart(text: string, before: number, hasSubject: boolean): Template[number] {
  if (text.trim() === subjectName) {
    if (hasSubject) return { subject: true };
    throw new ExpressionError(
      `"${subjectName}" needs "node", "part" or "figure" beside the message.`,
      before + 1,
    );
  }
  let compiled: Compiled;
  try {
    compiled = compile(text, hasSubject);
  } catch (error) {
    if (!(error instanceof ExpressionError)) throw error;
    throw new ExpressionError(error.message, before + (error.column ?? 1));
  }
  const { term, kind } = compiled;
  if (kind === "truth" || shownAs(kind) === null) {
    throw new ExpressionError(`${kindInWords(kind)} cannot be shown in a message.`, before + 1);
  }
  return { value: term, quantity: kind };
}
