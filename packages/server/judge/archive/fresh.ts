import { basename } from "node:path";
import { type Config, type Overrides, type ResolvedSettings, resolveSettings } from "@keyside/core";
import { defaultBudget, grouped, overBudget } from "../../base/budget.ts";
import { UnreadableError } from "../../base/errors.ts";
import { unguarded, unlessStopped } from "../../base/guard.ts";
import { noPlugins, type Plugins } from "../../base/plugins/plugins.ts";
import { judge } from "../shots/judge.ts";
import { loadShot } from "../shots/load.ts";
import { type Neighbours, neighboursOf } from "../shots/neighbours.ts";
import { addedAdapters, detected, readerFor } from "../shots/readers.ts";
import { isLight, weightOf } from "../shots/weigh.ts";
import { type JudgeContext, TooHeavyHere } from "./judge-context.ts";
import type { ShotTask, StoredShot, TaskPlugins } from "./judges.ts";

/** From what settings are put together. */
export interface SettingsSource {
  readonly config: Config;
  readonly overrides: Overrides;
  /** Whether the verified fix of each note is looked for; left out where it is not. */
  readonly fixes?: true;
  /** Whether it is told what holds; left out where it is not. */
  readonly strengths?: true;
  /** Digest of the plug-ins; left out where there are none. */
  readonly plugins?: string;
  /** Which animation of a file that holds several, where one is chosen. */
  readonly animation?: string;
}

/** What came of judging a shot anew. */
export interface FreshResult {
  /** A {@link StoredShot} as JSON. */
  readonly stored: string;
  /** Whether every check that is on has come to its end. */
  readonly isWhole: boolean;
}

/** How a shot is judged. */
interface Judging {
  readonly settings: ResolvedSettings;
  readonly withFixes: boolean;
  readonly withStrengths: boolean;
}

const resolved = new Map<string, Judging>();
const loaded = new Map<string, Promise<Plugins>>();

/**
 * Files that a shot's file names, with what is in them.
 * @throws UnreadableError where the adapter of a plug-in fails
 */
export async function neighboursOfTask(
  task: ShotTask,
  bytes: Uint8Array,
  { files, budget = defaultBudget, guard = unguarded }: JudgeContext,
): Promise<Neighbours> {
  addedAdapters.use((await pluginsOf(task.plugins)).adapters);
  const adapter = readerFor(task.file) ?? detected(bytes);
  const names = guard(() => adapter?.needs?.(bytes, { file: basename(task.file) }) ?? []);
  return neighboursOf(task.path, names, files, budget.file);
}

/** The settings of a task; each text is put together once. */
async function judgingOf({ settings: text, plugins }: ShotTask): Promise<Judging> {
  const { registry, adapters } = await pluginsOf(plugins);
  addedAdapters.use(adapters);
  let judging = resolved.get(text);
  if (judging === undefined) {
    const { config, overrides, fixes = false, strengths = false } = JSON.parse(text) as SettingsSource;
    judging = {
      settings: resolveSettings(registry, config, overrides),
      withFixes: fixes,
      withStrengths: strengths,
    };
    resolved.set(text, judging);
  }
  return judging;
}

/** The plug-ins of a task; each version of them is loaded once in a thread. */
function pluginsOf(task: TaskPlugins | undefined): Promise<Plugins> {
  if (task === undefined) return Promise.resolve(noPlugins);
  const key = JSON.stringify(task);
  let plugins = loaded.get(key);
  if (plugins === undefined) {
    plugins = loadedHere(task);
    loaded.set(key, plugins);
  }
  return plugins;
}

async function loadedHere({ modules, digest, configuration }: TaskPlugins): Promise<Plugins> {
  const { loadPlugins } = await import("../../base/plugins/load.ts");
  const named = { modules, written: modules, configuration, shown: configuration };
  const plugins = await loadPlugins(named, []);
  if (plugins.digest === digest) return plugins;
  throw new UnreadableError(
    configuration,
    "A module of its plug-ins has changed since the run began; run again.",
  );
}

/**
 * Reads and judges a shot anew.
 * @param beside texts of the files of waivers and of the review beside it, "" where there is none
 * @param neighbours what the shot's file names
 * @throws UnreadableError where nothing in it can be judged
 */
export async function judgeFresh(
  task: ShotTask,
  bytes: Uint8Array,
  beside: { readonly waivers: string; readonly review: string },
  neighbours: Neighbours,
  { files, budget = defaultBudget, guard = unguarded, signal, lightOnly = false }: JudgeContext,
): Promise<FreshResult> {
  const { settings, withFixes, withStrengths } = await judgingOf(task);
  // Capture is taken over at the judged rate, so that its first frame is 1 there and its keys are what is seen.
  const rate = settings.rate ?? undefined;
  const read = await loadShot(task.file, {
    cwd: "/",
    rate,
    ...beside,
    neighbours,
    animation: task.animation,
    budget,
    guard,
    signal,
    files: { ...files, read: async () => bytes },
  });
  if (lightOnly && !isLight(weightOf(read.shot, rate))) throw new TooHeavyHere();
  await unlessStopped(signal);
  const { file: _, name, ...rest } = guard(() => judge(read, settings, withFixes, withStrengths));
  const count = rest.notes.length;
  if (count > budget.notes) {
    throw new UnreadableError(
      task.file,
      overBudget("notes", `It has ${grouped(count)} notes`, count, budget),
    );
  }
  const stored: StoredShot = { name: read.shot.header.shot.name === undefined ? null : name, ...rest };
  return { stored: JSON.stringify(stored), isWhole: stored.failures === undefined };
}
