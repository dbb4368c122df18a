/** The schemas that are published, by name, and what each describes. */
export const schemaNames = {
  document: "the curve document",
  config: "the configuration",
  report: "the report of check",
  compare: "the output of compare",
} as const;
export type SchemaName = keyof typeof schemaNames;
