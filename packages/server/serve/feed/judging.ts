import type { CancellationToken } from "vscode-languageserver";
import type { Arrivals } from "./arrivals.ts";
import type { Timers } from "./environment.ts";
import { type Job, Scheduler } from "./scheduler.ts";
import type { ShotDocument } from "./shot-document.ts";

/** What came of waiting for a document's notes: "newer" is an edit that arrived meanwhile. */
export type Outcome = "judged" | "newer" | "closed" | "failed" | "cancelled";

interface Waiter {
  readonly version: number;
  resolve(outcome: Outcome): void;
}

interface Entry {
  readonly job: Job;
  waiters: Waiter[];
  /** Version of which the document's notes are; null while there are none of the newest settings and text. */
  judgedVersion: number | null;
  /** Whether judging the newest settings and text failed. */
  hasFailed: boolean;
}

/** Judges open documents as edits come in, and tells when it has. */
export class Judging {
  private readonly scheduler: Scheduler;
  private readonly arrivals: Arrivals;
  private readonly entries = new Map<ShotDocument, Entry>();
  private readonly onJudged: (document: ShotDocument) => void;
  private readonly onFailed: (document: ShotDocument, error: unknown) => void;

  constructor(
    timers: Timers,
    arrivals: Arrivals,
    onJudged: (document: ShotDocument) => void,
    onFailed: (document: ShotDocument, error: unknown) => void,
  ) {
    this.scheduler = new Scheduler(timers);
    this.arrivals = arrivals;
    this.onJudged = onJudged;
    this.onFailed = onFailed;
  }

  /** Judges a document as it is now; whatever is under way for it is given up. Its settings have to be known. */
  request(document: ShotDocument): void {
    const entry = this.entryOf(document);
    entry.judgedVersion = null;
    entry.hasFailed = false;
    this.answer(entry, "newer", ({ version }) => version !== document.version);
    if (document.settings !== null) this.scheduler.request(entry.job);
  }

  /** Forgets a document that was closed. */
  drop(document: ShotDocument): void {
    const entry = this.entries.get(document);
    if (entry === undefined) return;
    this.entries.delete(document);
    this.scheduler.drop(entry.job);
    this.answer(entry, "closed");
  }

  /** Waits until the notes are those of the document as it is now. */
  judged(document: ShotDocument, token: CancellationToken): Promise<Outcome> {
    const entry = this.entryOf(document);
    if (token.isCancellationRequested) return Promise.resolve("cancelled");
    const { version } = document;
    if (entry.judgedVersion === version) {
      return Promise.resolve(this.arrivals.isWaiting(document.uri) ? "newer" : "judged");
    }
    if (entry.hasFailed) return Promise.resolve("failed");
    return new Promise((resolve) => {
      const cancelling = token.onCancellationRequested(() => waiter.resolve("cancelled"));
      const waiter: Waiter = {
        version,
        resolve(outcome) {
          cancelling.dispose();
          entry.waiters = entry.waiters.filter((other) => other !== waiter);
          resolve(outcome);
        },
      };
      entry.waiters.push(waiter);
    });
  }

  dispose(): void {
    this.scheduler.dispose();
    for (const document of [...this.entries.keys()]) this.drop(document);
  }

  private entryOf(document: ShotDocument): Entry {
    let entry = this.entries.get(document);
    if (entry === undefined) {
      entry = { job: this.jobOf(document), waiters: [], judgedVersion: null, hasFailed: false };
      this.entries.set(document, entry);
    }
    return entry;
  }

  private jobOf(document: ShotDocument): Job {
    return {
      isSettled: () => !this.arrivals.isWaiting(document.uri),
      steps: () => document.judge(),
      done: () => {
        const entry = this.entryOf(document);
        entry.judgedVersion = document.version;
        this.onJudged(document);
        this.answer(entry, "judged");
      },
      failed: (error) => {
        document.fail();
        const entry = this.entryOf(document);
        entry.hasFailed = true;
        this.onFailed(document, error);
        this.answer(entry, "failed");
      },
    };
  }

  private answer(entry: Entry, outcome: Outcome, which: (waiter: Waiter) => boolean = () => true): void {
    for (const waiter of [...entry.waiters]) if (which(waiter)) waiter.resolve(outcome);
  }
}
