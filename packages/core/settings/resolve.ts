import { suggestion } from "../base/nearest.ts";
import type { ChosenValue } from "../base/quantity.ts";
import type { WorkStage } from "../document/schema.ts";
import { type CheckChoice, type Config, ConfigError, type ConfigProblem, outOfBounds } from "./config.ts";
import type { CheckSettings, ConfigurableCheck, ResolvedSettings } from "./settings.ts";
import { chainOf, type StyleChain, styledCheck } from "./style-chain.ts";

/** Choices of one run, which go before the configuration. */
export interface Overrides {
  readonly rate?: number;
  /** A style that there is, or one that the configuration writes. */
  readonly style?: string;
  readonly stage?: WorkStage;
  /** Runs only these checks, and runs them even where the configuration turns them off. */
  readonly only?: readonly string[];
  /** Leaves these checks out, also of those in `only`. They are silenced as a configuration silences them. */
  readonly skip?: readonly string[];
  /** What is chosen of checks, as it would stand in a configuration. */
  readonly checks?: Readonly<Record<string, CheckChoice>>;
}

/** The name by which a run asks for the studio's own checks, all of them. */
export const ownName = "own";

/** Weights from which a note is minor, and major; our choice: a starting point that a studio learns to set. */
export const defaultTiers = { minor: 0.3, major: 0.6 } as const;

/**
 * What is in force where nothing has been chosen. It never throws: nothing is chosen that could be wrong.
 * @param registry the checks that there are
 * @returns what `studyOf` takes
 */
export function defaultSettings(registry: readonly ConfigurableCheck[]): ResolvedSettings {
  return resolveSettings(registry);
}

/**
 * Puts together what is in force: each check's defaults, moved by the style, replaced by the configuration,
 * replaced by the run's own choices.
 * @param registry the checks that there are
 * @param config what a configuration has chosen
 * @param overrides what one run has chosen
 * @returns what `studyOf` takes
 * @throws ConfigError for checks or settings that do not exist, values outside their bounds, tiers the wrong way round
 */
export function resolveSettings(
  registry: readonly ConfigurableCheck[],
  config: Config = {},
  overrides: Overrides = {},
): ResolvedSettings {
  const problems = unknownChecks(registry, config, overrides);
  const style = overrides.style ?? config.style ?? "full";
  const found = chainOf(style, config.styles ?? {});
  if (typeof found === "string") {
    problems.push({ path: overrides.style === undefined ? "style" : "--style", message: found });
  }
  const chain: StyleChain = typeof found === "string" ? { base: "full", own: [] } : found;
  const only = overrides.only === undefined ? null : new Set(overrides.only);
  const skip = new Set(overrides.skip);
  const checks = new Map<string, CheckSettings>();
  for (const check of registry) {
    const { name } = check;
    const settings = settingsFor(check, chain, choiceOf(name, config, overrides), problems);
    const isOn = only?.has(name) === true && !skip.has(name);
    checks.set(
      name,
      only === null ? settings : { ...settings, on: isOn, ...(isOn ? { isAsked: true } : {}) },
    );
  }
  const minor = config.tiers?.minor ?? Math.min(defaultTiers.minor, config.tiers?.major ?? 1);
  const major = config.tiers?.major ?? Math.max(defaultTiers.major, minor);
  if (minor > major) {
    problems.push({ path: "tiers", message: `minor (${minor}) must not stand above major (${major}).` });
  }
  if (problems.length > 0) throw new ConfigError(problems);
  const isOwnOn = (only === null || only.has(ownName)) && !skip.has(ownName);
  for (const { name, tier } of config.ownChecks ?? []) {
    checks.set(name, { on: isOwnOn, ceiling: tier, values: {} });
  }
  const own = isOwnOn ? (config.ownChecks ?? []) : [];
  const settings: ResolvedSettings = {
    registry,
    rate: overrides.rate ?? config.rate ?? null,
    style,
    stage: overrides.stage ?? config.stage ?? null,
    tiers: { minor, major },
    checks,
    own,
  };
  if (overrides.style === undefined && config.style === undefined) {
    openStyles.set(settings, { registry, config, overrides, made: new Map() });
  }
  return settings;
}

/** Of settings for which nobody chose a style: from what they were put together, and what was made of them. */
const openStyles = new WeakMap<
  ResolvedSettings,
  {
    readonly registry: readonly ConfigurableCheck[];
    readonly config: Config;
    readonly overrides: Overrides;
    readonly made: Map<string, ResolvedSettings | string>;
  }
>();

/**
 * The settings by a style that a shot names, where no configuration and no run chooses one. The same name gives the same
 * object.
 * @returns null where a style is chosen already; a sentence where there is no such style
 */
export function withStyle(settings: ResolvedSettings, style: string): ResolvedSettings | string | null {
  const open = openStyles.get(settings);
  if (open === undefined) return null;
  const { registry, config, overrides, made } = open;
  let styled = made.get(style);
  if (styled === undefined) {
    const chain = chainOf(style, config.styles ?? {});
    styled = typeof chain === "string" ? chain : resolveSettings(registry, config, { ...overrides, style });
    made.set(style, styled);
  }
  return styled;
}

/** What the configuration chooses of a check, with the run's own choices put over it. */
function choiceOf(name: string, config: Config, overrides: Overrides): CheckChoice {
  const configured = config.checks?.[name] ?? {};
  const chosen = overrides.checks?.[name] ?? {};
  const values = chosen.values === undefined ? {} : { values: { ...configured.values, ...chosen.values } };
  const on = overrides.skip?.includes(name) === true ? { on: false } : {};
  return { ...configured, ...chosen, ...values, ...on };
}

function settingsFor(
  check: ConfigurableCheck,
  chain: StyleChain,
  choice: CheckChoice,
  problems: ConfigProblem[],
): CheckSettings {
  const styled = styledCheck(check, chain);
  const otherwise = styled.values;
  const values: Record<string, ChosenValue> = { ...otherwise };
  for (const [name, chosen] of Object.entries(choice.values ?? {})) {
    const path = `checks.${check.name}.${name}`;
    const setting = check.settings[name];
    if (setting === undefined) {
      const names = Object.keys(check.settings);
      problems.push({ path, message: `There is no setting of this name.${suggestion(name, names)}` });
      continue;
    }
    const message = outOfBounds(chosen, setting);
    if (message === null) values[name] = chosen;
    else problems.push({ path, message });
  }
  // A style only sets the default: whoever names a check in a configuration, and does not say "off", wants it.
  // So does ripening.
  const isDefault = styled.on ?? check.ripening === undefined;
  const on = choice.on ?? (isDefault || choice.values !== undefined);
  const isAsked = on && (choice.on === true || choice.values !== undefined);
  const isMoved = Object.entries(otherwise).some(
    ([name, { value, unit }]) => values[name]?.value !== value || values[name].unit !== unit,
  );
  const speaksUnsaid = check.ripening === undefined && (!on || isMoved);
  return {
    on,
    ...(isAsked ? { isAsked } : {}),
    ceiling: choice.tier ?? styled.tier ?? check.ceiling,
    values,
    ...(speaksUnsaid ? { otherwise } : {}),
  };
}

function unknownChecks(
  registry: readonly ConfigurableCheck[],
  config: Config,
  overrides: Overrides,
): ConfigProblem[] {
  const names = registry.map((check) => check.name);
  const known = new Set(names);
  const unknown = (name: string) => !known.has(name);
  const message = (name: string) => `There is no check of this name.${suggestion(name, names)}`;
  return [
    ...Object.keys({ ...config.checks, ...overrides.checks })
      .filter(unknown)
      .map((name) => ({ path: `checks.${name}`, message: message(name) })),
    ...[...(overrides.only ?? []), ...(overrides.skip ?? [])]
      .filter((name) => name !== ownName && unknown(name))
      .map((name) => ({ path: name, message: message(name) })),
  ];
}
