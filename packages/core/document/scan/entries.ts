import { z } from "zod";
import { curveSchema, documentSchema, headerSchema } from "../schema.ts";
import { knownNames, membersWithin, unwrapped } from "../validate/schema-walk.ts";

const headerMembers = [...membersWithin(headerSchema)];
const documentMembers = [...membersWithin(documentSchema)];

/** Names of the members of a document. */
const documentNames: ReadonlySet<string> = new Set([...Object.keys(headerSchema.shape), "curves"]);

/** Names of an entry's members, by the list of the document that it belongs to. */
const membersOf: ReadonlyMap<string, readonly string[]> = new Map(
  [...Object.entries(headerSchema.shape), ["curves", z.array(curveSchema)] as const].flatMap(
    ([name, schema]): [string, readonly string[]][] => {
      const list = unwrapped(schema);
      const names = list instanceof z.ZodArray ? knownNames(list.element) : null;
      return names === null ? [] : [[name, names]];
    },
  ),
);

/**
 * Names by which an entry is known whose opening brace is missing: those that cannot as well be the document's own,
 * behind a list that is not closed.
 */
const entryNames: ReadonlyMap<string, ReadonlySet<string>> = new Map(
  [...membersOf].map(([name, names]) => [name, new Set(names.filter((one) => !documentNames.has(one)))]),
);

/** By path, with asterisks for positions: names that an object does not have, but what is around it does. */
const outerNames: ReadonlyMap<string, ReadonlySet<string>> = new Map([
  ...objectsWithin(headerSchema, "", documentNames),
  ...objectsWithin(z.array(curveSchema), "curves", documentNames),
]);

/** Members that are objects: the document's, and those of its entries, such as a figure's parts. */
const objectNames: ReadonlySet<string> = new Set(
  headerMembers.flatMap(({ name, schema }) => (unwrapped(schema) instanceof z.ZodObject ? [name] : [])),
);

/** Names of the members of an object that may stand under a name where an id may as well. */
const pointNames: ReadonlyMap<string, ReadonlySet<string>> = new Map(
  headerMembers.flatMap(({ name, schema }): [string, ReadonlySet<string>][] => {
    const union = unwrapped(schema);
    const options = union instanceof z.ZodUnion ? union.options : [];
    const object = options.find((option) => option instanceof z.ZodObject);
    return object === undefined ? [] : [[name, new Set(Object.keys(object.shape))]];
  }),
);

/** Members of entries that are lists of objects, with the names of these by which one is known. */
const innerEntryNames: ReadonlyMap<string, ReadonlySet<string>> = new Map(
  headerMembers.flatMap(({ name, schema }): [string, ReadonlySet<string>][] => {
    const list = unwrapped(schema);
    if (documentNames.has(name) || !(list instanceof z.ZodArray)) return [];
    const names = [...membersWithin(list.element)].map((member) => member.name);
    return names.length === 0 ? [] : [[name, new Set(names.filter((one) => !documentNames.has(one)))]];
  }),
);

/** Members that are lists of rows, such as corners: so many plain values a row holds, where it holds no more. */
const rowLengths: ReadonlyMap<string, number> = new Map(
  headerMembers.flatMap(({ name, schema }): [string, number][] => {
    const list = unwrapped(schema);
    if (!(list instanceof z.ZodArray)) return [];
    const rows = rowsOf(list.element);
    if (rows === null) return [];
    return [[name, rows.length === 1 ? rows[0].def.items.length : Number.POSITIVE_INFINITY]];
  }),
);

/** The forms of the rows that a schema stands for; null where it stands for anything else. */
function rowsOf(schema: unknown): readonly z.ZodTuple[] | null {
  const inner = unwrapped(schema);
  const options: readonly unknown[] = inner instanceof z.ZodUnion ? inner.options : [inner];
  const rows = options.filter((option) => option instanceof z.ZodTuple);
  return rows.length === options.length ? rows : null;
}

/** Names under which objects or lists of lists may stand, wherever they are used. */
const deepNames: ReadonlySet<string> = new Set(
  documentMembers.filter(({ schema }) => isDeep(schema)).map(({ name }) => name),
);

/** Members that hold neither objects nor lists of lists, and those of curves, behind which no object may stand. */
const plainNames: ReadonlySet<string> = new Set([
  ...documentMembers
    .map(({ name }) => name)
    .filter((name) => !documentNames.has(name) && !deepNames.has(name)),
  "keys",
  "in",
  "out",
]);

/** Whether a schema takes objects or lists of lists. */
function isDeep(schema: unknown): boolean {
  const inner = unwrapped(schema);
  if (inner instanceof z.ZodUnion) return inner.options.some(isDeep);
  if (inner instanceof z.ZodArray) {
    return (
      unwrapped(inner.element) instanceof z.ZodArray ||
      rowsOf(inner.element) !== null ||
      isDeep(inner.element)
    );
  }
  return inner instanceof z.ZodObject;
}

/** The objects of a schema by their paths, each with the names of what is around it that are not its own. */
function* objectsWithin(
  schema: unknown,
  path: string,
  around: ReadonlySet<string>,
): Generator<[string, ReadonlySet<string>]> {
  const inner = unwrapped(schema);
  if (inner instanceof z.ZodArray) yield* objectsWithin(inner.element, `${path}/*`, around);
  if (inner instanceof z.ZodUnion) {
    for (const option of inner.options) yield* objectsWithin(option, path, around);
  }
  if (!(inner instanceof z.ZodObject)) return;
  const own = Object.keys(inner.shape);
  if (path !== "") yield [path, new Set([...around].filter((name) => !own.includes(name)))];
  const inside = path === "" ? documentNames : new Set(own.filter((name) => !documentNames.has(name)));
  for (const [name, member] of Object.entries(inner.shape)) {
    yield* objectsWithin(member, path === "" ? name : `${path}/${name}`, inside);
  }
}

/** Names that an object at a path does not have, since they are those of what is around it; null where none are known. */
export function outerNamesOf(path: string): ReadonlySet<string> | null {
  return outerNames.get(path.replace(/\/\d+/g, "/*")) ?? null;
}

export const isDocumentName = (name: string): boolean => documentNames.has(name);
export const isObjectName = (name: string): boolean => objectNames.has(name);
export const isPlainName = (name: string): boolean => plainNames.has(name);
export const isListName = (name: string): boolean => entryNames.has(name);
export const rowLengthOf = (name: string): number | null => rowLengths.get(name) ?? null;
export const pointNamesOf = (name: string): ReadonlySet<string> | null => pointNames.get(name) ?? null;
export const innerEntryNamesOf = (name: string): ReadonlySet<string> | null =>
  innerEntryNames.get(name) ?? null;
export const entryNamesOf = (list: string): ReadonlySet<string> | null => entryNames.get(list) ?? null;
