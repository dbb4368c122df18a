import { readFile } from "node:fs/promises";
import { userInfo } from "node:os";
import { dirname, join, resolve } from "node:path";
import { startFeed } from "@keyside/adapters";
import { type Overrides, type ReviewFile, readReview, resolveSettings } from "@keyside/core";
import { WebSocket } from "ws";
import { configName } from "../base/config-name.ts";
import { exitCodes, UnreadableError } from "../base/errors.ts";
import { bounds } from "../base/files/bounds.ts";
import { readText } from "../base/files/read.ts";
import { type Io, pluginsOf } from "../base/io.ts";
import { reviewFileOf } from "../judge/shots/reviews.ts";
import { Answers } from "../serve/desk/answers.ts";
import { Desk } from "../serve/desk/desk.ts";
import { NotTaken } from "../serve/desk/desk-text.ts";
import type { RunningFeed } from "../serve/desk/feed-link.ts";
import { Footage } from "../serve/desk/footage.ts";
import { type LaidOut, layOut } from "../serve/desk/laid-out.ts";
import { pageFiles } from "../serve/desk/page-files.ts";
import { serveDesk } from "../serve/desk/serve-desk.ts";
import { nodeTimers } from "../serve/feed/environment.ts";
import { newToken } from "../serve/transport/token.ts";
import { configsFor } from "./configs-for.ts";
import { opening } from "./feed-sockets.ts";
import { footageFilesOf } from "./footage.ts";
import { limitsFor, type RawLimits, usualTime } from "./limits.ts";
import { openPage } from "./open-page.ts";

export interface DeskCommandOptions {
  readonly overrides: Overrides;
  readonly config: string | undefined;
  readonly animation: string | undefined;
  /** The shot's rendered frames, and its sound. */
  readonly images?: string | undefined;
  readonly sound?: string | undefined;
  /** Who reviews; the system's user if left out. */
  readonly reviewer?: string | undefined;
  /** The version before, whose review is shown. */
  readonly previous?: string | undefined;
  /** 0 lets the system choose. */
  readonly port: number;
  /** Whether a browser is opened. */
  readonly opens: boolean;
  readonly limits: RawLimits;
}

/** `keyside desk`: serves a shot's page until the user or the system asks to stop. Gives the exit code. */
export async function desk(file: string, options: DeskCommandOptions, io: Io): Promise<number> {
  const files = pageFiles();
  const { laid, config } = await laidOut(file, options, io);
  const footage = await footageFilesOf(options, laid.version.shot.range[0], io);
  const token = newToken();
  let interrupt: () => void = () => {};
  const interrupted = new Promise<void>((done) => {
    interrupt = done;
  });
  const undo = io.onInterrupt(() => interrupt());
  const shown = new Desk(laid, {
    files: io.files,
    timers: nodeTimers,
    startFeed: feedOfCommand,
    config,
    footage: footage === null ? null : new Footage(footage, newToken()),
    reviewer: options.reviewer ?? userName(),
  });
  const answers = new Answers(shown);
  try {
    const server = await opening("127.0.0.1", options.port, () =>
      serveDesk(shown, answers, files, options.port, token),
    );
    try {
      await shown.begin();
      const address = `http://127.0.0.1:${server.port}/#${token}`;
      io.stdout(`desk: ${address}\nCtrl-C ends it.\n`);
      if (options.opens) void browse(address, io);
      await interrupted;
    } finally {
      await end(file, shown, answers, io);
      await server.close();
    }
  } finally {
    undo();
  }
  return exitCodes.clean;
}

/** What people said of another version. @throws UnreadableError where there is no review beside it */
async function reviewOf(file: string, io: Io): Promise<ReviewFile> {
  const shown = reviewFileOf(file);
  const text = await readText(io.files, resolve(io.cwd, shown), shown, bounds.settings);
  return readReview(text).review;
}

/** The system's user, by whom remarks are where nobody says another name. */
function userName(): string {
  try {
    return userInfo().username || "reviewer";
  } catch {
    // A process may run as a user that the system has no name for.
    return "reviewer";
  }
}

async function browse(address: string, io: Io): Promise<void> {
  if (await openPage(address)) return;
  io.stderr(
    "keyside: No browser could be opened; open the address yourself, or leave that out with --no-open.\n",
  );
}

/** Ends the desk, and says where what was not saved is. */
async function end(file: string, shown: Desk, answers: Answers, io: Io): Promise<void> {
  await answers.settled();
  const kept = await shown.stop();
  if (kept === null) return;
  io.stderr(
    `keyside: ${file}: Its last edits were not saved. They lie in ${kept}, and the desk offers them when it is opened again.\n`,
  );
}

async function laidOut(
  file: string,
  { config: named, overrides, animation, limits, previous }: DeskCommandOptions,
  io: Io,
): Promise<{ laid: LaidOut; config: object | null }> {
  const configFor = await configsFor(named, io);
  const { config, folder } = await configFor(dirname(resolve(io.cwd, file)));
  const settings = resolveSettings(pluginsOf(io).registry, config, overrides);
  const { guard, budget } = limitsFor(file, limits, usualTime.judging);
  const path = named === undefined ? folder && join(folder, configName) : resolve(io.cwd, named);
  try {
    const laid = await layOut(file, {
      ...{ files: io.files, cwd: io.cwd, settings, animation, budget, guard },
      previous: previous === undefined ? null : await reviewOf(previous, io),
    });
    return { laid, config: await writtenConfig(path, overrides) };
  } catch (error) {
    if (error instanceof NotTaken) throw new UnreadableError(file, error.message);
    throw error;
  }
}

/**
 * What the desk's feed judges by: the configuration file as it is written, with the run's own choices over it. It has
 * been read before, so that it is known to be right.
 */
async function writtenConfig(path: string | null, { rate, style, stage }: Overrides): Promise<object | null> {
  const written = path === null ? {} : (JSON.parse(await readFile(path, "utf8")) as Record<string, unknown>);
  // The feed finds plug-ins by itself; over a connection none are taken.
  const { plugins: _, ...config } = written;
  const chosen = { ...config, ...without({ rate, style, stage }) };
  return Object.keys(chosen).length === 0 ? null : chosen;
}

function without(choices: Record<string, unknown>): Record<string, unknown> {
  return Object.fromEntries(Object.entries(choices).filter(([, value]) => value !== undefined));
}

/** A feed of this very program, in a process of its own, so that a key can be dragged while it judges. */
async function feedOfCommand(): Promise<RunningFeed> {
  const [, script = ""] = process.argv;
  const feed = await startFeed([process.execPath, ...process.execArgv, script]);
  return {
    token: feed.token,
    connect: () => new WebSocket(feed.url, { perMessageDeflate: false }),
    stop: () => feed.stop(),
  };
}
