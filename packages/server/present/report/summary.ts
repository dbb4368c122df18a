import type { ReportHead, ReportWriter } from "../../judge/archive/report-writer.ts";
import { ArchiveTally, sumOf } from "./archive-tally.ts";
import type { Summary } from "./summary-schema.ts";
import type { WriterOptions } from "./writer-options.ts";

/** What came of a run in numbers, as one short object of JSON, however large the archive; its schema is `summarySchema`. */
export function summaryWriter({ lightest }: Pick<WriterOptions, "lightest">): ReportWriter {
  const tally = new ArchiveTally(lightest);
  let head: ReportHead = { version: "", shard: null };
  return {
    begin(given) {
      head = given;
      return "";
    },
    shot(shot) {
      tally.shot(shot);
      return "";
    },
    error() {
      tally.errors++;
      return "";
    },
    end({ stopped }) {
      const { all, checks, waived, known, errors, failures } = tally;
      const counts = [...checks].map(([name, { tiers }]) => [name, sumOf(tiers)] as const);
      const summary: Summary = {
        tool: { name: "keyside", version: head.version },
        ...(head.shard === null ? {} : { shard: head.shard }),
        shots: all.shots,
        failing: all.failing,
        notes: { ...all.tiers },
        checks: Object.fromEntries(counts.sort(([a], [b]) => (a < b ? -1 : 1))),
        waived,
        ...(tally.remarks === null ? {} : { remarks: tally.remarks }),
        ...(tally.hasBaseline ? { known } : {}),
        errors,
        failures: [...failures.keys()].sort(),
        ...(stopped === null ? {} : { stopped }),
      };
      return `${JSON.stringify(summary, null, 2)}\n`;
    },
  };
}
