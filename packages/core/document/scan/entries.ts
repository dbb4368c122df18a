import { z } from "zod";
import { bodyParts, curveSchema, headerSchema } from "../schema.ts";
import { knownNames, unwrapped } from "../validate/schema-walk.ts";

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

/** Names that tell that an entry has ended: the document's, but those that its members have too. */
const outerNames: ReadonlyMap<string, ReadonlySet<string>> = new Map(
  [...membersOf].map(([name, names]) => [
    name,
    new Set([...documentNames].filter((one) => !names.includes(one))),
  ]),
);

/** Members that are objects: the document's, and a figure's parts. */
const objectNames: ReadonlySet<string> = new Set([
  "parts",
  ...Object.entries(headerSchema.shape).flatMap(([name, schema]) =>
    knownNames(schema) === null ? [] : [name],
  ),
]);

/** Members of entries, of the document's objects, of a figure's parts and of keys that hold no objects. */
const plainNames: ReadonlySet<string> = new Set(
  [
    ...[...entryNames.values()].flatMap((names) => [...names]),
    ...Object.values(headerSchema.shape).flatMap((schema) => knownNames(schema) ?? []),
    ...bodyParts,
    "in",
    "out",
  ].filter((name) => !objectNames.has(name)),
);

const figureNames = entryNames.get("figures") ?? null;
const ofEntry = /^(\w+)\/\d+(\/parts)?$/;

/** Names that an object at a path does not have, since they are those of what is around it; null where none are known. */
export function outerNamesOf(path: string): ReadonlySet<string> | null {
  if (objectNames.has(path)) return documentNames;
  const match = ofEntry.exec(path);
  if (match === null) return null;
  if (match[2] !== undefined) return figureNames;
  return outerNames.get(match[1]) ?? null;
}

export const isDocumentName = (name: string): boolean => documentNames.has(name);
export const isObjectName = (name: string): boolean => objectNames.has(name);
export const isPlainName = (name: string): boolean => plainNames.has(name);
export const isListName = (name: string): boolean => entryNames.has(name);
export const entryNamesOf = (list: string): ReadonlySet<string> | null => entryNames.get(list) ?? null;
