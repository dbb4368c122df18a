import { dirname, join, relative, resolve } from "node:path";
import {
  type CheckChoice,
  type Config,
  ConfigError,
  type Overrides,
  type ResolvedSettings,
  resolveSettings,
} from "@keyside/core";
import { chainOf, defaultTiers, ownChecksOf, styledCheck } from "@keyside/core/internal";
import { configName } from "../base/config-name.ts";
import { exitCodes, reasonOf, UnreadableError } from "../base/errors.ts";
import { type Io, pluginsOf } from "../base/io.ts";
import type { Plugins } from "../base/plugins/plugins.ts";
import { type Layout, painted } from "../present/text/layout.ts";
import { plainTexts } from "../present/text/plain.ts";
import { configsFor } from "./configs-for.ts";
import { layoutFor } from "./layout-for.ts";

export interface ConfigOptions {
  readonly config: string | undefined;
  readonly overrides: Overrides;
  readonly format: "text" | "json";
}

/** A value that is in force, and where it comes from. */
interface InForce {
  readonly value: string | number | boolean | null;
  readonly unit?: string;
  readonly from: string;
  /** Why a style has it so. */
  readonly why?: string;
}

interface AllInForce {
  readonly file: string;
  /** The configuration file that holds for it; null where there is none. */
  readonly configuration: string | null;
  readonly run: Readonly<Record<string, InForce>>;
  readonly checks: Readonly<Record<string, Readonly<Record<string, InForce>>>>;
}

const commandLine = "command line";

/** `keyside config`: the configuration that is in force for a file, and where each value comes from. */
export async function config(file: string, options: ConfigOptions, io: Io): Promise<number> {
  const path = resolve(io.cwd, file);
  const plugins = pluginsOf(io);
  const found = await (await configsFor(options.config, io))(await folderOf(path, file, io));
  const place =
    options.config ??
    (found.folder === null ? null : relative(io.cwd, join(found.folder, configName)) || configName);
  let settings: ResolvedSettings;
  try {
    settings = resolveSettings(plugins.registry, found.config, options.overrides);
  } catch (error) {
    if (error instanceof ConfigError && !error.problems.some((problem) => problem.path === "--style"))
      throw new UnreadableError(place ?? file, error.message.replaceAll("\n", "; "));
    throw error;
  }
  const all = inForce(file, place, found.config, options.overrides, settings, plugins);
  io.stdout(
    options.format === "json" ? `${JSON.stringify(all, null, 2)}\n` : text(layoutFor(io), plainTexts(all)),
  );
  return exitCodes.clean;
}

async function folderOf(path: string, shown: string, io: Io): Promise<string> {
  try {
    const kind = await io.files.kind(path);
    if (kind === null) throw new UnreadableError(shown, "There is no such file or folder.");
    return kind === "folder" ? path : dirname(path);
  } catch (error) {
    throw error instanceof UnreadableError ? error : new UnreadableError(shown, reasonOf(error));
  }
}

function inForce(
  file: string,
  place: string | null,
  config: Config,
  overrides: Overrides,
  settings: ResolvedSettings,
  plugins: Plugins,
): AllInForce {
  const written = place ?? "";
  const from = (given: unknown, chosen: unknown) =>
    given !== undefined ? commandLine : chosen !== undefined ? written : "default";
  const run: Record<string, InForce> = {
    rate: { value: settings.rate, unit: "fps", from: from(overrides.rate, config.rate) },
    style: { value: settings.style, from: from(overrides.style, config.style) },
    stage: { value: settings.stage ?? null, from: from(overrides.stage, config.stage) },
    "tiers.minor": {
      value: settings.tiers.minor,
      // Without a value of its own it moves with the other, so that it never stands above it.
      from: settings.tiers.minor === defaultTiers.minor ? from(undefined, config.tiers?.minor) : written,
    },
    "tiers.major": {
      value: settings.tiers.major,
      from: settings.tiers.major === defaultTiers.major ? from(undefined, config.tiers?.major) : written,
    },
    failOn: { value: config.failOn ?? "major", from: from(undefined, config.failOn) },
    ignore: { value: (config.ignore ?? []).join(", "), from: from(undefined, config.ignore) },
    plugins: { value: plugins.modules.join(", "), from: plugins.configuration ?? "default" },
  };
  const chain = chainOf(settings.style, config.styles ?? {});
  const checks: Record<string, Record<string, InForce>> = {};
  for (const check of plugins.registry) {
    const now = settings.checks.get(check.name);
    if (now === undefined) continue;
    const choice = config.checks?.[check.name];
    const given = overrides.checks?.[check.name];
    const styled = typeof chain === "string" ? null : styledCheck(check, chain);
    const isOff = styled?.on === false;
    const isNamed = overrides.only !== undefined || overrides.skip?.includes(check.name) === true;
    const isAskedFor = isNamed || wants(given, isOff);
    /** Where a value comes from that nobody chose but the style. */
    const fromStyle = (member: string): Pick<InForce, "from" | "why"> => {
      const reason = styled?.reasons[member];
      if (reason === undefined) return { from: "default" };
      return { from: `style ${reason.style}`, ...(reason.why === "" ? {} : { why: reason.why }) };
    };
    const chosenOr = (member: string, origin: string) =>
      origin === "default" ? fromStyle(member) : { from: origin };
    const rows: Record<string, InForce> = {
      on: {
        value: now.on,
        ...(isAskedFor ? { from: commandLine } : wants(choice, isOff) ? { from: written } : fromStyle("on")),
      },
      tier: { value: now.ceiling, ...chosenOr("tier", from(given?.tier, choice?.tier)) },
    };
    for (const [name, { value, unit }] of Object.entries(now.values)) {
      rows[name] = { value, unit, ...chosenOr(name, from(given?.values?.[name], choice?.values?.[name])) };
    }
    const module = plugins.origins.get(check.name);
    if (module !== undefined) rows["module"] = { value: module, from: plugins.configuration ?? written };
    checks[check.name] = rows;
  }
  for (const check of ownChecksOf(settings)) {
    checks[check.name] = {
      on: { value: true, from: written },
      tier: { value: check.ceiling, from: written },
      expression: { value: check.computes, from: written },
    };
  }
  return { file, configuration: place, run, checks };
}

/** Whether a choice decides if a check runs: by saying so, or by naming values of one that the style turns off. */
function wants(choice: CheckChoice | undefined, isOff: boolean): boolean {
  return choice?.on !== undefined || (isOff && choice?.values !== undefined);
}

function text(layout: Layout, { file, configuration, run, checks }: AllInForce): string {
  const lines = [
    `${painted(layout, "bold", file)}  ${configuration ?? `no ${configName} in its folder or above`}`,
    "",
    ...rowsOf(layout, run),
  ];
  for (const [name, rows] of Object.entries(checks)) {
    lines.push("", painted(layout, "bold", name), ...rowsOf(layout, rows));
  }
  return `${lines.join("\n")}\n`;
}

function rowsOf(layout: Layout, rows: Readonly<Record<string, InForce>>): string[] {
  const entries = Object.entries(rows).map(([name, row]) => [name, valueText(name, row), row] as const);
  const nameWidth = Math.max(...entries.map(([name]) => name.length));
  const valueWidth = Math.max(...entries.map(([, value]) => value.length));
  return entries.map(([name, value, { from, why }]) => {
    const origin = from === "default" ? painted(layout, "dim", from) : from;
    const reason = why === undefined ? "" : `: ${painted(layout, "dim", why)}`;
    return `  ${name.padEnd(nameWidth)}  ${value.padEnd(valueWidth)}  ${origin}${reason}`;
  });
}

function valueText(name: string, { value, unit }: InForce): string {
  if (value === null) return "the shot's own";
  if (name === "on") return value === true ? "yes" : "no";
  if (value === "") return "nothing";
  // A style multiplies, and the last binary digits of a product are nobody's choice.
  const shown = typeof value === "number" ? String(Number(value.toPrecision(12))) : String(value);
  if (unit === undefined) return shown;
  return `${shown} ${unit === "frames" && value === 1 ? "frame" : unit}`;
}
