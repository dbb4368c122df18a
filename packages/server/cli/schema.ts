import {
  comparisonJsonSchema,
  configJsonSchema,
  documentJsonSchema,
  fixJsonSchema,
  registry,
  reportJsonSchema,
  waiverFileJsonSchema,
} from "@keyside/core";
import { exitCodes } from "../base/errors.ts";
import type { Io } from "../base/io.ts";
import { baselineJsonSchema } from "../present/report/baseline.ts";
import { historyJsonSchema } from "../present/report/history.ts";
import { reportLineJsonSchema } from "../present/report/json-lines-schema.ts";
import type { SchemaName } from "./schema-names.ts";

/** `keyside schema`: a JSON Schema, for editors and for other systems. */
export function schema(name: SchemaName, io: Io): number {
  const made = {
    document: () => documentJsonSchema(),
    config: () => configJsonSchema(registry),
    report: () => reportJsonSchema(),
    lines: () => reportLineJsonSchema(),
    baseline: () => baselineJsonSchema(),
    history: () => historyJsonSchema(),
    compare: () => comparisonJsonSchema(),
    fix: () => fixJsonSchema(),
    waivers: () => waiverFileJsonSchema(),
  }[name]();
  io.stdout(`${JSON.stringify(made, null, 2)}\n`);
  return exitCodes.clean;
}
