import { z } from "zod";
import { suggestion } from "../base/nearest.ts";
import { type Unit, unitNames } from "../base/quantity.ts";
import { type Study, shotMeasure } from "../base/study.ts";
import { channels } from "../document/model.ts";
import { workStages } from "../document/schema.ts";
import { figuresOf } from "../rig/body.ts";
import { rigOf } from "../rig/rig.ts";
import { styleNames } from "../settings/styles.ts";
import { chosenTiers } from "../settings/tier.ts";
import { gridOf } from "../time/grid.ts";
import { type Check, type Fault, type Finding, families, type Wording } from "./check.ts";

/** Checks that somebody else has written: looked at as they are loaded, and what they give as they run. */

const text = z.string().trim().min(1, "it is empty");
const texts = z.array(text);
const finite = z.number();
const unit = z.enum(unitNames as readonly [Unit, ...Unit[]]);
const call = z.custom<(...given: never[]) => unknown>(
  (value) => typeof value === "function",
  "a function is wanted",
);

const settingSchema = z
  .strictObject({
    default: finite,
    unit,
    what: text,
    source: text,
    min: finite.optional(),
    max: finite.optional(),
    bound: z.strictObject({ min: finite.optional(), max: finite.optional(), why: text }).optional(),
  })
  .refine(
    ({ default: value, min = value, max = value }) => min <= value && value <= max,
    "the default is outside its own bounds",
  );

/** Factors by which a style multiplies settings. */
const factors = z.record(z.string(), finite.positive());

const checkMembers = {
  name: z
    .string()
    .regex(/^[a-z][a-z0-9]*(-[a-z0-9]+)*$/, "a name is made of small letters, digits and single hyphens"),
  title: text,
  family: z.enum(families),
  scope: z.enum(["curve", "node", "figure", "shot"]),
  ceiling: z.enum(chosenTiers),
  tier: z.enum(chosenTiers).optional(),
  what: text,
  why: text,
  computes: text,
  fix: text,
  notAFault: texts,
  limits: texts,
  sources: texts,
  since: text,
  settings: z.record(
    z.string().regex(/^[a-z][a-zA-Z0-9]*$/, "a setting's name is one word, in small letters at its start"),
    settingSchema,
  ),
  yieldsTo: texts.optional(),
  followsCause: z.boolean().optional(),
  isOfMoment: z.boolean().optional(),
  ripening: text.optional(),
  hangsOn: z.array(z.enum(["unit", "body"])).optional(),
  notBefore: z.enum(workStages).optional(),
  styles: z
    .partialRecord(
      z.enum(styleNames),
      z.union([
        z.literal(false),
        z.strictObject({ why: text, off: z.literal(true) }),
        z.strictObject({ why: text, times: factors }),
        factors,
      ]),
    )
    .optional(),
  caution: z.enum(["bodies", "flicker"]).optional(),
  isNeedless: z.boolean().optional(),
  isElsewhere: z.boolean().optional(),
  isOfAct: z.boolean().optional(),
  repeats: z.enum(["amount", "steps", "always"]).optional(),
  isEndOfMove: z.boolean().optional(),
  comparesMirrored: z.boolean().optional(),
  looksAtColours: z.boolean().optional(),
  find: call,
  word: call,
} satisfies Schemas<Check>;
const checkSchema = z.strictObject(checkMembers);

/** Schemas of all members of a type, and of no others: what a check is and gives is said once, by the types. */
type Schemas<T> = { readonly [member in keyof Required<T>]: z.ZodType };

/** Names that mean something else where a check's name may stand. */
const reserved = ["own", "on", "tier", "why"];

/**
 * What is wrong with a check that somebody else has written, each with its place in it; empty where it can be run.
 * @param check whatever was handed over
 * @param taken names that other checks have
 */
export function foreignCheckFaults(check: unknown, taken: readonly string[]): readonly string[] {
  const parsed = checkSchema.safeParse(check);
  if (!parsed.success) return parsed.error.issues.flatMap(faultsOf);
  const { name, settings, styles = {}, yieldsTo = [] } = parsed.data;
  const faults: string[] = [];
  if (taken.includes(name) || reserved.includes(name))
    faults.push(`name: another check is called "${name}" already`);
  for (const setting of Object.keys(settings)) {
    if (reserved.includes(setting))
      faults.push(`settings.${setting}: a configuration keeps this name for itself`);
  }
  for (const [style, change] of Object.entries(styles)) {
    for (const setting of Object.keys(factorsOf(change))) {
      if (!Object.hasOwn(settings, setting))
        faults.push(`styles.${style}.${setting}: there is no such setting`);
    }
  }
  for (const other of yieldsTo) {
    if (!taken.includes(other))
      faults.push(`yieldsTo: there is no check "${other}".${suggestion(other, taken)}`);
  }
  return faults;
}

/** The settings that a style multiplies, in the form with a reason or without one. */
function factorsOf(change: unknown): object {
  if (typeof change !== "object" || change === null || "off" in change) return {};
  return "times" in change && typeof change.times === "object" && change.times !== null
    ? change.times
    : change;
}

function faultsOf(issue: z.core.$ZodIssue): string[] {
  const at = issue.path.map(String).join(".");
  const place = at === "" ? "" : `${at}: `;
  switch (issue.code) {
    case "unrecognized_keys": {
      const names = at === "" ? Object.keys(checkSchema.shape) : Object.keys(settingSchema.shape);
      return issue.keys.map((key) => `${place}there is no member "${key}".${suggestion(key, names)}`);
    }
    case "invalid_value":
      return [`${place}it is one of ${issue.values.map(String).join(", ")}`];
    case "invalid_type":
      return [
        /received undefined$/.test(issue.message)
          ? `${place}it is missing`
          : `${place}${issue.expected} is wanted`,
      ];
    case "invalid_key":
      return issue.issues.map(({ message }) => `${place}${message}`);
    default:
      return [`${place}${issue.message}`];
  }
}

const numbers = z.object({ quantity: text, value: finite, unit });
type SeriesFault = Exclude<Fault, { kind: "keys" }>;
type FaultKey = Extract<Fault, { kind: "keys" }>["keys"][number];

const keyMembers = {
  node: text,
  channel: z.enum(channels),
  index: z.int().min(0),
} satisfies Schemas<FaultKey>;
const faultMembers = {
  kind: z.enum(["position", "orientation", "massCentre"]),
  subject: z.int().min(0),
  others: z.array(z.int().min(0)).optional(),
  top: z.int().min(0).optional(),
  lo: z.int().min(0),
  hi: z.int().min(0),
  from: z.int().min(0),
  to: z.int().min(0),
  strength: call,
  sees: z
    .array(
      z.union([finite, z.string(), z.array(finite), z.instanceof(Float64Array), z.instanceof(Int32Array)]),
    )
    .optional(),
} satisfies Schemas<SeriesFault>;
const findingMembers = {
  node: z.int().min(-1),
  figure: z.int().min(-1),
  from: z.int().min(0),
  to: z.int().min(0),
  isOfFigure: z.boolean().optional(),
  seenAt: z.array(z.int().min(0)).optional(),
  measured: numbers,
  expected: z.object({ min: finite.optional(), max: finite.optional(), unit, source: text }),
  excess: finite.min(0),
  size: finite.min(0),
  amiss: finite.min(0).optional(),
  amissOver: finite.min(0).optional(),
  carries: finite.min(0).max(1).optional(),
  fault: z
    .discriminatedUnion("kind", [
      z.object({ kind: z.literal("keys"), keys: z.array(z.object(keyMembers)) }),
      z.object(faultMembers),
    ])
    .nullable(),
  evidence: z
    .array(
      z.object({ label: text, unit, firstFrame: finite, step: finite.positive(), values: z.array(finite) }),
    )
    .optional(),
  asked: z
    .object({
      by: z.int().min(0),
      from: z.int().min(0),
      weights: z.instanceof(Float64Array),
      late: z.int().min(0),
    })
    .optional(),
  notBefore: z.enum(workStages).optional(),
  ceiling: z.enum(chosenTiers).optional(),
  isBookkeeping: z.boolean().optional(),
} satisfies Schemas<Finding>;
const findingSchema = z.object(findingMembers);
const wordingSchema = z.object({ message: text, suggestion: z.string() });

/** How far indices may go in a shot. */
const extentOf = shotMeasure("extent of a shot", (study) => ({
  nodes: rigOf(study).count,
  figures: figuresOf(study).length,
  samples: gridOf(study).count,
}));

/**
 * A check of somebody else's that looks at what it gives before anybody else does: what is no finding, or points outside
 * the shot, is an error of the check, and costs its notes alone.
 */
export function foreignCheck(check: Check): Check {
  return {
    ...check,
    find(study, subject, values) {
      const found: unknown = check.find(study, subject, values);
      if (!Array.isArray(found)) throw new Error("find gave no list of findings");
      for (const [index, finding] of found.entries()) {
        const fault = findingFault(study, finding);
        if (fault !== null) throw new Error(`find, finding ${index}: ${fault}`);
      }
      return found as readonly Finding[];
    },
    word(finding, words): Wording {
      const parsed = wordingSchema.safeParse(check.word(finding, words));
      if (parsed.success) return parsed.data;
      throw new Error(`word: ${parsed.error.issues.flatMap(faultsOf)[0]}`);
    },
  };
}

function findingFault(study: Study, finding: unknown): string | null {
  const parsed = findingSchema.safeParse(finding);
  if (!parsed.success) return parsed.error.issues.flatMap(faultsOf)[0] ?? "it cannot be read";
  const { node, figure, from, to, seenAt = [], asked, fault } = parsed.data;
  const { nodes, figures, samples } = extentOf(study);
  if (Math.max(node, ...seenAt) >= nodes) return `node: there are ${nodes} nodes`;
  if (figure >= figures) return `figure: there are ${figures} figures`;
  if (from > to || to >= samples)
    return `from, to: they are indices of samples, of which there are ${samples}`;
  if (asked !== undefined && asked.by >= nodes) return `asked.by: there are ${nodes} nodes`;
  if (asked !== undefined && asked.from + asked.weights.length > samples)
    return `asked.weights: they go beyond the ${samples} samples`;
  if (fault === null || fault.kind === "keys") return null;
  const subjects = fault.kind === "massCentre" ? figures : nodes;
  if (fault.subject >= subjects) return `fault.subject: there are ${subjects}`;
  if (Math.max(0, ...(fault.others ?? [])) >= nodes) return `fault.others: there are ${nodes} nodes`;
  if ((fault.top ?? 0) >= nodes) return `fault.top: there are ${nodes} nodes`;
  const isInOrder = fault.lo <= fault.hi && fault.from <= fault.to;
  return isInOrder && Math.max(fault.hi, fault.to) < samples
    ? null
    : `fault: lo to hi and from to are indices of samples, of which there are ${samples}`;
}
