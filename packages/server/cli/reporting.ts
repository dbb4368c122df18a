import type { ReportError, ReportedShot, Tier } from "@keyside/core";
import { counted } from "../base/counted.ts";
import { exitCodes, WrongUse } from "../base/errors.ts";
import { type Io, pluginsOf } from "../base/io.ts";
import { checkOfRun } from "../base/plugins/plugins.ts";
import { version } from "../base/version.ts";
import type { ReportHead, ReportSummary, ReportWriter } from "../judge/archive/report-writer.ts";
import { writerFor } from "../present/report/formats.ts";
import type { PictureOf } from "../present/report/writer-options.ts";
import { failedText, stoppedText } from "../present/text/endings.ts";
import { failureText } from "../present/text/failure.ts";
import type { Audience } from "../present/text/review.ts";
import { layoutFor } from "./layout-for.ts";
import { RunHistory } from "./run-history.ts";
import { sheetsIn } from "./sheets-in.ts";
import { startOut } from "./write-out.ts";

/** Where a report goes and how it looks. */
export interface ReportOptions {
  /** Lightest tier that is reported. */
  readonly tier: Tier;
  /** A name that {@link writerFor} knows. */
  readonly format: string;
  readonly out: string | undefined;
  readonly force: boolean;
  /** Whether the text report says all of each note. */
  readonly long?: boolean | undefined;
  /** For whom it is written; for everybody if left out. */
  readonly audience?: Audience | undefined;
  /** A file that keeps what came of each run. */
  readonly history?: string | undefined;
  /** Folder of review sheets to which the archive page leads. */
  readonly sheets?: string | undefined;
  /** In SARIF: what tells the run apart from others over the same shots, and where the docs can be read. */
  readonly category?: string | undefined;
  readonly docsAt?: string | undefined;
  /** Draws the shots of the archive page. */
  readonly pictureOf?: PictureOf | undefined;
  /** Writes something else than one of the formats. */
  readonly writer?: () => ReportWriter;
}

/** Takes what a report is made of, in the order of the files' names. */
export interface ReportSink {
  shot(shot: ReportedShot): Promise<void>;
  /** @param isWrongUse whether a configuration or an ignore file is at fault, rather than an input */
  error(error: ReportError, isWrongUse?: boolean): Promise<void>;
  /** Has a function called before anything is written to the terminal, to take away what stands in the way. */
  makeWay(clear: () => void): void;
}

type Stopped = ReportSummary["stopped"];

/**
 * Writes a report to stdout, or to a file that appears once it is whole.
 * @param fill hands everything over; gives how far it came if it was stopped
 * @returns the exit code
 */
export async function report(
  options: ReportOptions,
  shard: ReportHead["shard"],
  io: Io,
  fill: (sink: ReportSink) => Promise<Stopped>,
): Promise<number> {
  if (options.long === true && options.format !== "text") {
    throw new WrongUse("--long is for the text report; every other format holds all of each note.");
  }
  if (options.sheets !== undefined && options.format !== "html") {
    throw new WrongUse("--sheets is for the page of --format html; no other format leads to sheets.");
  }
  for (const [name, value] of [
    ["--category", options.category],
    ["--docs-at", options.docsAt],
  ] as const) {
    if (value !== undefined && options.format !== "sarif")
      throw new WrongUse(`${name} is for --format sarif.`);
  }
  const history = options.history === undefined ? null : await RunHistory.open(options.history, io);
  if (options.out === undefined) {
    const put = async (text: string) => {
      io.stdout(text);
      await io.stdoutTaken();
    };
    const { code } = await write(options, history, shard, io, put, fill);
    await history?.keep();
    return code;
  }
  const out = await startOut(options.out, options, io);
  let ending: Ending;
  try {
    ending = await write(options, history, shard, io, (text) => out.write(text), fill);
  } catch (error) {
    await out.abandon();
    throw error;
  }
  await out.finish();
  await history?.keep();
  io.stdout(`${ending.summary}; written to ${options.out}.\n`);
  return ending.code;
}

interface Ending {
  readonly code: number;
  readonly summary: string;
}

async function write(
  { format, tier, long, out, sheets, category, docsAt, pictureOf, audience, writer: other }: ReportOptions,
  history: RunHistory | null,
  shard: ReportHead["shard"],
  io: Io,
  put: (text: string) => Promise<void>,
  fill: (sink: ReportSink) => Promise<Stopped>,
): Promise<Ending> {
  const layout = out === undefined ? layoutFor(io) : { width: 100, colour: false };
  const sheetFor = sheets === undefined ? undefined : sheetsIn(sheets, out, io.cwd);
  const writer =
    other?.() ??
    writerFor(format, pluginsOf(io), {
      ...{ layout, lightest: tier, long, history: history ?? undefined, sheetFor, category, docsAt },
      ...{ pictureOf, audience },
      checkNamed: (name) => checkOfRun(pluginsOf(io), name),
    });
  let shots = 0;
  let notes = 0;
  let errors = 0;
  let wrongUses = 0;
  let failures = 0;
  const failedChecks = new Set<string>();
  let isFailing = false;
  let clear = () => {};
  await put(writer.begin({ version, shard }));
  const stopped = await fill({
    async shot(shot) {
      shots++;
      notes += shot.notes.length;
      isFailing ||= shot.failing;
      history?.tally.shot(shot);
      if (out === undefined) clear();
      for (const failure of shot.failures ?? []) {
        failures++;
        // The report tells of each shot; a person is told once of each check.
        if (failedChecks.has(failure.check)) continue;
        failedChecks.add(failure.check);
        clear();
        io.stderr(`keyside: ${shot.file}: ${failureText(failure)}\n`);
      }
      await put(writer.shot(shot));
    },
    async error(error, isWrongUse = false) {
      errors++;
      if (isWrongUse) wrongUses++;
      clear();
      io.stderr(`keyside: ${error.file}: ${error.message}\n`);
      await put(writer.error(error));
    },
    makeWay(other) {
      clear = other;
    },
  });
  clear();
  if (stopped === null) await writer.beforeEnd?.();
  await put(writer.end({ shots, notes, errors, failures, stopped }));
  if (history !== null) history.isStopped = stopped !== null;
  if (stopped !== null) io.stderr(`keyside: ${stoppedText(stopped)}\n`);
  const unread = errors === 0 ? "" : `, ${counted(errors, "input")} not judged`;
  const failed = failures === 0 ? "" : `, ${failedText(failedChecks.size)}`;
  return {
    code:
      stopped !== null
        ? exitCodes.stopped
        : errors > wrongUses || failures > 0
          ? exitCodes.unreadable
          : wrongUses > 0
            ? exitCodes.wrongUse
            : isFailing
              ? exitCodes.notes
              : exitCodes.clean,
    summary: `${counted(notes, "note")} in ${counted(shots, "shot")}${unread}${failed}`,
  };
}
