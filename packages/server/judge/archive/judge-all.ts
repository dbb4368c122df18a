import { stat } from "node:fs/promises";
import { dirname, resolve } from "node:path";
import type { Config, Overrides, ReportError, Tier } from "@keyside/core";
import { FaultySettings, UnreadableError, unexpectedly } from "../../base/errors.ts";
import type { Plugins } from "../../base/plugins/plugins.ts";
import { extensionOf, readerFor } from "../shots/readers.ts";
import { reviewFileOf } from "../shots/reviews.ts";
import type { JudgedShot } from "../shots/shot-report.ts";
import { waiversFileOf } from "../shots/waivers.ts";
import type { SettingsSource } from "./fresh.ts";
import { inOrder } from "./in-order.ts";
import type { Input } from "./inputs.ts";
import { type Judges, shotFrom, type TaskPlugins } from "./judges.ts";
import { noSuchStyle } from "./no-such-style.ts";

/**
 * How far ahead of the next shot that is due others may be judged, for each that is judged at the same time: far
 * enough for a big shot to start in time, and a bound for the results that wait in memory.
 */
const lookaheadEach = 16;

/** What came of one input. */
export type InputOutcome =
  | {
      readonly kind: "shot";
      readonly shot: JudgedShot;
      /** Lightest tier that makes the run fail, as the shot's configuration has it; null where it has none. */
      readonly failOn: Tier | null;
      readonly isCached: boolean;
      readonly unkept: string | null;
    }
  | {
      readonly kind: "error";
      readonly error: ReportError;
      /** Whether a configuration or an ignore file is at fault. */
      readonly isWrongUse?: boolean | undefined;
    };

export interface JudgeAllOptions {
  readonly cwd: string;
  readonly judges: Judges;
  readonly configFor: (folder: string) => Promise<{ readonly config: Config }>;
  readonly overrides: Overrides;
  /** Whether the verified fix of each note is looked for; it is not if left out. */
  readonly fixes?: boolean | undefined;
  /** Whether it is told what holds; it is not if left out. */
  readonly strengths?: boolean | undefined;
  /** What plug-ins add to the run. */
  readonly plugins: Plugins;
  /** Stops the run; what has been judged still comes. */
  readonly signal: AbortSignal;
  /** Told of each input as soon as it is done, in whatever order. */
  onDone?(outcome: InputOutcome): void;
}

/** Judges all inputs, several at a time, and gives what came of them in the inputs' order. */
export async function* judgeAll(
  inputs: readonly Input[],
  options: JudgeAllOptions,
): AsyncGenerator<InputOutcome> {
  const settingsText = settingsOnce(options);
  const results = inOrder(inputs, {
    atOnce: options.judges.count,
    lookahead: lookaheadEach * options.judges.count,
    signal: options.signal,
    weigh: ({ file, path = file }) => sizeOf(resolve(options.cwd, path)),
    async work(input) {
      const outcome = await outcomeOf(input, settingsText, options);
      options.onDone?.(outcome);
      return outcome;
    },
  });
  for await (const [, outcome] of results) yield outcome;
}

async function outcomeOf(
  input: Input,
  settingsText: (config: Config, animation: string | undefined) => string,
  { cwd, judges, configFor, overrides, plugins }: JudgeAllOptions,
): Promise<InputOutcome> {
  const { file, problem, isWrongUse, animation } = input;
  if (problem !== null) return { kind: "error", error: { file, message: problem }, isWrongUse };
  try {
    const own = input.path ?? file;
    const path = resolve(cwd, own);
    const { config } = await configFor(dirname(path));
    const message = await noSuchStyle(overrides.style, config);
    if (message !== null) return { kind: "error", error: { file, message }, isWrongUse: true };
    const kind = extensionOf(own) ?? "";
    const adapter = readerFor(own);
    const task = {
      ...{ file: own, path, waivers: waiversFileOf(path), review: reviewFileOf(path), kind, animation },
      ...{ settings: settingsText(config, animation), plugins: taskPlugins(plugins) },
      isBinary: adapter === null || adapter.isBinary === true,
      mayNeed: adapter === null || adapter.needs !== undefined,
    };
    const judgement = await judges.judge(task);
    if (judgement.kind === "error") return { kind: "error", error: { file, message: judgement.message } };
    const { stored, isCached, unkept } = judgement;
    return {
      kind: "shot",
      shot: shotFrom(file, stored, input.path === undefined ? "" : animation),
      failOn: config.failOn ?? null,
      isCached,
      unkept,
    };
  } catch (error) {
    // A configuration that cannot be read: the fault is in its file, not in the shot's.
    if (error instanceof UnreadableError) {
      const isWrongUse = error instanceof FaultySettings;
      return { kind: "error", error: { file, message: `${error.file}: ${error.message}` }, isWrongUse };
    }
    return { kind: "error", error: { file, message: unexpectedly(error) } };
  }
}

function taskPlugins({ modules, digest, configuration }: Plugins): TaskPlugins | undefined {
  return configuration === null || modules.length === 0 ? undefined : { modules, digest, configuration };
}

/** The settings of each configuration as text. What does not change a shot's notes is not in it. */
function settingsOnce({
  overrides,
  fixes,
  strengths,
  plugins: { digest },
}: JudgeAllOptions): (config: Config, animation: string | undefined) => string {
  const texts = new Map<Config, string>();
  return (config, animation) => {
    let text = animation === undefined ? texts.get(config) : undefined;
    if (text === undefined) {
      const { failOn: _failOn, ignore: _ignore, ...rest } = config;
      const plugins = digest === "" ? {} : { plugins: digest };
      const withFixes = fixes === true ? { fixes } : {};
      const withStrengths = strengths === true ? { strengths } : {};
      const one = animation === undefined ? {} : { animation };
      const all = {
        config: rest,
        overrides,
        ...withFixes,
        ...withStrengths,
        ...plugins,
        ...one,
      } satisfies SettingsSource;
      text = JSON.stringify(all);
      if (animation === undefined) texts.set(config, text);
    }
    return text;
  };
}

async function sizeOf(path: string): Promise<number> {
  try {
    return (await stat(path)).size;
  } catch {
    // Judging it will say what is wrong.
    return 0;
  }
}
