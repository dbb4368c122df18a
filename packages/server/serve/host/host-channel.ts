import { readTextWith } from "@keyside/adapters";
import {
  type Config,
  ConfigError,
  type Note,
  type ReadResult,
  type ResolvedSettings,
  type ReviewRead,
  readConfig,
  readReview,
  type Shot,
  shotOf,
} from "@keyside/core";
import { suggestion } from "@keyside/core/internal";
import {
  type CancellationToken,
  type Connection,
  type Disposable,
  ErrorCodes,
  ResponseError,
} from "vscode-languageserver";
import { configName } from "../../base/config-name.ts";
import { UnreadableError } from "../../base/errors.ts";
import { checkOfRun } from "../../base/plugins/plugins.ts";
import { version } from "../../base/version.ts";
import { documentExtension, readerFor, shotExtensions } from "../../judge/shots/readers.ts";
import { metadataOf } from "../../present/text/check-metadata.ts";
import { type Arrivals, arrivalsOf } from "../feed/arrivals.ts";
import type { FeedEnvironment } from "../feed/environment.ts";
import type { FeedExtension } from "../feed/extension.ts";
import { inTurns } from "../feed/in-turns.ts";
import { Scheduler } from "../feed/scheduler.ts";
import { misshapen, refused } from "./errors.ts";
import { reviewAfter, reviewToSend } from "./host-review.ts";
import { HostShot } from "./host-shot.ts";
import { type Answer, type Method, messages, type Params } from "./messages.ts";
import { methods, protocolVersions } from "./protocol.ts";
import { evidenceToSend, fixToSend, noteToSend, problemsToSend } from "./sent.ts";
import { hostArrival, shotChanges } from "./shot-changes.ts";

/** The host channel as a part of the feed: shots that a tool holds itself, edited by key. */
export function hostChannel(environment: FeedEnvironment): FeedExtension {
  return {
    capabilities: { keyside: { protocols: [...protocolVersions] } },
    register: (connection) => new HostChannel(connection, environment),
  };
}

/** The host channel of one connection, and its shots. */
class HostChannel implements Disposable {
  private readonly connection: Connection;
  private readonly environment: FeedEnvironment;
  private readonly arrivals: Arrivals;
  private readonly scheduler: Scheduler;
  private readonly shots = new Map<string, HostShot>();
  private isGreeted = false;
  private isDisposed = false;
  /** Requests are served one after the other in the order in which they came, also where one has to wait for a file. */
  private served: Promise<unknown> = Promise.resolve();

  constructor(connection: Connection, environment: FeedEnvironment) {
    this.connection = connection;
    this.environment = environment;
    this.arrivals = arrivalsOf(connection);
    this.arrivals.countRequests(shotChanges, hostArrival);
    this.scheduler = new Scheduler(environment.timers);
    this.serve(methods.hello, (params) => this.greet(params));
    this.serve(methods.openShot, (params) => this.open(params));
    this.serve(methods.replaceShot, (params) => this.replace(params));
    this.serve(methods.editKeys, (params) => this.edit(params));
    this.serve(methods.configureShot, (params) => this.configure(params));
    this.serve(methods.setWaivers, (params) => this.waive(params));
    this.serve(methods.setReview, (params) => this.setReview(params));
    this.serve(methods.changeReview, (params) => this.changeReview(params));
    this.serve(methods.explain, (params) => this.explain(params));
    this.serve(methods.fix, (params, token) => this.fix(params, token), "goes on beside");
    this.serve(methods.closeShot, (params) => this.close(params));
  }

  dispose(): void {
    this.isDisposed = true;
    this.scheduler.dispose();
    this.shots.clear();
  }

  private serve<M extends Method>(
    method: M,
    handle: (params: Params<M>, token: CancellationToken) => Answer<M> | Promise<Answer<M>>,
    /** A request that takes long keeps the ones behind it waiting only until it has begun. */
    waiting: "waits for its end" | "goes on beside" = "waits for its end",
  ): void {
    this.connection.onRequest(method, (raw: unknown, token: CancellationToken) => {
      const begun = this.served.then(() => {
        if (shotChanges.includes(method)) this.arrivals.taken(hostArrival(raw));
        // Only what does not change anything may be left out.
        if (token.isCancellationRequested && (method === methods.explain || method === methods.fix)) {
          throw cancelled();
        }
        if (!this.isGreeted && method !== methods.hello) {
          throw refused(
            "hello-first",
            `Send ${methods.hello} first; it agrees on the version that is spoken.`,
          );
        }
        const parsed = messages[method].params.safeParse(raw ?? {});
        if (!parsed.success) throw misshapen(method, parsed.error);
        return { answer: Promise.resolve(handle(parsed.data as Params<M>, token)) };
      });
      const answer: Promise<unknown> = begun.then((run) => run.answer);
      // Whoever asked is told of an error; the ones behind it go on.
      answer.catch(() => {});
      this.served = (waiting === "goes on beside" ? begun : answer).then(
        () => {},
        () => {},
      );
      return answer;
    });
  }

  private async greet({ protocols }: Params<typeof methods.hello>): Promise<Answer<typeof methods.hello>> {
    const protocol = protocolVersions.find((known) => protocols.includes(known));
    if (protocol === undefined) {
      throw refused(
        "unsupported-protocol",
        `This feed speaks version ${protocolVersions.join(", ")} of the host channel, the client ${protocols.join(", ")}. Update the older of the two.`,
        { protocols: protocolVersions },
      );
    }
    const { registry } = await this.environment.settings.plugins();
    this.isGreeted = true;
    return { protocol, server: { name: "keyside", version }, checks: registry.map(({ name }) => name) };
  }

  private async open(params: Params<typeof methods.openShot>): Promise<Answer<typeof methods.openShot>> {
    const { shot: name, revision, config, folder, waivers, notesSoFar } = params;
    const review = params.review === undefined ? undefined : reviewFrom(params.review).review;
    const known = this.shots.get(name);
    if (known !== undefined) {
      throw refused(
        "shot-is-open",
        `"${name}" is open already, at revision ${known.revision}. Replace it with ${methods.replaceShot}, or close it first.`,
        { revision: known.revision },
      );
    }
    const settings = await this.settingsOf(config, folder ?? null);
    const { shot, problems } = this.read(params);
    const about = { name, folder: folder ?? null, revision, shot, settings, waivers, review };
    const { timers } = this.environment;
    const opened = new HostShot(
      { ...about, tellsSoFar: notesSoFar },
      {
        isWaiting: () => this.arrivals.isWaiting(hostArrival({ shot: name })),
        now: () => timers.now(),
        changed: (message) => this.send(methods.notesChanged, message),
        soFar: (message) => this.send(methods.notesSoFar, message),
        reviewed: (message) => this.send(methods.reviewChanged, message),
        failed: (failedRevision, error) => this.tellFailure(name, failedRevision, error),
      },
    );
    this.shots.set(name, opened);
    this.scheduler.request(opened);
    return { shot: name, revision, ...aboutShot(shot), problems };
  }

  private replace(params: Params<typeof methods.replaceShot>): Answer<typeof methods.replaceShot> {
    const open = this.shotFor(params);
    const { shot, problems } = this.read(params);
    open.replace(shot);
    this.scheduler.request(open);
    return { shot: open.name, revision: open.revision, ...aboutShot(shot), problems };
  }

  private edit(params: Params<typeof methods.editKeys>): Answer<typeof methods.editKeys> {
    const shot = this.shotFor(params);
    const problems = shot.edit(params.edits);
    if (problems.length > 0) {
      const more = problems.length > 1 ? ` (and ${problems.length - 1} more)` : "";
      throw refused(
        "bad-edit",
        `None of the edits was made, as ${problems[0].path} cannot be: ${problems[0].message}${more}`,
        { problems: problemsToSend(problems, null), revision: shot.revision },
      );
    }
    this.scheduler.request(shot);
    return { shot: shot.name, revision: shot.revision };
  }

  private async configure(
    params: Params<typeof methods.configureShot>,
  ): Promise<Answer<typeof methods.configureShot>> {
    const shot = this.shotFor(params);
    shot.configure(await this.settingsOf(params.config, shot.folder));
    this.scheduler.request(shot);
    return { shot: shot.name, revision: shot.revision };
  }

  private waive(params: Params<typeof methods.setWaivers>): Answer<typeof methods.setWaivers> {
    const shot = this.shotFor(params);
    shot.waive(params.waivers);
    this.scheduler.request(shot);
    return { shot: shot.name, revision: shot.revision };
  }

  private setReview(params: Params<typeof methods.setReview>): Answer<typeof methods.setReview> {
    const shot = this.shotFor(params);
    const { review, problems } = reviewFrom(params.review);
    shot.say(review);
    this.scheduler.request(shot);
    return { shot: shot.name, revision: shot.revision, problems: problems.map(({ message }) => message) };
  }

  private changeReview(params: Params<typeof methods.changeReview>): Answer<typeof methods.changeReview> {
    const shot = this.shotFor(params);
    const { by, changes, date = new Date().toISOString() } = params;
    const { review, ids } = reviewAfter(shot.review, { by, changes, date }, shot.shot, (fingerprint) =>
      this.noteIn(shot, fingerprint),
    );
    shot.say(review);
    this.scheduler.request(shot);
    return { shot: shot.name, revision: shot.revision, review: reviewToSend(review), ids: [...ids] };
  }

  private async explain(params: Params<typeof methods.explain>): Promise<Answer<typeof methods.explain>> {
    if ("check" in params) return { check: await this.checkCalled(params.check) };
    const shot = this.shotFor(params);
    const note = this.noteIn(shot, params.fingerprint);
    return {
      check: await this.checkCalled(note.check),
      revision: shot.revision,
      note: { ...noteToSend(note), evidence: evidenceToSend(note) },
    };
  }

  private async fix(
    params: Params<typeof methods.fix>,
    token: CancellationToken,
  ): Promise<Answer<typeof methods.fix>> {
    const shot = this.shotFor(params);
    const { name, revision } = shot;
    const note = this.noteIn(shot, params.fingerprint);
    const { proven, why } = await inTurns(shot.fixInSteps(note), this.environment.timers, () => {
      if (token.isCancellationRequested) throw cancelled();
      if (this.isDisposed || !shot.isNewest(revision)) throw changedMeanwhile(shot);
    });
    return { shot: name, revision, fix: proven === null ? null : fixToSend(proven), why };
  }

  /** A note of a shot that the client knows, by its fingerprint. */
  private noteIn(shot: HostShot, fingerprint: string): Note {
    const { notes } = shot;
    if (notes === null) throw changedMeanwhile(shot);
    const note = notes.find((other) => other.fingerprint === fingerprint);
    if (note !== undefined) return note;
    throw refused("unknown-note", `"${shot.name}" has no note ${fingerprint} at revision ${shot.revision}.`, {
      revision: shot.revision,
    });
  }

  private close(params: Params<typeof methods.closeShot>): null {
    const shot = this.shotFor(params);
    this.scheduler.drop(shot);
    this.shots.delete(shot.name);
    return null;
  }

  /** The open shot of a request; where the request changes it, its revision has to be the next one. */
  private shotFor({ shot: name, revision }: { readonly shot: string; readonly revision?: number }): HostShot {
    const shot = this.shots.get(name);
    if (shot === undefined) {
      const open = [...this.shots.keys()];
      const hint = suggestion(name, open) || ` Open it with ${methods.openShot} first.`;
      throw refused("unknown-shot", `No shot "${name}" is open.${hint}`, { open });
    }
    if (revision !== undefined && revision !== shot.revision + 1) {
      throw refused(
        "stale-revision",
        `"${name}" is at revision ${shot.revision}, so the next one is ${shot.revision + 1}, not ${revision}. Nothing was changed.`,
        { revision: shot.revision },
      );
    }
    return shot;
  }

  private async checkCalled(name: string): Promise<Answer<typeof methods.explain>["check"]> {
    const plugins = await this.environment.settings.plugins();
    const check = checkOfRun(plugins, name);
    if (check === undefined) {
      const names = plugins.registry.map((other) => other.name);
      throw refused("unknown-check", `There is no check "${name}".${suggestion(name, names)}`, {
        checks: names,
      });
    }
    const { title } = check;
    return { ...metadataOf(check), name, title };
  }

  private read(params: ShotContent): { shot: Shot; problems: ReturnType<typeof problemsToSend> } {
    const { result, text } = readContent(params);
    const problems = problemsToSend(result.problems, text);
    if (result.shot !== null) return { shot: result.shot, problems };
    const why = result.problems[0]?.message ?? "Nothing in it can be judged.";
    throw refused("bad-document", `The shot cannot be judged: ${why}`, { problems });
  }

  private async settingsOf(
    chosen: Readonly<Record<string, unknown>> | undefined,
    folder: string | null,
  ): Promise<ResolvedSettings> {
    try {
      const { registry } = await this.environment.settings.plugins();
      const config: Config | undefined = chosen && (await readConfig(registry, chosen));
      if (config?.plugins !== undefined) {
        throw refused("bad-settings", `plugins: modules are named in ${configName}, not over a connection.`);
      }
      return (await this.environment.settings.forFolder(folder, config)).settings;
    } catch (error) {
      if (error instanceof ConfigError) throw refused("bad-settings", error.message);
      if (error instanceof UnreadableError) throw refused("bad-settings", `${error.file}: ${error.message}`);
      throw error;
    }
  }

  private tellFailure(shot: string, revision: number, error: unknown): void {
    const message = error instanceof Error ? error.message : String(error);
    this.send(methods.judgingFailed, {
      shot,
      revision,
      message: `Keyside itself failed at "${shot}" (${message}). Please report this to its maintainers, with the shot.`,
    });
  }

  private send(method: string, params: object): void {
    if (this.isDisposed) return;
    // A client that is gone is told nothing.
    this.connection.sendNotification(method, params).catch(() => {});
  }
}

/** A review as a client sends it; what of it cannot be used is told, and kept. */
function reviewFrom(sent: object): ReviewRead {
  return readReview(JSON.stringify(sent));
}

interface ShotContent {
  readonly document?: object | undefined;
  readonly text?: string | undefined;
  readonly fileName?: string | undefined;
}

function readContent({ document, text, fileName }: ShotContent): { result: ReadResult; text: string | null } {
  if ((document === undefined) === (text === undefined)) {
    throw badContent(`A shot is sent as "document" or as "text", and as one of them only.`);
  }
  // Whatever stands in the document is looked at by the reader, which says what is wrong with it.
  if (document !== undefined) return { result: shotOf(document as Parameters<typeof shotOf>[0]), text: null };
  const reader = readerFor(fileName ?? documentExtension);
  if (reader === null) {
    throw badContent(`Files such as "${fileName}" are not read; shots are ${shotExtensions().join(", ")}.`);
  }
  return { result: readTextWith(reader, text as string), text: text as string };
}

function badContent(message: string): ResponseError<unknown> {
  return new ResponseError(ErrorCodes.InvalidParams, message, { reason: "bad-params" });
}

function changedMeanwhile({ name, revision }: HostShot): Error {
  return refused(
    "shot-has-changed",
    `"${name}" is being judged; ask again after the next ${methods.notesChanged}.`,
    { revision },
  );
}

function cancelled(): ResponseError<unknown> {
  return new ResponseError(-32800, "The request was cancelled.");
}

function aboutShot({ frameRate, range }: Shot): { frameRate: string; range: [number, number] } {
  const { numerator, denominator } = frameRate;
  return {
    frameRate: denominator === 1 ? String(numerator) : `${numerator}/${denominator}`,
    range: [range[0], range[1]],
  };
}
