import { referenceRate } from "../base/constants.ts";
import type { Evidence, Expected, Measured } from "../base/measured.ts";
import { inWords } from "../base/number-words.ts";
import { type Dimension, sameDimension } from "../base/quantity.ts";
import type { Study } from "../base/study.ts";
import type { Check, Finding } from "../faults/check.ts";
import { keysOfNodes } from "../faults/keys-of-nodes.ts";
import type { Words } from "../faults/words.ts";
import { figureOfNode, figuresOf, statureOf } from "../rig/body.ts";
import { chainOf } from "../rig/pose.ts";
import { reachOf } from "../rig/reach.ts";
import { rigOf } from "../rig/rig.ts";
import { assumedStature } from "../rig/stature.ts";
import type { OwnCheck, ResolvedSettings } from "../settings/settings.ts";
import { gridOf } from "../time/grid.ts";
import { bind, type Context, nodesIn } from "./bind.ts";
import { metres, metresPerSecond, radians, shownAs } from "./dimension.ts";
import type { Compared, OwnCheckPlan, Template, Term } from "./plan.ts";
import type { At } from "./series.ts";

/** Frames of evidence before and after what is noted, in seconds. */
const evidenceAround = 0.5;
/** A value this many times past its limit counts no more than that. */
const mostExcess = 100;

/** What an own check finds: with the values of its message, then those of its suggestion, in their order. */
interface OwnFinding extends Finding {
  readonly values: readonly number[];
}

/** The checks made so far: the same plan gives the same check, whose findings may be known already. */
const made = new WeakMap<OwnCheck, Check>();

/** The studio's own checks that some settings turn on; a check that a script has made itself stands as it is. */
export function ownChecksOf({ own = [] }: ResolvedSettings): readonly Check[] {
  return own.map((one) => {
    if (isCheck(one)) return one;
    let check = made.get(one);
    if (check === undefined) {
      // Settings carry what `readOwnChecks` gave, and know no more of it than they need.
      check = ownCheck(one as OwnCheckPlan);
      made.set(one, check);
    }
    return check;
  });
}

function isCheck(one: OwnCheck | (OwnCheck & Check)): one is OwnCheck & Check {
  return "find" in one;
}

function ownCheck(plan: OwnCheckPlan): Check {
  const source = "a limit of this studio";
  const check: Check<Readonly<Record<never, never>>, OwnFinding> = {
    name: plan.name,
    title: titleOf(plan.name),
    family: "data",
    scope: "shot",
    ceiling: plan.tier,
    tier: plan.tier,
    what: `Frames at which this holds: ${plan.text}.`,
    why: plan.why,
    computes: plan.text,
    fix: "Change the keys that are named until the condition no longer holds.",
    notAFault: [],
    limits: ["It is written in the studio's configuration."],
    sources: [source],
    since: "0.1.0",
    settings: {},
    find: (study) => subjectsOf(study, plan).flatMap((context) => findIn(plan, context, source)),
    word: (finding, words) => ({
      message: `${filled(plan.message, finding, words, 0)}, ${words.span(finding.from, finding.to)}`,
      suggestion: filled(plan.suggestion, finding, words, valuesIn(plan.message)),
    }),
  };
  return check as unknown as Check;
}

function titleOf(name: string): string {
  const words = name.replaceAll("-", " ");
  return words.charAt(0).toUpperCase() + words.slice(1);
}

/** On what a check is run in a shot: nothing where its node, part or figure is not there. */
function subjectsOf(study: Study, { subject }: OwnCheckPlan): Context[] {
  const figures = figuresOf(study);
  const isMeant = (figure: number) =>
    !("figure" in subject) || subject.figure === undefined || figures[figure]?.id === subject.figure;
  switch (subject.kind) {
    case "shot":
      return [contextOf(study, -1, -1)];
    case "figure":
      return figures.flatMap(({ root }, figure) => (isMeant(figure) ? [contextOf(study, root, figure)] : []));
    case "part":
      return figures.flatMap(({ parts }, figure) => {
        const [node] = parts.get(subject.part) ?? [];
        return node !== undefined && isMeant(figure) ? [contextOf(study, node, figure)] : [];
      });
    case "node": {
      const { ids } = rigOf(study);
      return ids.flatMap((id, node) => {
        const figure = figureOfNode(study, node);
        return matches(id, subject.pattern) && isMeant(figure) ? [contextOf(study, node, figure)] : [];
      });
    }
  }
}

function contextOf(study: Study, subject: number, figure: number): Context {
  const near = figure >= 0 ? figure : figuresOf(study).length > 0 ? 0 : -1;
  return { study, subject, figure, stature: near >= 0 ? statureOf(study, near) : assumedStature };
}

/** Whether a name fits a pattern in which * stands for any characters; in time that grows with both lengths alone. */
export function matches(name: string, pattern: string): boolean {
  const pieces = pattern.split("*");
  if (pieces.length === 1) return name === pattern;
  const [first, last] = [pieces[0], pieces[pieces.length - 1]];
  if (name.length < first.length + last.length || !name.startsWith(first) || !name.endsWith(last))
    return false;
  let at = first.length;
  for (const piece of pieces.slice(1, -1)) {
    const found = name.indexOf(piece, at);
    if (found < 0) return false;
    at = found + piece.length;
  }
  return at <= name.length - last.length;
}

interface Bound {
  readonly when: At | null;
  readonly condition: At;
  readonly value: At | null;
  readonly limit: At | null;
}

function findIn(plan: OwnCheckPlan, context: Context, source: string): OwnFinding[] {
  const bound = boundIn(plan, context);
  if (bound === null) return [];
  const { count, rate } = gridOf(context.study);
  const need = Math.max(1, Math.round((plan.frames * rate) / referenceRate));
  const found: OwnFinding[] = [];
  let from = -1;
  for (let i = 0; i <= count; i++) {
    const holds = i < count && (bound.when === null || bound.when(i) !== 0) && bound.condition(i) !== 0;
    if (holds && from < 0) from = i;
    if (holds || from < 0) continue;
    if (i - from >= need) found.push(findingOf(plan, context, bound, from, i - 1, source));
    from = -1;
  }
  return found;
}

function boundIn({ when, condition, compared }: OwnCheckPlan, context: Context): Bound | null {
  const part = (term: Term | null | undefined) => (term == null ? null : bind(term, context));
  const bound = {
    when: part(when),
    condition: part(condition),
    value: part(compared?.value),
    limit: part(compared?.limit),
  };
  if (bound.condition === null || (when !== null && bound.when === null)) return null;
  return { ...bound, condition: bound.condition };
}

function findingOf(
  plan: OwnCheckPlan,
  context: Context,
  { value, limit }: Bound,
  from: number,
  to: number,
  source: string,
): OwnFinding {
  const { study } = context;
  const { compared } = plan;
  const nodes = nodesIn([compared?.value ?? null, plan.condition, plan.when], context);
  const node = context.subject >= 0 ? context.subject : (nodes[0] ?? -1);
  const worst = value === null || limit === null ? from : worstIn(value, limit, from, to);
  const values: number[] = [];
  [...plan.message, ...plan.suggestion].filter(isValue).forEach((part) => {
    values.push(bind(part.value, context)?.(worst) ?? Number.NaN);
  });
  const rig = rigOf(study);
  const chain = new Set(
    (nodes.length === 0 && node >= 0 ? [node] : nodes).flatMap((one) => chainOf(rig, one)),
  );
  const figure = context.figure >= 0 ? context.figure : node >= 0 ? figureOfNode(study, node) : -1;
  return {
    node,
    figure,
    from,
    to,
    ...measuredIn(plan, study, value, limit, worst, [from, to], source),
    size:
      value === null || limit === null
        ? 0
        : sizeOf(context, node, compared, Math.abs(value(worst) - limit(worst)), to - from + 1),
    values,
    fault: { kind: "keys", keys: keysOfNodes(study, [...chain], from, to) },
    evidence: value === null || compared === null ? [] : [evidenceOf(study, compared, value, from, to)],
  };
}

/** Where the value is farthest past its limit. */
function worstIn(value: At, limit: At, from: number, to: number): number {
  let worst = from;
  for (let i = from + 1; i <= to; i++) {
    if (Math.abs(value(i) - limit(i)) > Math.abs(value(worst) - limit(worst))) worst = i;
  }
  return worst;
}

function measuredIn(
  { compared, frames, text }: OwnCheckPlan,
  study: Study,
  value: At | null,
  limit: At | null,
  worst: number,
  [from, to]: readonly [number, number],
  source: string,
): { readonly measured: Measured; readonly expected: Expected; readonly excess: number } {
  const shown = compared === null ? null : shownAs(compared.quantity);
  if (compared === null || shown === null || value === null || limit === null) {
    const lasting = ((to - from + 1) * referenceRate) / gridOf(study).rate;
    return {
      measured: { quantity: `how long it holds: ${text}`, value: lasting, unit: "frames" },
      expected: { max: frames, unit: "frames", source },
      excess: Math.max(1, lasting / frames),
    };
  }
  const [v, l] = [value(worst), limit(worst)];
  const ratio = compared.side === "max" ? v / l : l / v;
  return {
    measured: { quantity: compared.text, value: v * shown.factor, unit: shown.unit },
    expected: { [compared.side]: l * shown.factor, unit: shown.unit, source },
    // Of values that are not both above 0 a ratio says nothing.
    excess: v > 0 && l > 0 ? Math.min(mostExcess, Math.max(1, ratio)) : 2,
  };
}

/** How large it is to the eye, in metres: for lengths, ways and angles; other quantities are not seen as such. */
function sizeOf(
  { study }: Context,
  node: number,
  compared: Compared | null,
  past: number,
  samples: number,
): number {
  if (compared === null || !Number.isFinite(past)) return 0;
  const is = (quantity: Dimension) => sameDimension(compared.quantity, quantity);
  if (is(metres)) return past;
  if (is(metresPerSecond)) return past * samples * gridOf(study).dt;
  if (is(radians)) return node >= 0 ? past * reachOf(study, node) : 0;
  return 0;
}

function evidenceOf(study: Study, compared: Compared, value: At, from: number, to: number): Evidence {
  const { count, rate, frames, step } = gridOf(study);
  const around = Math.round(evidenceAround * rate);
  const [first, last] = [Math.max(0, from - around), Math.min(count - 1, to + around)];
  const shown = shownAs(compared.quantity);
  const values: number[] = [];
  for (let i = first; i <= last; i++) values.push(value(i) * (shown?.factor ?? 1));
  return { label: compared.text, unit: shown?.unit ?? "ratio", firstFrame: frames[first], step, values };
}

function isValue(part: Template[number]): part is { readonly value: Term; readonly quantity: Dimension } {
  return typeof part === "object" && "value" in part;
}

function valuesIn(template: Template): number {
  return template.filter(isValue).length;
}

/** A template with its values; they stand in the finding, counted from `first`. */
function filled(template: Template, { values }: OwnFinding, words: Words, first: number): string {
  let next = first;
  return template
    .map((part) => {
      if (typeof part === "string") return part;
      if (!isValue(part)) return words.part;
      return valueInWords(values[next++], part.quantity);
    })
    .join("");
}

function valueInWords(value: number, dimension: Dimension): string {
  return Number.isFinite(value) ? inWords(value, shownAs(dimension)?.unit ?? "ratio") : "an unknown value";
}
