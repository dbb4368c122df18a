import { counted } from "../../base/counted.ts";
import type { ReportSummary } from "../../judge/archive/report-writer.ts";

/** How many checks failed. */
export function failedText(checks: number): string {
  return `${counted(checks, "check")} failed`;
}

/** How far a run came that was stopped. */
export function stoppedText({ done, of }: NonNullable<ReportSummary["stopped"]>): string {
  return `Stopped after ${done} of ${counted(of, "input")}: the rest has not been judged.`;
}
