import type { ReportError, ReportedShot } from "@keyside/core";

/** What is known before the first shot. */
export interface ReportHead {
  /** Version of the tool. */
  readonly version: string;
  /** Which shard of the archive was judged, counted from 1; null where all of it was. */
  readonly shard: { readonly index: number; readonly of: number } | null;
}

/** What is known after the last shot. */
export interface ReportSummary {
  readonly shots: number;
  /** Notes of all tiers, shown or not. */
  readonly notes: number;
  readonly errors: number;
  /** Checks that ended in an error, counted once for each shot in which they did. */
  readonly failures: number;
  /** How far a run came that was stopped: inputs that are done, of all; null where it came to its end. */
  readonly stopped: { readonly done: number; readonly of: number } | null;
}

/**
 * Writes a report while the run goes on. Each call gives the text that comes next.
 *
 * `begin` comes first and `end` last, each once. Between them shots and errors come one at a time, in the order of
 * their files' names (by UTF-16 code units), whatever the number of workers. A writer keeps counts, never shots, so
 * that memory does not grow with the archive. The same calls must give the same text: no times, no random names.
 */
export interface ReportWriter {
  begin(head: ReportHead): string;
  shot(shot: ReportedShot): string;
  /** An input that could not be judged. */
  error(error: ReportError): string;
  /** Comes before `end` where the run came to its end: for what has to be fetched once all is known. */
  beforeEnd?(): Promise<void>;
  end(summary: ReportSummary): string;
}
