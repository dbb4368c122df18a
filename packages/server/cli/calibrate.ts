import { dirname, resolve } from "node:path";
import {
  type Check,
  type Overrides,
  type OwnStyles,
  resolveSettings,
  studyOf,
  type Unit,
} from "@keyside/core";
import { chainOf } from "@keyside/core/internal";
import { counted } from "../base/counted.ts";
import { exitCodeOf, exitCodes, FaultySettings, UnreadableError } from "../base/errors.ts";
import { type Io, pluginsOf } from "../base/io.ts";
import { noProgress, progressOf } from "../judge/archive/progress.ts";
import { type Calibrated, Calibration } from "../judge/calibrate/calibration.ts";
import { loadShot } from "../judge/shots/load.ts";
import { type Layout, painted, wrapped } from "../present/text/layout.ts";
import { configsFor } from "./configs-for.ts";
import { layoutFor, progressPlaceFor } from "./layout-for.ts";
import { limitsFor, type RawLimits, usualTime } from "./limits.ts";
import { select } from "./select.ts";
import { keepInputs, writeOut } from "./write-out.ts";

export interface CalibrateOptions {
  readonly overrides: Overrides;
  readonly config: string | undefined;
  readonly out: string;
  readonly force: boolean;
  readonly percentile: number;
  /** What the style is called that is written. */
  readonly name: string;
  readonly beyondBounds: boolean;
  /** Takes thresholds from fewer shots than the percentile needs. */
  readonly few: boolean;
  /** Names of the checks; undefined takes all. */
  readonly checks: readonly string[] | undefined;
  readonly format: "text" | "json";
  readonly filesFrom: string | undefined;
  readonly progress: boolean;
  readonly limits?: RawLimits | undefined;
}

/** `keyside calibrate`: thresholds from approved shots, written as a configuration. Gives the exit code. */
export async function calibrate(
  paths: readonly string[],
  options: CalibrateOptions,
  io: Io,
): Promise<number> {
  const { overrides, percentile, beyondBounds, few, format, out, force, filesFrom } = options;
  const { registry } = pluginsOf(io);
  const checks = registry.filter(({ name }) => options.checks?.includes(name) ?? true);
  keepInputs(out, [options.config, filesFrom], io.cwd);
  const configFor = await configsFor(options.config, io);
  const inputs = await select(
    paths,
    { filesFrom, changedSince: undefined, shard: null, shardBy: "content" },
    configFor,
    io,
  );
  // The values that stand beside the calibrated ones are those of the folder in which the result is to stand.
  const { config } = await configFor(dirname(resolve(io.cwd, out)));
  const settings = resolveSettings(registry, config, overrides);
  const calibration = new Calibration(checks);
  const progress = options.progress ? progressOf(inputs.length, progressPlaceFor(io)) : noProgress;
  let shots = 0;
  let code: number = exitCodes.clean;
  for (const { file, problem, isWrongUse } of inputs) {
    try {
      if (problem !== null) throw new (isWrongUse === true ? FaultySettings : UnreadableError)(file, problem);
      const rate = settings.rate ?? undefined;
      const { guard, budget } = limitsFor(file, options.limits ?? {}, usualTime.fixing);
      const loaded = await loadShot(file, { files: io.files, cwd: io.cwd, rate, guard, budget });
      calibration.add(studyOf(loaded.shot, settings), guard);
      shots++;
    } catch (error) {
      if (!(error instanceof UnreadableError)) throw error;
      code = Math.max(code, exitCodeOf(error));
      progress.clear();
      io.stderr(`keyside: ${error.file}: ${error.message}\n`);
    }
    progress.step(0);
  }
  progress.clear();
  if (shots === 0) {
    io.stderr("keyside: There is no shot to learn from.\n");
    return Math.max(code, exitCodes.wrongUse);
  }
  const inForce = (check: Check, name: string) => {
    const setting = check.settings[name] as Check["settings"][string];
    return settings.checks.get(check.name)?.values[name] ?? { value: setting.default, unit: setting.unit };
  };
  const results = calibration.results({ percentile, beyondBounds }, inForce);
  const taken = results.filter(({ threshold, isThin }) => threshold !== null && (few || !isThin));
  await writeOut(
    `${JSON.stringify(configOf(taken, registry, { style: settings.style, own: config.styles ?? {}, shots }, options), null, 2)}\n`,
    { out, force },
    { ...io, stdout: () => {} },
  );
  io.stdout(
    format === "json"
      ? `${JSON.stringify({ shots, percentile, settings: results }, null, 2)}\n`
      : calibrationText(layoutFor(io), results, taken, shots, options),
  );
  return code;
}

/**
 * A configuration with what was learnt as a style: each check says how many of the approved shots pass by it.
 * @param style the style that was in force, which the new one changes; where it is one of their own, it is written too
 */
function configOf(
  taken: readonly Calibrated[],
  registry: readonly Check[],
  { style, own, shots }: { readonly style: string; readonly own: OwnStyles; readonly shots: number },
  { name, percentile }: CalibrateOptions,
): object {
  const checks: Record<string, Record<string, number | string>> = {};
  for (const { check, setting, threshold, unit } of taken) {
    const values = checks[check] ?? {};
    checks[check] = values;
    values[setting] = valueWritten(registry, check, setting, threshold as number, unit);
  }
  for (const [check, values] of Object.entries(checks)) {
    const learnt = taken.filter((one) => one.check === check);
    const reasons = learnt.map(({ setting, passing, distribution }) => {
      const of = counted(distribution?.shots ?? 0, "approved shot");
      return `${learnt.length === 1 ? "" : `${setting}: `}${passing} of ${of} that it could limit pass`;
    });
    values["why"] = `${reasons.join("; ")}.`;
  }
  const what = `Learnt from ${counted(shots, "approved shot")}, percentile ${percentile}.`;
  return {
    style: name,
    styles: { ...writtenChain(style, own, registry), [name]: { extends: style, what, checks } },
  };
}

/** A value as a configuration has it: a number in the setting's own unit, else a text with its unit. */
function valueWritten(
  registry: readonly Check[],
  check: string,
  setting: string,
  value: number,
  unit: Unit,
): number | string {
  const declared = registry.find(({ name }) => name === check)?.settings[setting]?.unit;
  return unit === declared ? value : `${value} ${unit}`;
}

/** A style of one's own and those that it extends, as they stand in a configuration. */
function writtenChain(
  style: string,
  own: OwnStyles,
  registry: readonly Check[],
): Readonly<Record<string, object>> {
  const chain = chainOf(style, own);
  if (typeof chain === "string") return {};
  return Object.fromEntries(
    chain.own.map(({ name }) => {
      const { checks = {}, ...rest } = own[name] ?? {};
      const written = Object.entries(checks).map(([check, { values = {}, ...choice }]) => {
        const texts = Object.entries(values).map(([setting, { value, unit }]) => [
          setting,
          valueWritten(registry, check, setting, value, unit),
        ]);
        return [check, { ...Object.fromEntries(texts), ...choice }];
      });
      return [name, { ...rest, checks: Object.fromEntries(written) }];
    }),
  );
}

function calibrationText(
  layout: Layout,
  results: readonly Calibrated[],
  taken: readonly Calibrated[],
  shots: number,
  { out, percentile }: CalibrateOptions,
): string {
  const lines = [
    painted(layout, "bold", `${counted(shots, "shot")}, percentile ${percentile}`),
    wrapped(
      layout,
      "Of each shot its worst value counts. A threshold lets the shots up to the percentile pass without a note.",
    ),
  ];
  const learnt = results.filter(({ threshold }) => threshold !== null);
  let check = "";
  for (const result of learnt) {
    if (result.check !== check) {
      check = result.check;
      lines.push("", painted(layout, "bold", check));
    }
    lines.push(...resultLines(layout, result, taken.includes(result)));
  }
  if (learnt.length === 0) lines.push("", "No threshold could be learnt from these shots.");
  const rest = results.filter(({ threshold }) => threshold === null);
  const reasons = [...new Set(rest.map(({ reason }) => reason ?? ""))];
  if (rest.length > 0) lines.push("", painted(layout, "bold", "not calibrated"));
  for (const reason of reasons) {
    const names = rest.filter((one) => one.reason === reason).map((one) => `${one.check}.${one.setting}`);
    lines.push(wrapped(layout, `${reason}: ${names.join(", ")}`, "    ", "  "));
  }
  lines.push("", `${counted(taken.length, "threshold")} written to ${out}.`);
  return `${lines.join("\n")}\n`;
}

function resultLines(layout: Layout, result: Calibrated, isTaken: boolean): string[] {
  const { setting, before, threshold, unit, side, distribution, warnings } = result;
  const most = side === "max" ? "at most" : "at least";
  const head = `  ${setting}: ${most} ${threshold} ${unit} (was ${short(before)})${isTaken ? "" : ", not written"}`;
  const lines = [head];
  if (distribution !== null) {
    const { shots, findings, least, median, most: largest } = distribution;
    const values = `least ${short(least)}, median ${short(median)}, most ${short(largest)} ${unit}`;
    const text = `${counted(shots, "shot")}, ${counted(findings, "value")}: ${values}`;
    lines.push(painted(layout, "dim", wrapped(layout, text, "    ")));
  }
  for (const warning of warnings) lines.push(painted(layout, "yellow", wrapped(layout, warning, "    ")));
  return lines;
}

function short(value: number): string {
  return String(Number(value.toPrecision(3)));
}
