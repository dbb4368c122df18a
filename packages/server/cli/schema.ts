import {
  comparisonJsonSchema,
  configJsonSchema,
  documentSchema,
  registry,
  reportJsonSchema,
} from "@keyside/core";
import { z } from "zod";
import { exitCodes, type Io } from "./io.ts";
import type { SchemaName } from "./schema-names.ts";

/** `keyside schema`: a JSON Schema, for editors and for other systems. */
export function schema(name: SchemaName, io: Io): number {
  const made = {
    document: () => ({
      title: "Keyside curve document",
      ...z.toJSONSchema(documentSchema, { io: "input" }),
    }),
    config: () => configJsonSchema(registry),
    report: () => reportJsonSchema(),
    compare: () => comparisonJsonSchema(),
  }[name]();
  io.stdout(`${JSON.stringify(made, null, 2)}\n`);
  return exitCodes.clean;
}
