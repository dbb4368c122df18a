import { z } from "zod";

/** What a schema says once optional and default wrappings are taken off. */
export function unwrapped(schema: unknown): unknown {
  let inner = schema;
  while (inner instanceof z.ZodOptional || inner instanceof z.ZodDefault) inner = inner.unwrap();
  return inner;
}

/** Whether a member with this schema may be left out. */
export function mayBeMissing(schema: unknown): boolean {
  return schema instanceof z.ZodOptional || schema instanceof z.ZodDefault;
}

/** The schema of a member or an element; undefined where the schema knows none. */
export function schemaOf(schema: unknown, step: PropertyKey): unknown {
  const inner = unwrapped(schema);
  if (inner instanceof z.ZodObject) return inner.shape[step as string];
  if (inner instanceof z.ZodArray) return inner.element;
  if (inner instanceof z.ZodTuple) return inner.def.items[step as number];
  return undefined;
}

/** Names of the members that an object schema knows, null for other schemas. */
export function knownNames(schema: unknown): readonly string[] | null {
  const inner = unwrapped(schema);
  return inner instanceof z.ZodObject ? Object.keys(inner.shape) : null;
}
