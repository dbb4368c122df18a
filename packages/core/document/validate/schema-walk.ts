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

/**
 * The schema of a member or an element; undefined where the schema knows none.
 * @param value what the schema is for: of several objects that may stand there, it tells which one is meant
 */
export function schemaOf(schema: unknown, step: PropertyKey, value?: unknown): unknown {
  const inner = chosen(schema, value);
  if (inner instanceof z.ZodObject) return inner.shape[step as string];
  if (inner instanceof z.ZodArray) return inner.element;
  if (inner instanceof z.ZodTuple) return inner.def.items[step as number];
  return undefined;
}

/**
 * Names of the members that an object schema knows, null for other schemas.
 * @param value what the schema is for, as in {@link schemaOf}
 */
export function knownNames(schema: unknown, value?: unknown): readonly string[] | null {
  const inner = chosen(schema, value);
  return inner instanceof z.ZodObject ? Object.keys(inner.shape) : null;
}

/** Every member that a schema knows, however deep. */
export function* membersWithin(
  schema: unknown,
): Generator<{ readonly name: string; readonly schema: unknown }> {
  const inner = unwrapped(schema);
  if (inner instanceof z.ZodArray) yield* membersWithin(inner.element);
  else if (inner instanceof z.ZodUnion) for (const option of inner.options) yield* membersWithin(option);
  else if (inner instanceof z.ZodObject) {
    for (const [name, member] of Object.entries(inner.shape)) {
      yield { name, schema: member };
      yield* membersWithin(member);
    }
  }
}

/** A schema without wrappings; of a union that holds objects, the object that a value is meant to be. */
function chosen(schema: unknown, value: unknown): unknown {
  const inner = unwrapped(schema);
  if (!(inner instanceof z.ZodUnion) || typeof value !== "object" || value === null) return inner;
  if (Array.isArray(value)) return inner;
  const objects = inner.options.filter((option) => option instanceof z.ZodObject);
  if (!(inner instanceof z.ZodDiscriminatedUnion)) return objects[0] ?? inner;
  const name = inner.def.discriminator;
  const given = (value as Record<string, unknown>)[name];
  const isMeant = (option: z.ZodObject) => {
    const word = option.shape[name];
    return word instanceof z.ZodLiteral && word.values.has(given as string);
  };
  return objects.find(isMeant) ?? inner;
}
