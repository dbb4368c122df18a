/** The schemas that are published, by name, and what each describes. */
export const schemaNames = {
  document: "the curve document",
  config: "the configuration",
  report: "the report of check",
  lines: "a line of the report as JSON lines",
  summary: "the summary of check",
  baseline: "a baseline of known notes",
  history: "a line of a history of runs",
  compare: "the output of compare",
  fix: "the output of fix",
  waivers: "a file of waivers beside a shot",
  review: "a file of what people say of a shot, beside it",
  "shot-history": "the output of history",
  habits: "the output of habits",
  "host-protocol": "the messages of the host channel",
} as const;
export type SchemaName = keyof typeof schemaNames;
