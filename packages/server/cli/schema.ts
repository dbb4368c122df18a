import { configJsonSchema, documentSchema, registry, reportJsonSchema } from "@keyside/core";
import { z } from "zod";
import { exitCodes, type Io } from "./io.ts";

export const schemaNames = ["document", "config", "report"] as const;
export type SchemaName = (typeof schemaNames)[number];

/** `keyside schema`: a JSON Schema, for editors and for other systems. */
export function schema(name: SchemaName, io: Io): number {
  const made = {
    document: () => ({
      title: "Keyside curve document",
      ...z.toJSONSchema(documentSchema, { io: "input" }),
    }),
    config: () => configJsonSchema(registry),
    report: () => reportJsonSchema(),
  }[name]();
  io.stdout(`${JSON.stringify(made, null, 2)}\n`);
  return exitCodes.clean;
}
