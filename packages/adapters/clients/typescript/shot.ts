import type { CheckFailure, KeyEdit, Waiver } from "@keyside/core";
import { checkedEdits } from "./edits.ts";
import { FeedError, FeedGone, QueueFull } from "./errors.ts";
import { KeyQueue } from "./key-queue.ts";
import type { ShotConnection, ShotContent, ShotOptions } from "./shot-options.ts";
import {
  type FeedNote,
  type FeedRemark,
  inOrder,
  type NotesChanged,
  type NotesSoFar,
  type ReviewChange,
} from "./told.ts";

interface Call {
  readonly method: string;
  readonly params: object;
  resolve(answer: unknown): void;
  reject(error: Error): void;
}

type State = "open" | "opening" | "gone" | "closed";
const defaultLimit = 20_000;

/** A shot that is open on a connection: it counts revisions, and keeps the notes that the feed tells. */
export class OpenShot {
  readonly name: string;
  /** The newest revision that was sent. */
  revision = 0;
  /** The revision that {@link notes} judge; -1 until the first is judged. */
  judgedRevision = -1;
  /** Waivers that the tool keeps, as they were last given to the feed. */
  waivers: readonly Waiver[];
  /** What people say, as the JSON of a review file, as it was last given to the feed or made there; null for nothing. */
  review: object | null;
  /** What people say, beside the keys of which they speak, as the feed told it last. */
  remarks: readonly FeedRemark[] = [];
  private readonly client: ShotConnection;
  private readonly options: ShotOptions;
  private readonly queued: KeyQueue<Call>;
  private config: object | undefined;
  private nodes: ReadonlySet<string> | null = null;
  private state: State = "opening";
  private isBusy = false;
  private lacksDocument = false;
  /** Whether the next message brings all notes, as of a shot that was opened again. */
  private isAfresh = false;
  private byFingerprint = new Map<string, FeedNote>();
  /** The notes as `onChange` was last told; null while it need not be told. */
  private before: ReadonlyMap<string, FeedNote> | null = null;
  private failures: readonly CheckFailure[] | undefined;
  /** What was found so far, for `onSoFar` to be told; null while it need not be told. */
  private soFar: NotesSoFar | null = null;

  constructor(client: ShotConnection, name: string, options: ShotOptions) {
    this.client = client;
    this.name = name;
    this.options = options;
    this.config = options.config;
    this.waivers = options.waivers ?? [];
    this.review = options.review ?? null;
    this.queued = new KeyQueue(options.queueLimit ?? defaultLimit);
  }

  /** The notes of the judged revision, the one that matters most first (see {@link inOrder}). */
  get notes(): FeedNote[] {
    return [...this.byFingerprint.values()].sort(inOrder);
  }

  /** How many keys wait to be sent. */
  get waiting(): number {
    return this.queued.size;
  }

  /** Whether every edit was sent and the newest revision is judged. */
  get isSettled(): boolean {
    const isSent = this.queued.isEmpty && !this.isBusy && !this.lacksDocument;
    return this.state === "open" && isSent && this.judgedRevision === this.revision;
  }

  /**
   * Sends edits when the feed has taken those before, and does not wait. Edits that wait are folded per key. Of edits
   * that the feed refuses `onRefused` tells; the others of the queue are made.
   * @throws EditError for what is no edit; QueueFull where too many keys wait and the shot has no `documentNow`;
   *   FeedGone where the feed has gone and the shot has no `documentNow`
   */
  queue(edits: readonly KeyEdit[]): void {
    const checked = checkedEdits(edits, this.nodes);
    if (this.state === "closed") throw new FeedGone(`"${this.name}" is closed.`);
    const { documentNow } = this.options;
    if (this.state === "gone" && documentNow === undefined) throw gone();
    // The tool's own document, which is asked for later, holds these edits.
    if (this.state === "gone" || this.lacksDocument) return;
    if (this.queued.add(checked)) {
      this.flush();
      return;
    }
    if (documentNow === undefined) {
      throw new QueueFull(
        `${this.waiting} keys wait for the feed, and no more are taken. Queue these again later, or replace the shot.`,
      );
    }
    this.queued.dropEdits();
    this.lacksDocument = true;
    this.client.later(() => this.sendDocument());
  }

  /** Makes edits, all or none, after those that are queued. @throws EditError, or FeedError with reason "bad-edit" */
  async edit(edits: readonly KeyEdit[]): Promise<void> {
    await this.call("keyside/editKeys", { edits: checkedEdits(edits, this.nodes) });
  }

  /** Puts another version of the shot in place: nodes and curves that come and go. Edits that wait are dropped. */
  async replace(content: ShotContent): Promise<void> {
    this.queued.dropEdits();
    this.nodes = nodesOf(content);
    await this.call("keyside/replaceShot", content);
  }

  /** Judges by other settings, written as in a configuration file. */
  async configure(config: object): Promise<void> {
    await this.call("keyside/configureShot", { config });
    this.config = config;
  }

  /** Gives the shot the waivers that the tool keeps, in place of those before. */
  async setWaivers(waivers: readonly Waiver[]): Promise<void> {
    await this.call("keyside/setWaivers", { waivers });
    this.waivers = waivers;
  }

  /**
   * Waives a note: it goes, and does not come back while its waiver is kept.
   * @param fingerprint of one of {@link notes}
   * @param reason why it is meant
   * @returns the waiver, for the tool to keep; {@link setWaivers} without it takes it back
   */
  async waive(fingerprint: string, reason: string, by?: string): Promise<Waiver> {
    const note = this.byFingerprint.get(fingerprint);
    if (note === undefined) throw new Error(`"${this.name}" has no note ${fingerprint}.`);
    const waiver: Waiver = {
      check: note.check,
      ...(note.node === null ? {} : { node: note.node }),
      frames: [note.frames[0], note.frames[1]],
      reason,
      ...(by === undefined ? {} : { by }),
    };
    await this.setWaivers([...this.waivers, waiver]);
    return waiver;
  }

  /**
   * Gives the shot what people say of it, in place of what was given before.
   * @param review the JSON of a review file
   * @returns what of it cannot be used, a sentence each
   */
  async setReview(review: object): Promise<readonly string[]> {
    const answer = (await this.call("keyside/setReview", { review })) as { problems: readonly string[] };
    this.review = review;
    return answer.problems;
  }

  /**
   * Adds, changes and takes out remarks, says what became of them, and decides about notes: all or none.
   * @param by who says so
   * @param date ISO 8601; now if left out
   * @returns the id of what each change made or changed; {@link review} is for the tool to keep
   * @throws FeedError with reason "bad-review" where one of them cannot be made
   */
  async changeReview(
    changes: readonly ReviewChange[],
    by: string,
    date?: string,
  ): Promise<readonly string[]> {
    const params = { changes, by, ...(date === undefined ? {} : { date }) };
    const answer = (await this.call("keyside/changeReview", params)) as {
      review: object;
      ids: readonly string[];
    };
    this.review = answer.review;
    return answer.ids;
  }

  /** Looks for a change of keys that clears a note; nothing is changed. docs/host-messages.md says what comes. */
  fix(fingerprint: string): Promise<Record<string, unknown>> {
    return this.client.request("keyside/fix", { shot: this.name, fingerprint }) as Promise<
      Record<string, unknown>
    >;
  }

  /** All about a note: the check that found it, and the series behind it. */
  explain(fingerprint: string): Promise<Record<string, unknown>> {
    return this.client.request("keyside/explain", { shot: this.name, fingerprint }) as Promise<
      Record<string, unknown>
    >;
  }

  /** Closes the shot; the feed says nothing more about it. */
  async close(): Promise<void> {
    this.queued.clear();
    this.state = "closed";
    this.client.forget(this.name);
    await this.client.request("keyside/closeShot", { shot: this.name });
  }

  /** Opens the shot on the feed; called by the client. */
  async open(content: ShotContent): Promise<void> {
    this.state = "opening";
    this.nodes = nodesOf(content);
    const { folder } = this.options;
    await this.client.request("keyside/openShot", {
      shot: this.name,
      revision: this.revision,
      ...content,
      ...(this.config === undefined ? {} : { config: this.config }),
      ...(folder === undefined ? {} : { folder }),
      ...(this.waivers.length === 0 ? {} : { waivers: this.waivers }),
      ...(this.review === null ? {} : { review: this.review }),
      ...(this.options.onSoFar === undefined ? {} : { notesSoFar: true }),
    });
    this.state = "open";
    this.flush();
  }

  /** Opens the shot again as the tool holds it now. @returns whether it could; called by the client */
  async reopen(): Promise<boolean> {
    const { documentNow } = this.options;
    if (documentNow === undefined || this.state === "closed") return false;
    this.isAfresh = true;
    this.lacksDocument = false;
    this.judgedRevision = -1;
    await this.open(documentNow());
    return true;
  }

  /** Takes what the feed tells; called by the client. */
  take(message: NotesChanged): void {
    const before = this.byFingerprint;
    this.byFingerprint = new Map(this.isAfresh ? [] : before);
    this.isAfresh = false;
    for (const fingerprint of message.gone) this.byFingerprint.delete(fingerprint);
    for (const note of [...message.added, ...message.changed]) this.byFingerprint.set(note.fingerprint, note);
    this.judgedRevision = message.revision;
    this.soFar = null;
    this.failures = message.failures;
    if (this.before !== null) return;
    this.before = before;
    this.client.later(() => this.tell());
  }

  /** Takes what has been found so far; called by the client. */
  takeSoFar(message: NotesSoFar): void {
    const isTold = this.soFar !== null;
    this.soFar = message;
    if (isTold) return;
    this.client.later(() => {
      const { soFar } = this;
      this.soFar = null;
      if (soFar !== null) this.options.onSoFar?.(this, soFar);
    });
  }

  /** Takes what people say; called by the client. */
  takeReview(remarks: readonly FeedRemark[]): void {
    this.remarks = remarks;
    this.client.later(() => this.options.onReview?.(this));
  }

  /** Takes that Keyside failed; called by the client. */
  fail(message: string): void {
    this.client.later(() => this.options.onFailure?.(this, message));
  }

  /** Takes that the connection ended; called by the client. */
  lose(): void {
    if (this.state !== "closed") this.state = "gone";
    for (const { reject } of this.queued.clear()) reject(gone());
  }

  private tell(): void {
    const { before, byFingerprint: now } = this;
    this.before = null;
    if (before === null) return;
    this.options.onChange?.(this, {
      shot: this.name,
      revision: this.judgedRevision,
      added: [...now.values()].filter(({ fingerprint }) => !before.has(fingerprint)),
      changed: [...now.values()].filter((note) => {
        const old = before.get(note.fingerprint);
        return old !== undefined && old !== note;
      }),
      gone: [...before.keys()].filter((fingerprint) => !now.has(fingerprint)),
      ...(this.failures === undefined ? {} : { failures: this.failures }),
    });
  }

  private sendDocument(): void {
    const { documentNow } = this.options;
    if (!this.lacksDocument || documentNow === undefined || this.state === "gone") return;
    this.lacksDocument = false;
    this.replace(documentNow()).catch((error: Error) => {
      if (error instanceof FeedError) this.refuse([], error);
    });
  }

  private call(method: string, params: object): Promise<unknown> {
    if (this.state === "gone" || this.state === "closed") return Promise.reject(gone());
    return new Promise((resolve, reject) => {
      this.queued.call({ method, params, resolve, reject });
      this.flush();
    });
  }

  /** Sends the first step that waits; one at a time, so that what follows can still be folded. */
  private flush(): void {
    if (this.isBusy || this.state !== "open") return;
    const step = this.queued.next();
    if (step === null) return;
    const call = "call" in step ? step.call : this.callFor(step.edits);
    const revision = this.revision + 1;
    this.isBusy = true;
    this.revision = revision;
    this.client
      .request(call.method, { shot: this.name, revision, ...call.params })
      .then(
        (answer) => call.resolve(answer),
        (error: Error) => {
          if (error instanceof FeedError) {
            const { revision: feeds } = error.data;
            this.revision = typeof feeds === "number" ? feeds : revision - 1;
          }
          call.reject(error);
        },
      )
      .finally(() => {
        this.isBusy = false;
        this.flush();
      });
  }

  private callFor(edits: readonly KeyEdit[], isSecondTry = false): Call {
    const reject = (error: Error) => {
      // Where the feed has gone, the tool's own document holds the edits.
      if (!(error instanceof FeedError)) return;
      const bad = problemIndices(error);
      if (bad.size === 0 || isSecondTry) return this.refuse(edits, error);
      this.refuse(
        edits.filter((_, index) => bad.has(index)),
        error,
      );
      this.queued.putBack(edits.filter((_, index) => !bad.has(index)));
    };
    return { method: "keyside/editKeys", params: { edits }, resolve: () => {}, reject };
  }

  private refuse(edits: readonly KeyEdit[], error: FeedError): void {
    this.client.later(() => this.options.onRefused?.(this, { edits, error }));
  }
}

/** Ids of the nodes of a document; null for a text, which the feed reads. */
function nodesOf(content: ShotContent): ReadonlySet<string> | null {
  if (!("document" in content) || !Array.isArray(content.document.nodes)) return null;
  return new Set(content.document.nodes.map(({ id }) => id));
}

/** Which edits a refusal names. */
function problemIndices({ data }: FeedError): ReadonlySet<number> {
  const { problems } = data as { problems?: readonly { readonly path?: string }[] };
  const indices = (problems ?? []).map(({ path }) => Number(/^edits\/(\d+)/.exec(path ?? "")?.[1]));
  return new Set(indices.filter((index) => Number.isInteger(index)));
}

function gone(): FeedGone {
  return new FeedGone("The connection to the feed ended.");
}
