import type { ReportError, ReportedNote, ReportedShot } from "@keyside/core";

/**
 * Writes a report while the run goes on, so that memory does not grow with the number of shots.
 * Each call gives the text that comes next.
 */
export interface ReportWriter {
  start(): string;
  /** @param groupOf heading under which a note stands */
  shot(shot: ReportedShot, groupOf: (note: ReportedNote) => string): string;
  end(errors: readonly ReportError[]): string;
}
