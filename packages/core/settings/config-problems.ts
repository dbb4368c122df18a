import type { z } from "zod";
import { suggestion } from "../base/nearest.ts";
import type { ConfigurableCheck } from "./settings.ts";
import { styleNames } from "./styles.ts";

/** One thing that is wrong with a configuration. */
export interface ConfigProblem {
  /** Where in the configuration, for example `checks.pop.deviation`; empty for the whole. */
  readonly path: string;
  readonly message: string;
}

type Issue = z.core.$ZodIssue;

/** What was read, and what may stand in it. */
export interface Written {
  readonly registry: readonly ConfigurableCheck[];
  readonly ownMembers: readonly string[];
  readonly data: unknown;
}

/**
 * What is wrong at one place of a configuration, in sentences with the nearest name.
 * @param above where the place stands that the issue counts from
 */
export function problemOf(issue: Issue, above: readonly PropertyKey[], written: Written): ConfigProblem[] {
  const { data } = written;
  const path = [...above, ...issue.path];
  const where = path.map(String).join(".");
  if (issue.code === "unrecognized_keys") {
    const names = namesAt(path, written);
    const place = inStyle(path);
    const what = place.length === 1 && place[0] === "checks" ? "check" : "setting";
    return issue.keys.map((key) => ({
      path: where === "" ? key : `${where}.${key}`,
      message: `There is no ${what} of this name.${suggestion(key, names)}`,
    }));
  }
  if (issue.code === "invalid_union") {
    // Of the alternatives, the one that got further in is what was meant: an object, not true or false.
    const value = valueAt(data, path);
    const branch = issue.errors.find(
      (errors) => !errors.some((e) => e.code === "invalid_type" && e.path.length === 0),
    );
    if (branch !== undefined) return branch.flatMap((inner) => problemOf(inner, path, written));
    return [{ path: where, message: `${shown(value)} cannot stand here: ${expectedAt(path)}.` }];
  }
  if (issue.code === "invalid_value") {
    const value = valueAt(data, path);
    const names = issue.values.map(String);
    const near = typeof value === "string" ? suggestion(value, names) : "";
    return [{ path: where, message: `${shown(value)} is none of ${names.join(", ")}.${near}` }];
  }
  if (issue.code === "invalid_format" && path[0] === "ownChecks") {
    return [{ path: where, message: `${issue.message.charAt(0).toUpperCase()}${issue.message.slice(1)}.` }];
  }
  if (issue.code === "invalid_key") {
    return [{ path: where, message: "A style's name is small letters, with hyphens between words." }];
  }
  if (where === "style") {
    return [{ path: where, message: `${shown(valueAt(data, path))} is none of ${styleNames.join(", ")}.` }];
  }
  if (path[0] === "styles" && path.at(-1) === "why") {
    return [{ path: where, message: "Say why the style has it so, in a sentence." }];
  }
  if (issue.code === "invalid_format") {
    return [{ path: where, message: 'A rate is a number or a fraction such as "24000/1001".' }];
  }
  const message = issue.message.replace(/^Invalid input: e/, "E");
  return [{ path: where, message: `${message}.` }];
}

/** What stands at a place. */
function valueAt(data: unknown, path: readonly PropertyKey[]): unknown {
  return path.reduce<unknown>((part, key) => (part as Record<PropertyKey, unknown>)?.[key], data);
}

function expectedAt(path: readonly PropertyKey[]): string {
  if (path[0] === "rate") return 'a number or a fraction such as "24000/1001" is wanted';
  if (path[0] === "checks" && path.length === 2) return "true, false or an object of settings is wanted";
  return 'a number, or a text with its unit such as "2 cm", is wanted';
}

/** A place in a style as it would be in the configuration itself. */
function inStyle(path: readonly PropertyKey[]): readonly PropertyKey[] {
  return path[0] === "styles" && path[2] === "checks" ? path.slice(2) : path;
}

function namesAt(at: readonly PropertyKey[], { registry, ownMembers }: Written): readonly string[] {
  const path = inStyle(at);
  if (path[0] === "styles") return ["extends", "what", "checks"];
  if (path.length === 0)
    return [
      "rate",
      "style",
      "styles",
      "stage",
      "tiers",
      "failOn",
      "checks",
      "ignore",
      "ownChecks",
      "plugins",
    ];
  if (path[0] === "ownChecks") return ownMembers;
  if (path[0] === "tiers") return ["minor", "major"];
  if (path.length === 1) return registry.map((check) => check.name);
  const check = registry.find(({ name }) => name === path[1]);
  const why = path === at ? [] : ["why"];
  return ["on", "tier", ...why, ...Object.keys(check?.settings ?? {})];
}

function shown(value: unknown): string {
  const text = JSON.stringify(value) ?? "nothing";
  return text.length > 40 ? `${text.slice(0, 37)}...` : text;
}
