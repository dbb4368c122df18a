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
import { reasonOf, UnreadableError } from "../files/read.ts";
import { type AtomicFile, ExistsError, startFile } from "../files/write.ts";
import { jsonWriter } from "../report/json.ts";
import { counted } from "../report/layout.ts";
import { textWriter } from "../report/text.ts";
import type { ReportWriter } from "../report/writer.ts";
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
  readonly format: "text" | "json";
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
  const errors: ReportError[] = [];
  const fail = (error: ReportError) => {
    errors.push(error);
    io.stderr(`keyside: ${error.file}: ${error.message}\n`);
  };
  const found = await discover(paths, {
    ...io,
    ignoreFor: async (folder) => ignored(await configFor(folder)),
  });
  found.errors.forEach(fail);
  const writer = writerFor(options, io);
  await write(writer.start());
  const settingsFor = settingsOnce(options.overrides);
  const figures = new Set<string>();
  let shots = 0;
  let notes = 0;
  let isFailing = false;
  for (const file of found.files) {
    try {
      const { config } = await configFor(dirname(resolve(io.cwd, file)));
      const judged = judge(await loadShot(file, io), settingsFor(config));
      const report = ofFigure(judged.report, options.figure);
      for (const figure of judged.figures) figures.add(figure);
      const text = writer.shot(report, judged.groupOf);
      const limit = tiers.indexOf(options.failOn ?? config.failOn ?? "major");
      isFailing ||= report.notes.some(({ tier }) => tiers.indexOf(tier) <= limit);
      shots++;
      notes += report.notes.length;
      await write(text);
    } catch (error) {
      fail(
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
  await write(writer.end(errors));
  const unread = errors.length === 0 ? "" : `, ${counted(errors.length, "input")} not read`;
  return {
    code: errors.length > 0 ? exitCodes.unreadable : isFailing ? exitCodes.notes : exitCodes.clean,
    summary: `${counted(notes, "note")} in ${counted(shots, "shot")}${unread}`,
  };
}

function writerFor({ format, tier, out }: CheckOptions, io: Io): ReportWriter {
  if (format === "json") return jsonWriter(version, tier);
  return textWriter(out === undefined ? layoutFor(io) : { width: 100, colour: false }, tier);
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
