import { dirname, resolve } from "node:path";
import type { Config, Overrides, Tier } from "@keyside/core";
import { tiers } from "@keyside/core";
import { type Budget, defaultBudget } from "../base/budget.ts";
import { UnreadableError, WrongUse } from "../base/errors.ts";
import { type Io, pluginsOf } from "../base/io.ts";
import { defaultCacheFolder } from "../judge/archive/cache-folder.ts";
import type { Input } from "../judge/archive/inputs.ts";
import { judgeAll } from "../judge/archive/judge-all.ts";
import type { CachePlace, Judges } from "../judge/archive/judges.ts";
import { localJudges } from "../judge/archive/local-judges.ts";
import { memoryForRun, memoryPlan } from "../judge/archive/memory-plan.ts";
import { noSuchStyle } from "../judge/archive/no-such-style.ts";
import { noProgress, progressOf } from "../judge/archive/progress.ts";
import type { Shard, ShardKey } from "../judge/archive/shard.ts";
import { toolStamp } from "../judge/archive/stamp.ts";
import type { Trust } from "../judge/archive/trust.ts";
import type { JudgedShot } from "../judge/shots/shot-report.ts";
import { type Baseline, readBaseline } from "../present/report/baseline.ts";
import type { ReportFormat } from "../present/report/formats.ts";
import { reviewOfFigure } from "../present/text/review.ts";
import { withAnimations } from "./animations.ts";
import type { CommandIo } from "./command-io.ts";
import { configsFor } from "./configs-for.ts";
import { progressPlaceFor } from "./layout-for.ts";
import { usualTime } from "./limits.ts";
import { type ReportOptions, type ReportSink, report } from "./reporting.ts";
import { type Selection, select } from "./select.ts";
import { picturesFor } from "./shot-pictures.ts";
import { isFromStdin, withStdin } from "./stdin-shot.ts";
import { keepInputs } from "./write-out.ts";

export interface CheckOptions extends ReportOptions, Selection {
  /** What goes before the configuration. */
  readonly overrides: Overrides;
  readonly config: string | undefined;
  readonly failOn: Tier | undefined;
  readonly figure: string | undefined;
  /** Whether the worst shots are drawn on the archive page; they are if left out. */
  readonly pictures?: boolean | undefined;
  /** Whether the verified fix of each note is looked for. */
  readonly fixes?: boolean | undefined;
  /** Whether it is told what holds. */
  readonly strengths?: boolean | undefined;
  /** Which animation of files that hold several: a name, a number, or all of them. */
  readonly animation?: string | undefined;
  /** Worker threads; undefined leaves it to the machine. */
  readonly jobs: number | undefined;
  /** Seconds that one shot may take, and bytes of memory; undefined takes the default. */
  readonly timeLimit: number | undefined;
  readonly memoryLimit?: number | undefined;
  /** Bytes that the run should get along with; undefined leaves it to the machine. */
  readonly memory?: number | undefined;
  /** By what unchanged shots are told; by their content if left out. */
  readonly trust?: Trust | undefined;
  /** How much work a shot may be, where it is not the default. */
  readonly budget?: Partial<Budget> | undefined;
  /** Folder of the cache; undefined takes the user's, null keeps nothing. */
  readonly cache: string | null | undefined;
  readonly shard: Shard | null;
  readonly shardBy: ShardKey;
  readonly progress: boolean;
  /** What the shot from stdin is called; only with "-" as the path. */
  readonly stdinFilename?: string | undefined;
  /** A file of notes that are known and left out. */
  readonly baseline?: string | undefined;
}

/** Formats of the report that tell what is wrong and nothing else. */
const toldWithoutStrengths: ReadonlySet<string> = new Set<ReportFormat>([
  ...(["sarif", "junit", "html", "summary"] as const),
]);

/** Formats of the report that have no place for a fix. */
const toldWithoutFixes: ReadonlySet<string> = new Set<ReportFormat>(["text", "junit", "html", "summary"]);

/** `keyside check`: judges shots and reports them. Gives the exit code. */
export async function check(
  paths: readonly string[],
  options: CheckOptions,
  given: CommandIo,
): Promise<number> {
  if (options.fixes === true && toldWithoutFixes.has(options.format)) {
    throw new WrongUse(
      `--fixes is for sarif, json and jsonl: ${options.format} does not tell them; keyside fix FILE shows them.`,
    );
  }
  if (options.pictures === false && options.format !== "html") {
    throw new WrongUse("--no-pictures is for the page of --format html; no other format has pictures.");
  }
  if (options.strengths === true && toldWithoutStrengths.has(options.format)) {
    throw new WrongUse(
      `--strengths is for text, json and jsonl: ${options.format} does not tell them; keyside sheet FILE shows them.`,
    );
  }
  const fromStdin = isFromStdin(paths, options) ? await withStdin(options, given) : null;
  const io = fromStdin?.io ?? given;
  const { out, config, filesFrom, history } = options;
  keepInputs(out, [config, options.baseline, filesFrom, history], io.cwd);
  const configFor = await configsFor(config, io);
  const baseline = await baselineFrom(options.baseline, io);
  // Without a path, what is meant is what stands here.
  const isHere = paths.length === 0 && filesFrom === undefined;
  const selected = fromStdin?.inputs ?? (await select(isHere ? ["."] : paths, options, configFor, io));
  keepInputs(
    out,
    selected.map(({ file }) => file),
    io.cwd,
  );
  await refuseStyle(options.overrides.style, selected, configFor, io.cwd);
  const most = options.budget?.file ?? defaultBudget.file;
  const inputs = await withAnimations(selected, options.animation, most, io);
  const stopping = new AbortController();
  // Until the report is written: what has been judged must reach whoever reads it.
  const off = io.onInterrupt(() => stopping.abort());
  try {
    const { overrides, timeLimit, memoryLimit, budget } = options;
    const limits = { timeLimit, memoryLimit, budget };
    const pictureOf =
      options.format !== "html" || options.pictures === false
        ? undefined
        : picturesFor(inputs, { configFor, overrides, limits, signal: stopping.signal }, io);
    return await report({ ...options, pictureOf }, options.shard, io, (sink) =>
      judgeInto(
        sink,
        inputs,
        { ...options, baseline, isHereOnly: fromStdin !== null },
        configFor,
        stopping,
        io,
      ),
    );
  } finally {
    off();
  }
}

/** @throws WrongUse where no configuration of the inputs has the style that the run names */
async function refuseStyle(
  style: string | undefined,
  inputs: readonly Input[],
  configFor: (folder: string) => Promise<{ readonly config: Config }>,
  cwd: string,
): Promise<void> {
  if (style === undefined) return;
  let message: string | null = await noSuchStyle(style, {});
  const folders = new Set(inputs.map(({ file, path = file }) => dirname(resolve(cwd, path))));
  for (const folder of folders) {
    if (message === null) return;
    try {
      message = await noSuchStyle(style, (await configFor(folder)).config);
    } catch {
      // What is wrong with a configuration is told of the shots that it holds for.
      return;
    }
  }
  if (message !== null) throw new WrongUse(message);
}

async function baselineFrom(shown: string | undefined, io: Io): Promise<Baseline | null> {
  if (shown === undefined) return null;
  try {
    return await readBaseline(resolve(io.cwd, shown), shown);
  } catch (error) {
    if (error instanceof UnreadableError) throw new WrongUse(`${error.file}: ${error.message}`);
    throw error;
  }
}

type JudgeOptions = Omit<CheckOptions, "baseline"> & {
  readonly baseline: Baseline | null;
  /** Whether nobody else can read what is judged, so that it is judged in this thread, however heavy. */
  readonly isHereOnly: boolean;
};

async function judgeInto(
  sink: ReportSink,
  inputs: readonly Input[],
  options: JudgeOptions,
  configFor: (folder: string) => Promise<{ readonly config: Config }>,
  stopping: AbortController,
  io: CommandIo,
): Promise<{ done: number; of: number } | null> {
  const { signal } = stopping;
  const judges = await startJudges(inputs, options, stopping, io);
  const figures = new Set<string>();
  let shots = 0;
  let done = 0;
  let unkept: string | null = null;
  const progress = options.progress ? progressOf(inputs.length, progressPlaceFor(io)) : noProgress;
  sink.makeWay(() => progress.clear());
  try {
    const { cwd } = io;
    const { overrides, fixes, strengths } = options;
    for await (const outcome of judgeAll(inputs, {
      cwd,
      judges,
      configFor,
      overrides,
      fixes,
      strengths,
      plugins: pluginsOf(io),
      signal,
      onDone(outcome) {
        if (!signal.aborted) progress.step(outcome.kind === "shot" ? outcome.shot.notes.length : 0);
      },
    })) {
      done++;
      if (outcome.kind === "error") {
        await sink.error(outcome.error, outcome.isWrongUse);
        continue;
      }
      shots++;
      for (const figure of outcome.shot.figures) figures.add(figure);
      unkept ??= outcome.unkept;
      const shot = changed(outcome.shot, options);
      const failOn = options.failOn ?? outcome.failOn ?? "major";
      await sink.shot({ ...shot, failing: isFailing(shot, failOn), failOn });
    }
  } finally {
    await judges.close();
  }
  if (unkept !== null) io.stderr(`keyside: Results could not be kept in the cache: ${unkept}\n`);
  if (done < inputs.length) return { done, of: inputs.length };
  // One shard need not have what another has.
  if (options.figure !== undefined && options.shard === null && shots > 0 && !figures.has(options.figure)) {
    const names = [...figures].sort().join(", ");
    throw new WrongUse(
      `No shot has a figure "${options.figure}"; ${names === "" ? "there are none" : `there is ${names}`}.`,
    );
  }
  return null;
}

/** One shot alone is judged here unless it is heavy, which starts quicker; more are judged side by side. */
async function startJudges(
  inputs: readonly Input[],
  options: JudgeOptions,
  stopping: AbortController,
  io: CommandIo,
): Promise<Judges> {
  const { jobs, memoryLimit } = options;
  const cache = cachePlace(options.cache, io);
  const count = inputs.filter(({ problem }) => problem === null).length;
  const limits = {
    timeLimit: options.timeLimit ?? (options.fixes === true ? usualTime.fixing : usualTime.judging),
    budget: { ...defaultBudget, ...options.budget },
    cache,
  };
  const memory = options.memory ?? memoryForRun();
  const wanted = Math.max(1, Math.min(jobs ?? io.cores, count));
  const { workers, young } = memoryPlan(memory, wanted, jobs !== undefined);
  const forAll = { ...limits, young, memoryLimit, count: workers };
  const start = () => io.startJudges(forAll);
  if (options.isHereOnly) return localJudges({ ...limits, memoryLimit, stopping }, io.files);
  if (cache !== null && count > 1) {
    const say = (text: string) => io.stderr(`keyside: ${text}\n`);
    const { indexedJudges } = await import("../judge/archive/indexed-judges.ts");
    return indexedJudges({
      ...{ options: forAll, place: cache, trust: options.trust ?? "content", start },
      onDamage: (path) => say(`${path}: This index of kept results was damaged; its shots are judged again.`),
      onUnkept: (reason) => say(`Results could not be kept in the cache: ${reason}`),
    });
  }
  if (count > 1 || jobs !== undefined) return start();
  return localJudges({ ...limits, memoryLimit, forHeavy: start, stopping }, io.files);
}

function cachePlace(chosen: string | null | undefined, io: Io): CachePlace | null {
  if (chosen === null) return null;
  const folder = chosen === undefined ? defaultCacheFolder(io.env) : resolve(io.cwd, chosen);
  const stamp = folder === null ? null : toolStamp();
  return folder === null || stamp === null ? null : { folder, stamp };
}

/** What the run makes of a shot's result before it is reported. */
function changed(given: JudgedShot, { figure, baseline, audience }: JudgeOptions): JudgedShot {
  const judged: JudgedShot = { ...given };
  if (audience === "animator") delete judged.waived;
  const shot = baseline === null ? judged : baseline.newIn(judged);
  if (figure === undefined) return shot;
  // What is broken in the document concerns every figure.
  const notes = shot.notes.filter((note) => note.tier === "broken" || note.figure === figure);
  const waived = shot.waived?.filter((note) => note.figure === figure);
  const strengths = shot.strengths?.filter((strength) => strength.figure === figure);
  return {
    ...shot,
    notes,
    ...(shot.review === undefined ? {} : { review: reviewOfFigure(shot.review, figure, notes) }),
    ...(waived === undefined ? {} : { waived }),
    ...(strengths === undefined ? {} : { strengths }),
  };
}

function isFailing(shot: JudgedShot, failOn: Tier): boolean {
  const limit = tiers.indexOf(failOn);
  return shot.notes.some(({ tier }) => tiers.indexOf(tier) <= limit);
}
