import {
  EditError,
  FeedClient,
  FeedError,
  type FeedNote,
  type OpenShot,
  type ShotContent,
  type SocketLike,
} from "@keyside/adapters";
import type { CheckFailure, KeyEdit, Waiver } from "@keyside/core";
import type { Pending, Timers } from "../feed/environment.ts";

/** A feed that runs. */
export interface RunningFeed {
  connect(): SocketLike;
  readonly token: string;
  stop(): Promise<unknown>;
}

/** What the feed judges, as the desk has it now. */
export interface Judged {
  readonly revision: number;
  readonly waivers: readonly Waiver[];
  content(): ShotContent;
}

export interface FeedListener {
  /**
   * Notes came, changed or went.
   * @param revision the desk's newest revision all of whose edits they judge
   */
  notes(revision: number, notes: readonly FeedNote[], failures: readonly CheckFailure[]): void;
  /** A judgement takes long: the share of it that is done, and what it has found so far on the edited nodes. */
  soFar(share: number, notes: readonly FeedNote[]): void;
  /** Keyside itself failed at the shot, in a sentence. */
  failed(message: string): void;
  state(state: "gone" | "back" | "given-up", message: string): void;
}

/** Milliseconds before each try to start a feed again that has died. */
const pauses = [200, 500, 1000, 2000, 5000] as const;
/** A feed that has lived so many milliseconds did not die of being started. */
const longLife = 60_000;

/** The feed behind a desk: it is given each edit, and is started again when it dies. */
export class FeedLink {
  private readonly start: () => Promise<RunningFeed>;
  private readonly judged: () => Judged;
  private readonly config: object | null;
  private readonly listener: FeedListener;
  private readonly timers: Timers;
  private running: RunningFeed | null = null;
  private client: FeedClient | null = null;
  private shot: OpenShot | null = null;
  private isThere = false;
  private isStopped = false;
  private tries = 0;
  private since = 0;
  private retry: Pending | null = null;
  /** Which of the desk's revisions the feed's have; a revision of the feed that is not named lies between two. */
  private marks: { readonly feed: number; readonly desk: number }[] = [];
  /** The desk's revision all of whose edits the feed's client has. */
  private given = 0;
  /** Requests that are no edits and were not answered yet. */
  private calls = 0;
  private waivers: readonly Waiver[] = [];
  /** Whether something was changed that the feed was not given while it was being opened. */
  private hasMissed = false;
  /** The desk's revision that was last told to be judged. */
  private told = 0;
  private failures: readonly CheckFailure[] = [];

  constructor(
    start: () => Promise<RunningFeed>,
    judged: () => Judged,
    config: object | null,
    listener: FeedListener,
    timers: Timers,
  ) {
    this.start = start;
    this.judged = judged;
    this.config = config;
    this.listener = listener;
    this.timers = timers;
  }

  /** Starts the feed, and tries again where that fails. */
  async begin(): Promise<void> {
    try {
      await this.connect();
    } catch (error) {
      this.lose(error instanceof Error ? error.message : String(error));
    }
  }

  /** Ends the feed. */
  async stop(): Promise<void> {
    this.isStopped = true;
    this.retry?.cancel();
    this.client?.close();
    await this.running?.stop();
  }

  /** Gives edits of keys that were made. */
  edit(edits: readonly KeyEdit[]): void {
    const { shot } = this;
    if (shot === null) {
      this.hasMissed = true;
      return;
    }
    this.mark();
    try {
      // Where the feed has gone nothing is kept: it is opened again with the document as it is then.
      shot.queue(edits);
    } catch (error) {
      if (!(error instanceof EditError)) throw error;
      // What a text can hold and an edit cannot is read from the text.
      this.replace();
      return;
    }
    this.given = this.judged().revision;
    this.mark();
  }

  /** Gives the whole document, where more than keys may have changed. */
  replace(): void {
    const { shot } = this;
    if (shot === null || !this.isThere) {
      this.hasMissed = true;
      return;
    }
    this.mark();
    const { revision, content } = this.judged();
    this.call(() => shot.replace(content()));
    this.given = revision;
  }

  /** Gives the waivers of the file beside the shot. */
  waive(): void {
    const { shot } = this;
    const { revision, waivers } = this.judged();
    if (shot === null || !this.isThere) return;
    this.mark();
    this.waivers = waivers;
    this.call(() => shot.setWaivers(waivers));
    this.given = revision;
  }

  /**
   * Looks for a fix of a note; nothing is changed.
   * @returns what the feed answers to `keyside/fix`; null where the feed is not there
   * @throws FeedError
   */
  async fix(fingerprint: string): Promise<Record<string, unknown> | null> {
    if (this.shot === null || !this.isThere) return null;
    return this.shot.fix(fingerprint);
  }

  private call(request: () => Promise<unknown>): void {
    this.calls++;
    request()
      .catch((error: unknown) => {
        if (error instanceof FeedError) this.listener.failed(error.message);
      })
      .finally(() => {
        this.calls--;
        this.mark();
        // Notes may have come with the very answer, when it was not known yet what they judge.
        if (this.shot !== null && this.deskRevision(this.shot.judgedRevision) > this.told)
          this.tellNotes(this.shot);
      });
  }

  private tellNotes(shot: OpenShot): void {
    this.told = this.deskRevision(shot.judgedRevision);
    this.listener.notes(this.told, shot.notes, this.failures);
  }

  /** Keeps which of the desk's revisions the feed's newest one is, where all that was given to its client is sent. */
  private mark(): void {
    const { shot, marks, given } = this;
    if (shot === null || this.calls > 0 || shot.waiting > 0) return;
    const last = marks.at(-1);
    if (last?.feed === shot.revision) marks.pop();
    marks.push({ feed: shot.revision, desk: given });
  }

  private deskRevision(feed: number): number {
    while (this.marks.length > 1 && this.marks[1].feed <= feed) this.marks.shift();
    const [first] = this.marks;
    // A feed that was opened again has judged nothing yet.
    return first === undefined || feed < first.feed ? this.told : first.desk;
  }

  private async connect(): Promise<void> {
    const running = await this.start();
    if (this.isStopped) {
      await running.stop();
      return;
    }
    this.running = running;
    this.since = this.timers.now();
    if (this.client === null || this.shot === null) {
      this.client?.close();
      this.client = await FeedClient.connect(running.connect(), running.token, {
        onGone: (_, why) => this.lose(why),
      });
      this.waivers = this.judged().waivers;
      this.shot = await this.client.openShot("desk", {
        waivers: this.waivers,
        ...(this.config === null ? {} : { config: this.config }),
        documentNow: () => this.contentNow(),
        // Edits are folded per key, so that no more wait than there are keys.
        queueLimit: Number.MAX_SAFE_INTEGER,
        onChange: (shot, { failures = [] }) => {
          this.mark();
          this.failures = failures;
          this.tellNotes(shot);
        },
        onSoFar: (_, { share, notes }) => this.listener.soFar(share, notes),
        onRefused: () => this.replace(),
        onFailure: (_, message) => this.listener.failed(message),
      });
    } else await this.client.restart(running.connect(), running.token);
    this.isThere = true;
    if (this.hasMissed) this.replace();
    if (this.judged().waivers !== this.waivers) this.waive();
  }

  /** The document as it is opened, and with it what the feed's revision then is. */
  private contentNow(): ShotContent {
    const { revision, content } = this.judged();
    this.given = revision;
    this.hasMissed = false;
    this.marks = [{ feed: this.shot?.revision ?? 0, desk: revision }];
    return content();
  }

  private lose(why: string): void {
    if (this.isStopped || this.retry !== null) return;
    this.isThere = false;
    void this.running?.stop();
    this.running = null;
    if (this.timers.now() - this.since > longLife) this.tries = 0;
    const pause = pauses[this.tries++];
    if (pause === undefined) {
      const ending = "Keys can be edited and saved; start the desk again to have notes.";
      this.listener.state("given-up", `The feed could not be started again. ${why} ${ending}`);
      return;
    }
    this.listener.state("gone", `The feed has gone, and is started again. ${why}`);
    this.retry = this.timers.after(pause, () => void this.again());
  }

  private async again(): Promise<void> {
    this.retry = null;
    try {
      await this.connect();
      if (!this.isStopped) this.listener.state("back", "The feed is back.");
    } catch (error) {
      this.lose(error instanceof Error ? error.message : String(error));
    }
  }
}
