import type { Tier } from "@keyside/core";
import type { ReportWriter } from "../archive/report-writer.ts";
import { jsonWriter } from "./json.ts";
import type { Layout } from "./layout.ts";
import { textWriter } from "./text.ts";

/** What a report's format may look at. */
export interface WriterOptions {
  readonly layout: Layout;
  /** Lightest tier that is shown; lighter notes are only counted. */
  readonly lightest: Tier;
}

/** Formats of the report by the name that `--format` takes. */
export const formats = {
  text: textWriter,
  json: jsonWriter,
} as const satisfies Readonly<Record<string, (options: WriterOptions) => ReportWriter>>;

export type ReportFormat = keyof typeof formats;

export const formatNames = Object.keys(formats) as readonly ReportFormat[];
