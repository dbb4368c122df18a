import type { Tier } from "@keyside/core";
import type { ReportWriter } from "../../judge/archive/report-writer.ts";
import { archivePageWriter } from "./archive-page.ts";
import type { HistoryEntry } from "./history.ts";
import { jsonWriter } from "./json.ts";
import { jsonLinesWriter } from "./json-lines.ts";
import { junitWriter } from "./junit.ts";
import type { Layout } from "./layout.ts";
import { sarifWriter } from "./sarif.ts";
import { textWriter } from "./text.ts";

/** What a report's format may look at. */
export interface WriterOptions {
  readonly layout: Layout;
  /** Lightest tier that is shown; lighter notes are only counted. */
  readonly lightest: Tier;
  /** Runs before this one, oldest first, and when this one is; where a history is kept. */
  readonly history?: { readonly past: readonly HistoryEntry[]; readonly now: Date } | undefined;
  /** Where the review sheet of a shot is, as a link; null where it has none. */
  readonly sheetFor?: ((shot: { readonly file: string; readonly name: string }) => string | null) | undefined;
}

/** Formats of the report by the name that `--format` takes. */
export const formats = {
  text: textWriter,
  json: jsonWriter,
  jsonl: jsonLinesWriter,
  sarif: sarifWriter,
  junit: junitWriter,
  html: archivePageWriter,
} as const satisfies Readonly<Record<string, (options: WriterOptions) => ReportWriter>>;

export type ReportFormat = keyof typeof formats;

export const formatNames = Object.keys(formats) as readonly ReportFormat[];
