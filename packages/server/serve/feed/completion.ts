import { documentJsonSchema, figuresOf, registry } from "@keyside/core";
import { checksIn, sentence } from "@keyside/core/internal";
import { type CompletionItem, CompletionItemKind, type Range } from "vscode-languageserver";
import { type ClientAbilities, kindFor } from "./client.ts";
import { type JsonPath, type JsonPlace, placeInJson } from "./json-walk.ts";
import { rangeOf } from "./places.ts";
import { idsOf, usedKinds } from "./references.ts";
import type { ShotDocument } from "./shot-document.ts";

/** What may be written at an offset: ids, channels, names of checks, values and properties that the schema knows. */
export function completionsAt(
  document: ShotDocument,
  offset: number,
  { completionKinds }: Pick<ClientAbilities, "completionKinds">,
): CompletionItem[] {
  if (!document.isCurveDocument) return [];
  const { text } = document.text;
  const place = placeInJson(text, offset);
  const range = rangeOf(document, [place.token?.start ?? offset, place.token?.end ?? offset]);
  if (place.isKey) {
    const behind = place.token?.end ?? offset;
    return propertyItems(place, range, /^\s*:/.test(text.slice(behind, behind + 100)));
  }
  return valueItems(document, place.path).map((item) => {
    const kind = kindFor(completionKinds, item.kind, CompletionItemKind.Value);
    return completed({ ...item, kind }, range);
  });
}

interface Value {
  readonly value: string | number | boolean;
  readonly kind: CompletionItemKind;
  readonly detail?: string;
  readonly documentation?: string;
}

function completed({ value, kind, detail, documentation }: Value, range: Range): CompletionItem {
  const written = JSON.stringify(value);
  return {
    label: String(value),
    kind,
    filterText: written,
    textEdit: { range, newText: written },
    ...(detail === undefined ? {} : { detail }),
    ...(documentation === undefined ? {} : { documentation }),
  };
}

function valueItems(document: ShotDocument, path: JsonPath): Value[] {
  if (path.length === 3 && path[0] === "waivers" && path[2] === "check") {
    return (document.settings === null ? registry : checksIn(document.settings)).map(
      ({ name, title, what }) => ({
        value: name,
        kind: CompletionItemKind.Constant,
        detail: title,
        documentation: sentence(what),
      }),
    );
  }
  const kinds = usedKinds(path);
  const { shot } = document.read();
  const values: Value[] = [...new Set(schemasAt(path).flatMap(valuesOf))].map((value) => ({
    value,
    kind: CompletionItemKind.EnumMember,
  }));
  if (shot === null) return values;
  for (const kind of kinds) {
    const study = kind === "figure" ? document.study() : null;
    // Figures that are not declared have ids too.
    const inferred = study === null ? [] : figuresOf(study).map(({ id }) => id);
    for (const value of new Set([...idsOf(shot, kind), ...inferred])) {
      values.push({ value, kind: CompletionItemKind.Reference, detail: kind });
    }
  }
  return values;
}

function propertyItems({ path, keys }: JsonPlace, range: Range, hasColon: boolean): CompletionItem[] {
  const properties = new Map<string, Schema>();
  for (const schema of schemasAt(path)) {
    for (const [name, property] of Object.entries(schema.properties ?? {})) properties.set(name, property);
  }
  for (const key of keys) properties.delete(key);
  return [...properties].map(([name, property]) => {
    const written = JSON.stringify(name);
    return {
      label: name,
      kind: CompletionItemKind.Property,
      filterText: written,
      textEdit: { range, newText: hasColon ? written : `${written}: ` },
      ...(property.description === undefined ? {} : { documentation: property.description }),
    };
  });
}

/** As much of JSON Schema as the document's own schema uses. */
interface Schema {
  readonly description?: string;
  readonly enum?: readonly (string | number)[];
  readonly const?: string | number;
  readonly type?: string;
  readonly properties?: Readonly<Record<string, Schema>>;
  readonly items?: Schema;
  readonly prefixItems?: readonly Schema[];
  readonly anyOf?: readonly Schema[];
  readonly oneOf?: readonly Schema[];
}

let root: Schema | null = null;

/** The schemas that a value at a path may follow. */
function schemasAt(path: JsonPath): readonly Schema[] {
  root ??= documentJsonSchema() as Schema;
  let schemas = alternatives(root);
  for (const part of path) {
    schemas = schemas.flatMap((schema) => {
      const next =
        typeof part === "number" ? (schema.prefixItems?.[part] ?? schema.items) : schema.properties?.[part];
      return next === undefined ? [] : alternatives(next);
    });
  }
  return schemas;
}

function alternatives(schema: Schema): Schema[] {
  const several = schema.anyOf ?? schema.oneOf;
  return several === undefined ? [schema] : several.flatMap(alternatives);
}

function valuesOf(schema: Schema): readonly (string | number | boolean)[] {
  if (schema.enum !== undefined) return schema.enum;
  if (schema.const !== undefined) return [schema.const];
  return schema.type === "boolean" ? [true, false] : [];
}
