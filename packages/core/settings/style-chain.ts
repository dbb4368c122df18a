import { suggestion } from "../base/nearest.ts";
import type { ChosenValue } from "../base/quantity.ts";
import type { OwnStyles, StyleChoice } from "./choice.ts";
import type { ConfigurableCheck } from "./settings.ts";
import { type StyleChange, type StyleName, styleNames } from "./styles.ts";
import type { ChosenTier } from "./tier.ts";

/** A style, and those that it extends, down to one that there is by itself. */
export interface StyleChain {
  readonly base: StyleName;
  /** Styles of one's own, the one that extends `base` first, the one that is in force last. */
  readonly own: readonly { readonly name: string; readonly checks: Readonly<Record<string, StyleChoice>> }[];
}

/** What a style makes of a check. */
export interface StyledCheck {
  /** Whether the check runs; null where the style says nothing of it. */
  readonly on: boolean | null;
  readonly tier: ChosenTier | null;
  /** The defaults of all settings as the style has them. */
  readonly values: Readonly<Record<string, ChosenValue>>;
  /** Of `on`, `tier` and of each setting that a style changes: which style does, and why. */
  readonly reasons: Readonly<Record<string, { readonly style: string; readonly why: string }>>;
}

/**
 * A style with those that it extends.
 * @returns the chain, or what is wrong in a sentence: no such style, with the nearest name, or a circle
 */
export function chainOf(name: string, own: OwnStyles): StyleChain | string {
  const links: StyleChain["own"][number][] = [];
  let at = name;
  while (!isPreset(at)) {
    if (!Object.hasOwn(own, at)) return noStyle(at, own);
    if (links.some((link) => link.name === at)) return circle([...links.map((link) => link.name), at]);
    links.push({ name: at, checks: own[at].checks ?? {} });
    at = own[at].extends ?? "full";
  }
  return { base: at, own: links.reverse() };
}

/** Says that there is no style of a name, and which there are. */
export function noStyle(name: string, own: OwnStyles): string {
  const names = [...styleNames, ...Object.keys(own)];
  return `"${name}" is none of ${names.join(", ")}.${suggestion(name, names)}`;
}

function circle(names: readonly string[]): string {
  return `The styles extend each other in a circle: ${names.join(" extends ")}. Let one of them extend ${styleNames.join(" or ")}.`;
}

export function isPreset(name: string): name is StyleName {
  return (styleNames as readonly string[]).includes(name);
}

/** What a style makes of a check. */
export function styledCheck(check: ConfigurableCheck, { base, own }: StyleChain): StyledCheck {
  const change = changeOf(check, base);
  const values: Record<string, ChosenValue> = {};
  const reasons: Record<string, { style: string; why: string }> = {};
  let on: boolean | null = change?.off === true ? false : null;
  let tier: ChosenTier | null = null;
  if (on === false) reasons["on"] = { style: base, why: change?.why ?? "" };
  for (const [name, setting] of Object.entries(check.settings)) {
    const factor = change?.times?.[name];
    values[name] = { value: setting.default * (factor ?? 1), unit: setting.unit };
    if (factor !== undefined) reasons[name] = { style: base, why: change?.why ?? "" };
  }
  for (const { name: style, checks } of own) {
    const choice = Object.hasOwn(checks, check.name) ? checks[check.name] : undefined;
    if (choice === undefined) continue;
    const reason = { style, why: choice.why };
    // Who names a check, and does not turn it off, wants it.
    const isOn: boolean | null = choice.on ?? (choice.values === undefined ? on : true);
    if (choice.on !== undefined || isOn !== on) reasons["on"] = reason;
    on = isOn;
    if (choice.tier !== undefined) [tier, reasons["tier"]] = [choice.tier, reason];
    for (const [name, value] of Object.entries(choice.values ?? {})) {
      if (values[name] !== undefined) [values[name], reasons[name]] = [value, reason];
    }
  }
  return { on, tier, values, reasons };
}

/** What each style that there is does to a check, a sentence for each. */
export function styleChanges(check: ConfigurableCheck): readonly string[] {
  return styleNames.flatMap((style) => {
    const change = changeOf(check, style);
    return change === undefined ? [] : [`${style}: ${changeWords(check, change)}${reasonWords(change.why)}`];
  });
}

function reasonWords(why: string): string {
  return why === "" ? "" : `. ${why}`;
}

/** "off", or "share 0.25 ratio instead of 0.5". */
export function changeWords(check: ConfigurableCheck, { off, times = {} }: StyleChange): string {
  if (off === true) return "off";
  const parts = Object.entries(times).map(([name, factor = 1]) => {
    const setting = check.settings[name];
    const { default: before, unit } = setting ?? { default: Number.NaN, unit: "" };
    // The last binary digits of a product are nobody's choice.
    const after = Number((before * factor).toPrecision(12));
    return `${name} ${after} ${unit} instead of ${before}`;
  });
  return parts.join(", ");
}

/** What a preset does to a check. Plug-ins may leave the reason out, and write `false` or factors alone. */
export function changeOf({ styles }: ConfigurableCheck, style: StyleName): StyleChange | undefined {
  const change = styles?.[style] as StyleChange | false | Readonly<Record<string, number>> | undefined;
  if (change === undefined) return undefined;
  if (change === false) return { off: true, why: "" };
  if (isReasoned(change)) return change;
  return { times: change as Readonly<Record<string, number>>, why: "" };
}

function isReasoned(change: object): change is StyleChange {
  return (
    "why" in change ||
    (change as StyleChange).off === true ||
    typeof (change as StyleChange).times === "object"
  );
}
