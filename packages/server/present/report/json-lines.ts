import type { ReportWriter } from "../../judge/archive/report-writer.ts";
import { isShown } from "../text/shown.ts";
import type { ReportLine } from "./json-lines-schema.ts";
import type { WriterOptions } from "./writer-options.ts";

/**
 * The report as JSON lines: one object per line, told apart by `kind`, so that it can be read while it is written and
 * filtered line by line. Its schema is `reportLineSchema`.
 */
export function jsonLinesWriter({ lightest }: Pick<WriterOptions, "lightest">): ReportWriter {
  return {
    begin: ({ version, shard }) =>
      line({ kind: "run", tool: { name: "keyside", version }, ...(shard === null ? {} : { shard }) }),
    shot({ notes, failures = [], ...shot }) {
      const shown = notes.filter((note) => isShown(note.tier, lightest));
      const lines = [line({ kind: "shot", ...shot, notes: shown.length })];
      for (const note of shown) {
        lines.push(line({ kind: "note", file: shot.file, shot: shot.name, ...note }));
      }
      for (const failure of failures) {
        lines.push(line({ kind: "failure", file: shot.file, shot: shot.name, ...failure }));
      }
      return lines.join("");
    },
    error: (error) => line({ kind: "error", ...error }),
    end: ({ stopped, failures, ...counts }) =>
      line({
        kind: "end",
        ...counts,
        ...(failures === 0 ? {} : { failures }),
        ...(stopped === null ? {} : { stopped }),
      }),
  };
}

function line(value: ReportLine): string {
  return `${JSON.stringify(value)}\n`;
}
