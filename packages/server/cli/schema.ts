import { configJsonSchema, documentJsonSchema, reviewFileJsonSchema } from "@keyside/core";
import {
  comparisonJsonSchema,
  fixJsonSchema,
  reportJsonSchema,
  shotHistoryJsonSchema,
  waiverFileJsonSchema,
} from "@keyside/core/internal";
import { exitCodes } from "../base/errors.ts";
import { type Io, pluginsOf } from "../base/io.ts";
import { noPlugins, type Plugins } from "../base/plugins/plugins.ts";
import { baselineJsonSchema } from "../present/report/baseline.ts";
import { habitsJsonSchema } from "../present/report/habits-schema.ts";
import { historyJsonSchema } from "../present/report/history.ts";
import { reportLineJsonSchema } from "../present/report/json-lines-schema.ts";
import { summaryJsonSchema } from "../present/report/summary-schema.ts";
import { hostJsonSchema } from "../serve/host/reference.ts";
import { type SchemaName, schemaNames } from "./schema-names.ts";

const made: Readonly<Record<SchemaName, (plugins: Plugins) => Readonly<Record<string, unknown>>>> = {
  document: documentJsonSchema,
  config: ({ registry }) => configJsonSchema(registry),
  report: reportJsonSchema,
  lines: reportLineJsonSchema,
  summary: summaryJsonSchema,
  baseline: baselineJsonSchema,
  history: historyJsonSchema,
  compare: comparisonJsonSchema,
  fix: fixJsonSchema,
  waivers: waiverFileJsonSchema,
  review: reviewFileJsonSchema,
  "shot-history": shotHistoryJsonSchema,
  habits: habitsJsonSchema,
  "host-protocol": hostJsonSchema,
};

/**
 * The text of a published JSON Schema. Its `$id` is a name and no address: nothing need be fetched to use it. That of a
 * configuration has the settings of plug-ins too.
 */
export function schemaText(name: SchemaName, plugins: Plugins = noPlugins): string {
  const { $schema, $id = `urn:keyside:${name}:1`, ...rest } = made[name](plugins);
  return `${JSON.stringify({ $schema, $id, ...rest }, null, 2)}\n`;
}

/** All published JSON Schemas, as files: names and texts. The build writes them beside the program. */
export function schemaFiles(): Map<string, string> {
  const names = Object.keys(schemaNames) as SchemaName[];
  return new Map(names.map((name) => [`${name}.schema.json`, schemaText(name)]));
}

/** `keyside schema`: lists the JSON Schemas, or prints one, for editors and for other systems. */
export function schema(name: SchemaName | undefined, io: Io): number {
  io.stdout(name === undefined ? listOfNames() : schemaText(name, pluginsOf(io)));
  return exitCodes.clean;
}

function listOfNames(): string {
  const widest = Math.max(...Object.keys(schemaNames).map((name) => name.length));
  const lines = Object.entries(schemaNames).map(([name, what]) => `  ${name.padEnd(widest)}  ${what}`);
  return `${lines.join("\n")}\n\nkeyside schema NAME prints one.\n`;
}
