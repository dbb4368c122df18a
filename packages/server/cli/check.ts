import { dirname, resolve } from "node:path";
import {
  type Config,
  type Overrides,
  type ReportError,
  type ResolvedSettings,
  registry,
  resolveSettings,
  type Tier,
  tiers,
} from "@keyside/core";
import { escapePath } from "tinyglobby";
import { discover } from "../archive/discover.ts";
import type { ReportWriter } from "../archive/report-writer.ts";
import { reasonOf, UnreadableError } from "../files/read.ts";
import { type AtomicFile, ExistsError, startFile } from "../files/write.ts";
import { formats, type ReportFormat } from "../report/formats.ts";
import { counted } from "../report/layout.ts";
import { judge } from "../shots/judge.ts";
import { loadShot } from "../shots/load.ts";
import { version } from "../version.ts";
import { ConfigFinder, type FoundConfig, namedConfig } from "./config-file.ts";
import { exitCodes, type Io, unexpectedly, WrongUse } from "./io.ts";
import { layoutFor } from "./layout-for.ts";

export interface CheckOptions {
  /** What goes before the configuration. */
  readonly overrides: Overrides;
  readonly config: string | undefined;
  /** Lightest tier that is reported. */
  readonly tier: Tier;
  readonly failOn: Tier | undefined;
  readonly format: ReportFormat;
  readonly figure: string | undefined;
  readonly out: string | undefined;
  readonly force: boolean;
}

/** `keyside check`: reads shots one after the other and reports them. Gives the exit code. */
export async function check(paths: readonly string[], options: CheckOptions, io: Io): Promise<number> {
  const configFor = await configsFor(options, io);
  if (options.out === undefined) {
    const outcome = await run(paths, options, configFor, io, async (text) => io.stdout(text));
    return outcome.code;
  }
  const out = await openOut(options.out, options.force, io);
  let outcome: Outcome;
  try {
    outcome = await run(paths, options, configFor, io, (text) => out.write(text));
  } catch (error) {
    await out.abandon();
    throw error;
  }
  await out.finish();
  io.stdout(`${outcome.summary}; written to ${options.out}.\n`);
  return outcome.code;
}

type ConfigFor = (folder: string) => Promise<FoundConfig>;

async function configsFor({ config }: CheckOptions, io: Io): Promise<ConfigFor> {
  if (config === undefined) {
    const finder = new ConfigFinder(io.files);
    return (folder) => finder.forFolder(folder);
  }
  try {
    const named = await namedConfig(io.files, io.cwd, config);
    return async () => named;
  } catch (error) {
    if (error instanceof UnreadableError) throw new WrongUse(`${error.file}: ${error.message}`);
    throw error;
  }
}

async function openOut(path: string, force: boolean, io: Io): Promise<AtomicFile> {
  try {
    return await startFile(resolve(io.cwd, path), force);
  } catch (error) {
    if (error instanceof ExistsError) throw new WrongUse(`${path} is there already; --force overwrites it.`);
    throw new UnreadableError(path, reasonOf(error));
  }
}

interface Outcome {
  readonly code: number;
  readonly summary: string;
}

async function run(
  paths: readonly string[],
  options: CheckOptions,
  configFor: ConfigFor,
  io: Io,
  write: (text: string) => Promise<void>,
): Promise<Outcome> {
  const found = await discover(paths, {
    ...io,
    ignoreFor: async (folder) => ignored(await configFor(folder)),
  });
  const writer = writerFor(options, io);
  await write(writer.begin({ version, shard: null }));
  let errors = 0;
  const fail = (error: ReportError) => {
    errors++;
    io.stderr(`keyside: ${error.file}: ${error.message}\n`);
    return write(writer.error(error));
  };
  const settingsFor = settingsOnce(options.overrides);
  const figures = new Set<string>();
  let shots = 0;
  let notes = 0;
  let isFailing = false;
  const inputs = [...found.files.map((file) => ({ file, message: null })), ...found.errors];
  for (const { file, message } of inputs.sort(byFile)) {
    try {
      if (message !== null) throw new UnreadableError(file, message);
      const { config } = await configFor(dirname(resolve(io.cwd, file)));
      const judged = judge(await loadShot(file, io), settingsFor(config));
      const report = ofFigure(judged, options.figure);
      for (const figure of judged.figures) figures.add(figure);
      const limit = tiers.indexOf(options.failOn ?? config.failOn ?? "major");
      const failing = report.notes.some(({ tier }) => tiers.indexOf(tier) <= limit);
      isFailing ||= failing;
      shots++;
      notes += report.notes.length;
      await write(writer.shot({ ...report, failing }));
    } catch (error) {
      await fail(
        error instanceof UnreadableError
          ? { file: error.file, message: error.message }
          : { file, message: unexpectedly(error) },
      );
    }
  }
  if (options.figure !== undefined && shots > 0 && !figures.has(options.figure)) {
    const names = [...figures].sort().join(", ");
    throw new WrongUse(
      `No shot has a figure "${options.figure}"; ${names === "" ? "there are none" : `there is ${names}`}.`,
    );
  }
  await write(writer.end({ shots, notes, errors, stopped: null }));
  const unread = errors === 0 ? "" : `, ${counted(errors, "input")} not judged`;
  return {
    code: errors > 0 ? exitCodes.unreadable : isFailing ? exitCodes.notes : exitCodes.clean,
    summary: `${counted(notes, "note")} in ${counted(shots, "shot")}${unread}`,
  };
}

function writerFor({ format, tier, out }: CheckOptions, io: Io): ReportWriter {
  const layout = out === undefined ? layoutFor(io) : { width: 100, colour: false };
  return formats[format]({ layout, lightest: tier });
}

function byFile(a: { readonly file: string }, b: { readonly file: string }): number {
  return a.file < b.file ? -1 : a.file > b.file ? 1 : 0;
}

/** Settings of each configuration, put together once. */
function settingsOnce(overrides: Overrides): (config: Config) => ResolvedSettings {
  const settings = new Map<Config, ResolvedSettings>();
  return (config) => {
    let resolved = settings.get(config);
    if (resolved === undefined) {
      resolved = resolveSettings(registry, config, overrides);
      settings.set(config, resolved);
    }
    return resolved;
  };
}

/** Patterns of a configuration count from the folder in which it stands. */
function ignored({ config, folder }: FoundConfig): string[] {
  const patterns = config.ignore ?? [];
  return folder === null ? [...patterns] : patterns.map((pattern) => `${escapePath(folder)}/${pattern}`);
}

/** Only one figure's notes; what is broken in the document concerns every figure. */
function ofFigure<R extends { readonly notes: readonly { tier: Tier; figure: string | null }[] }>(
  report: R,
  figure: string | undefined,
): R {
  if (figure === undefined) return report;
  return {
    ...report,
    notes: report.notes.filter((note) => note.tier === "broken" || note.figure === figure),
  };
}
