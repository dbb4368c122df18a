import type { Plugins } from "../../base/plugins/plugins.ts";
import type { ReportWriter } from "../../judge/archive/report-writer.ts";
import { archivePageWriter } from "./archive-page.ts";
import { jsonWriter } from "./json.ts";
import { jsonLinesWriter } from "./json-lines.ts";
import { junitWriter } from "./junit.ts";
import { guardedWriter, type PluginReport } from "./plugin-report.ts";
import { sarifWriter } from "./sarif.ts";
import { summaryWriter } from "./summary.ts";
import { textWriter } from "./text.ts";
import type { WriterOptions } from "./writer-options.ts";

/** Formats of the report by the name that `--format` takes. */
export const formats = {
  text: textWriter,
  json: jsonWriter,
  jsonl: jsonLinesWriter,
  sarif: sarifWriter,
  junit: junitWriter,
  summary: summaryWriter,
  html: archivePageWriter,
} as const satisfies Readonly<Record<string, (options: WriterOptions) => ReportWriter>>;

export type ReportFormat = keyof typeof formats;

export const formatNames = Object.keys(formats) as readonly ReportFormat[];

/**
 * The writer of a format, or of a report of a plug-in.
 * @throws UnreadableError where the report of a plug-in fails, now or later
 */
export function writerFor(format: string, plugins: Plugins, options: WriterOptions): ReportWriter {
  if (Object.hasOwn(formats, format)) return formats[format as ReportFormat](options);
  const report = plugins.reports[format] as PluginReport;
  return guardedWriter(format, plugins.origins.get(format) ?? "", () => report(options));
}
