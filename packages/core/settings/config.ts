import { z } from "zod";
import type { ChosenValue } from "../base/quantity.ts";
import { sentence } from "../base/sentence.ts";
import { shortMessage } from "../base/short-message.ts";
import { type WorkStage, workStages } from "../document/schema.ts";
import type { CheckChoice, OwnStyle, OwnStyles, StyleChoice } from "./choice.ts";
import { type ConfigProblem, problemOf } from "./config-problems.ts";
import type { ConfigurableCheck, OwnCheck, Setting } from "./settings.ts";
import { chainOf, isPreset } from "./style-chain.ts";
import { styleNames } from "./styles.ts";

export type { CheckChoice, OwnStyle, OwnStyles, StyleChoice } from "./choice.ts";
export type { ConfigProblem } from "./config-problems.ts";

import { chosenTiers, type Tier, tiers } from "./tier.ts";

/** What a studio, a show or a shot has chosen; whatever is left out keeps its default. */
export interface Config {
  /** Frames per second at which shots are judged. */
  readonly rate?: number;
  /** A style that there is, or one of `styles`. */
  readonly style?: string;
  /** Styles of the studio's own. */
  readonly styles?: OwnStyles;
  /** Stage of work by which all shots are judged, whatever they declare. */
  readonly stage?: WorkStage;
  readonly tiers?: { readonly minor?: number; readonly major?: number };
  /** Lightest tier that makes a run fail. */
  readonly failOn?: Tier;
  readonly checks?: Readonly<Record<string, CheckChoice>>;
  /** Glob patterns of files that are left out. */
  readonly ignore?: readonly string[];
  /** The studio's own checks, with their expressions read. */
  readonly ownChecks?: readonly OwnCheck[];
  /** Modules with checks, readers and reports, as paths from the configuration's folder; whoever loads files loads them. */
  readonly plugins?: readonly string[];
}

/** How a studio's own checks are written and read; what reads expressions hands it in. */
export interface OwnCheckLanguage<Spec> {
  /** One check as it is written. */
  readonly schema: z.ZodType<Spec>;
  /** Names of its members. */
  readonly members: readonly string[];
  /** At most so many checks of its own can a configuration hold. */
  readonly most: number;
  /**
   * Reads checks. It is asked only where there are any, so that it may load then what is slow to load.
   * @param taken names that other checks have
   */
  read(
    specs: readonly Spec[],
    taken: ReadonlySet<string>,
  ): Promise<{ readonly checks: readonly OwnCheck[]; readonly problems: readonly ConfigProblem[] }>;
}

/** A configuration that cannot be used; `problems` holds everything that is wrong with it. */
export class ConfigError extends Error {
  override readonly name = "ConfigError";
  readonly problems: readonly ConfigProblem[];

  /**
   * Takes what is wrong, at least one problem.
   * @param problems everything that is wrong, with its place
   */
  constructor(problems: readonly ConfigProblem[]) {
    const short = problems.map(({ path, message }) => ({
      path: shortMessage(path),
      message: shortMessage(message),
    }));
    super(short.map(({ path, message }) => (path === "" ? message : `${path}: ${message}`)).join("\n"));
    this.problems = short;
  }
}

/** At most so many modules can a configuration name. */
const mostPlugins = 20;

const fraction = /^\s*(\d+(?:\.\d+)?)\s*(?:\/\s*(\d+(?:\.\d+)?)\s*)?$/;

/** Frames per second from a number or a fraction such as "24000/1001"; null where it is neither, or not above 0. */
export function rateFrom(written: number | string): number | null {
  if (typeof written === "number") return Number.isFinite(written) && written > 0 ? written : null;
  const match = fraction.exec(written);
  if (match === null) return null;
  const rate = Number(match[1]) / Number(match[2] ?? 1);
  return Number.isFinite(rate) && rate > 0 ? rate : null;
}

/** The schema of a configuration file, with an entry for each check and each of its settings. */
function configSchema<Spec>(registry: readonly ConfigurableCheck[], own: OwnCheckLanguage<Spec>) {
  const checks = Object.fromEntries(registry.map((check) => [check.name, checkSchema(check).optional()]));
  return z
    .strictObject({
      $schema: z.string().optional(),
      rate: z
        .union([z.number().positive(), z.string().regex(fraction)])
        .optional()
        .describe(
          'Frames per second at which shots are judged: a number, or a fraction such as "24000/1001".',
        ),
      style: z
        .string()
        .min(1)
        .optional()
        .meta({ examples: [...styleNames] })
        .describe(
          `Moves thresholds together: ${styleNames.join(", ")}, or one of "styles"; full is the default.`,
        ),
      styles: z
        .record(z.string().regex(styleName), ownStyleSchema(registry))
        .optional()
        .describe("Styles of the studio's own, by their names."),
      stage: z
        .enum(workStages)
        .optional()
        .describe("Stage of work by which all shots are judged: what is still to come is no fault of it."),
      tiers: z
        .strictObject({
          minor: z.number().min(0).max(1).optional().describe("Weight from which a note is minor."),
          major: z.number().min(0).max(1).optional().describe("Weight from which a note is major."),
        })
        .optional(),
      failOn: z
        .enum(tiers)
        .optional()
        .describe("Lightest tier that makes a run fail; major by default, and broken always does."),
      checks: z.strictObject(checks).optional().describe("false turns a check off."),
      ignore: z.array(z.string()).optional().describe("Glob patterns of files that are left out."),
      ownChecks: z
        .array(own.schema)
        .max(own.most)
        .optional()
        .describe("Checks of the studio's own, written as expressions."),
      plugins: z
        .array(z.string().min(1))
        .max(mostPlugins)
        .optional()
        .describe(
          "Modules with checks, readers and reports, as paths from this file's folder. They are code.",
        ),
    })
    .describe("Configuration of Keyside.");
}

function checkSchema(check: ConfigurableCheck) {
  return z.union([z.boolean(), z.strictObject(choiceMembers(check))]).describe(check.what);
}

function choiceMembers(check: ConfigurableCheck) {
  const settings = Object.entries(check.settings).map(([name, setting]) => [name, settingSchema(setting)]);
  return {
    on: z.boolean().optional().describe("Whether the check runs."),
    tier: z.enum(chosenTiers).optional().describe("Highest tier that its notes may get."),
    ...(Object.fromEntries(settings) as Record<string, ReturnType<typeof settingSchema>>),
  };
}

/** Names of styles: as of checks, small letters with hyphens between. */
const styleName = /^[a-z][a-z0-9]*(-[a-z0-9]+)*$/;

function ownStyleSchema(registry: readonly ConfigurableCheck[]) {
  const checks = registry.map((check) => {
    const why = z.string().min(1).describe("Why the style has it so: this is told beside what it changes.");
    return [check.name, z.strictObject({ ...choiceMembers(check), why }).optional()] as const;
  });
  return z.strictObject({
    extends: z.string().min(1).optional().describe("The style that it changes; full if left out."),
    what: z.string().min(1).optional().describe("What it is, one sentence."),
    checks: z
      .strictObject(Object.fromEntries(checks))
      .optional()
      .describe("What it changes, each with a reason."),
  });
}

function settingSchema(setting: Setting) {
  const bounds = {
    ...(setting.min === undefined ? {} : { minimum: setting.min }),
    ...(setting.max === undefined ? {} : { maximum: setting.max }),
  };
  return z
    .union([z.number().meta(bounds), z.string().describe("A number with its unit.")])
    .optional()
    .describe(
      `${sentence(setting.what)} A number is in ${setting.unit}; default ${setting.default}. ${sentence(`source: ${setting.source}`)}`,
    );
}

/** JSON Schema (draft 2020-12) of a configuration file; `readConfig` and its schema stand where expressions are known. */
export function configJsonSchemaWith<Spec>(
  registry: readonly ConfigurableCheck[],
  own: OwnCheckLanguage<Spec>,
): Record<string, unknown> {
  return { title: "Keyside configuration", ...z.toJSONSchema(configSchema(registry, own), { io: "input" }) };
}

/**
 * Reads a configuration that has been parsed from JSON. The unit parser is loaded only if a value is written with
 * a unit.
 * @throws ConfigError with everything that is wrong
 */
export async function readConfigWith<Spec>(
  registry: readonly ConfigurableCheck[],
  data: unknown,
  ownLanguage: OwnCheckLanguage<Spec>,
): Promise<Config> {
  const parsed = configSchema(registry, ownLanguage).safeParse(data);
  if (!parsed.success) {
    const place = { registry, ownMembers: ownLanguage.members, data };
    throw new ConfigError(parsed.error.issues.flatMap((issue) => problemOf(issue, [], place)));
  }
  const { $schema: _, rate, checks, ownChecks, styles: written, ...rest } = parsed.data;
  const problems: ConfigProblem[] = [];
  const choices: Record<string, CheckChoice> = {};
  for (const check of registry) {
    const chosen = checks?.[check.name];
    if (chosen === undefined) continue;
    choices[check.name] =
      typeof chosen === "boolean" ? { on: chosen } : await readChoice(check, chosen, problems);
  }
  const styles = written === undefined ? undefined : await readStyles(registry, written, problems);
  problems.push(...styleProblems(rest.style, styles ?? {}));
  const judged = rate === undefined ? undefined : rateFrom(rate);
  if (judged === null) problems.push({ path: "rate", message: "A rate is above 0 frames per second." });
  let own: readonly OwnCheck[] | undefined;
  if (ownChecks !== undefined && ownChecks.length > 0) {
    const read = await ownLanguage.read(ownChecks, new Set(registry.map(({ name }) => name)));
    problems.push(...read.problems);
    own = read.checks;
  }
  if (problems.length > 0) throw new ConfigError(problems);
  return dropUndefined({
    ...rest,
    styles,
    rate: judged ?? undefined,
    checks: choices,
    ownChecks: own,
  }) as Config;
}

/** Reads the values of styles, which may stand with their units. */
async function readStyles(
  registry: readonly ConfigurableCheck[],
  written: Readonly<
    Record<string, { readonly checks?: object | undefined; readonly [member: string]: unknown }>
  >,
  problems: ConfigProblem[],
): Promise<OwnStyles> {
  const styles: Record<string, OwnStyle> = {};
  for (const [name, { checks = {}, ...rest }] of Object.entries(written)) {
    const choices: Record<string, StyleChoice> = {};
    for (const check of registry) {
      const chosen = (checks as Readonly<Record<string, { readonly why: string } | undefined>>)[check.name];
      if (chosen === undefined) continue;
      const { why, ...choice } = chosen;
      choices[check.name] = { ...(await readChoice(check, choice, problems, `styles.${name}.`)), why };
    }
    styles[name] = dropUndefined({ ...rest, checks: choices }) as OwnStyle;
  }
  return styles;
}

/** What is wrong with the styles of a configuration, and with the one that it names. */
function styleProblems(style: string | undefined, styles: OwnStyles): ConfigProblem[] {
  const problems: ConfigProblem[] = [];
  for (const name of Object.keys(styles)) {
    if (isPreset(name)) {
      const message =
        "A style of this name is there already; call yours otherwise, and let it extend this one.";
      problems.push({ path: `styles.${name}`, message });
      continue;
    }
    const chain = chainOf(name, styles);
    if (typeof chain === "string") problems.push({ path: `styles.${name}.extends`, message: chain });
  }
  if (style === undefined || problems.length > 0) return problems;
  const chain = chainOf(style, styles);
  return typeof chain === "string" ? [{ path: "style", message: chain }] : [];
}

async function readChoice(
  check: ConfigurableCheck,
  chosen: { on?: boolean | undefined; tier?: CheckChoice["tier"] | undefined },
  problems: ConfigProblem[],
  within = "",
): Promise<CheckChoice> {
  const { on, tier, ...written } = chosen as Record<string, unknown>;
  const values: Record<string, ChosenValue> = {};
  for (const [name, value] of Object.entries(written)) {
    const setting = check.settings[name];
    const path = `${within}checks.${check.name}.${name}`;
    try {
      if (value === undefined) continue;
      const choice =
        typeof value === "string"
          ? (await import("../base/written-units.ts")).chosenValue(value, setting.unit)
          : { value: value as number, unit: setting.unit };
      const message = outOfBounds(choice, setting);
      if (message !== null) problems.push({ path, message });
      values[name] = choice;
    } catch (error) {
      if (!(error instanceof Error && error.name === "UnitError")) throw error;
      problems.push({ path, message: error.message });
    }
  }
  const isEmpty = within !== "" && Object.keys(values).length === 0;
  return dropUndefined({ on, tier, values: isEmpty ? undefined : values }) as CheckChoice;
}

/**
 * Why a chosen value is outside its setting's bounds, or null. In the other unit of its kind (body heights for
 * metres) only the sign can be judged, as the bounds are in the declared unit and no figure is at hand.
 */
export function outOfBounds(chosen: ChosenValue, setting: Setting): string | null {
  const { value, unit } = chosen;
  if (!Number.isFinite(value)) return "The value must be a finite number.";
  const sameUnit = unit === setting.unit;
  const min = sameUnit ? setting.min : setting.min !== undefined && setting.min >= 0 ? 0 : undefined;
  const max = sameUnit ? setting.max : undefined;
  if (min !== undefined && value < min) return `${value} ${unit} is below the least allowed, ${min} ${unit}.`;
  if (max !== undefined && value > max) return `${value} ${unit} is above the most allowed, ${max} ${unit}.`;
  return null;
}

function dropUndefined(object: Record<string, unknown>): Record<string, unknown> {
  return Object.fromEntries(Object.entries(object).filter(([, value]) => value !== undefined));
}
