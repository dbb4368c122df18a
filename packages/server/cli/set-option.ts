import { type CheckChoice, ConfigError, readConfig } from "@keyside/core";
import { nearestName } from "@keyside/core/internal";
import { InvalidArgumentError, Option } from "commander";
import { WrongUse } from "../base/errors.ts";
import { checkOfRun, type Plugins } from "../base/plugins/plugins.ts";
import { noCheck } from "./options.ts";

/** A setting of a check as it was given on the command line. */
export interface WrittenSetting {
  readonly check: string;
  readonly setting: string;
  /** As a configuration would have it: a number, a text with its unit, true or false. */
  readonly value: number | string | boolean;
}

const form = 'A setting is CHECK.SETTING=VALUE, such as hard-stop.share=0.3 or "contact-slide.travel=3 cm".';
const plainNumber = /^[+-]?(?:\d+\.?\d*|\.\d+)(?:e[+-]?\d+)?$/i;

/** Settings of checks for one run; each is named and valued as in a configuration. */
export function setOption(plugins: Plugins): Option {
  return new Option(
    "--set <CHECK.SETTING=VALUE>",
    'give a check\'s setting this value, such as hard-stop.share=0.3 or "contact-slide.travel=3 cm"; can be repeated',
  ).argParser((text: string, before: readonly WrittenSetting[] | undefined) => [
    ...(before ?? []),
    written(text, plugins),
  ]);
}

function written(text: string, plugins: Plugins): WrittenSetting {
  const [, check, setting, valueText] = /^\s*([^.=\s]+)\s*\.\s*([^.=\s]+)\s*=(.*)$/s.exec(text) ?? [];
  const value = valueText?.trim();
  if (check === undefined || setting === undefined || value === undefined || value === "") {
    throw new InvalidArgumentError(form);
  }
  const found = checkOfRun(plugins, check);
  if (found === undefined) {
    const names = plugins.registry.map(({ name }) => name);
    throw new InvalidArgumentError(noCheck(check, names, plugins));
  }
  const names = [...Object.keys(found.settings), "on", "tier"];
  if (!names.includes(setting)) {
    const near = nearestName(setting, names);
    const hint = near === null ? `keyside explain ${check} lists them.` : `Did you mean "${near}"?`;
    throw new InvalidArgumentError(`The check ${check} has no setting "${setting}". ${hint}`);
  }
  return { check, setting, value: valued(setting, value) };
}

function valued(setting: string, value: string): number | string | boolean {
  if (setting === "on") {
    if (value === "true" || value === "false") return value === "true";
    throw new InvalidArgumentError("A check is on or not: true or false.");
  }
  if (!plainNumber.test(value)) return value;
  const number = Number(value);
  if (Number.isFinite(number)) return number;
  throw new InvalidArgumentError("The value must be a finite number.");
}

/**
 * Reads settings as a configuration's are read; the last value of a setting counts.
 * @throws WrongUse for a value of another kind or outside its bounds
 */
export async function choicesOf(
  settings: readonly WrittenSetting[],
  plugins: Plugins,
): Promise<Readonly<Record<string, CheckChoice>>> {
  const checks: Record<string, Record<string, WrittenSetting["value"]>> = {};
  for (const { check, setting, value } of settings) {
    checks[check] = { ...checks[check], [setting]: value };
  }
  try {
    return (await readConfig(plugins.registry, { checks })).checks ?? {};
  } catch (error) {
    if (!(error instanceof ConfigError)) throw error;
    const faults = error.problems.map(
      ({ path, message }) => `--set ${path.replace(/^checks\./, "")}: ${message}`,
    );
    throw new WrongUse(faults.join(" "));
  }
}
