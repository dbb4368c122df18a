import { resolve } from "node:path";
import type { Io } from "../base/io.ts";
import { version } from "../base/version.ts";
import { ArchiveTally } from "../present/report/archive-tally.ts";
import { addToHistory, type HistoryEntry, historyEntry, readHistory } from "../present/report/history.ts";

/** What came of earlier runs, and of this one as it goes on. */
export class RunHistory {
  readonly past: readonly HistoryEntry[];
  readonly now = new Date();
  readonly tally = new ArchiveTally("polish");
  isStopped = false;
  private readonly shown: string;
  private readonly io: Io;

  private constructor(past: readonly HistoryEntry[], shown: string, io: Io) {
    this.past = past;
    this.shown = shown;
    this.io = io;
  }

  /** @throws UnreadableError where the file is no history */
  static async open(shown: string, io: Io): Promise<RunHistory> {
    return new RunHistory(await readHistory(io.files, resolve(io.cwd, shown), shown), shown, io);
  }

  /** Adds this run to the file. */
  keep(): Promise<void> {
    const entry = historyEntry(this.tally, version, this.now, this.isStopped);
    return addToHistory(this.io.files, resolve(this.io.cwd, this.shown), this.shown, entry);
  }
}
