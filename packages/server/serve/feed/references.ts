import type { Shot } from "@keyside/core";
import { type Location, type Range, type TextEdit, TextEdit as TextEdits } from "vscode-languageserver";
import { type JsonPath, type JsonToken, placeInJson, stringValue, walkJson } from "./json-walk.ts";
import { rangeOf } from "./places.ts";
import type { ShotDocument } from "./shot-document.ts";

/** What an id names. */
export type IdKind = "node" | "figure" | "surface";

/** Where ids stand; an asterisk is any name or position. */
const declarations: Readonly<Record<string, IdKind>> = {
  "nodes/*/id": "node",
  "figures/*/id": "figure",
  "surfaces/*/id": "surface",
};
const uses: Readonly<Record<string, IdKind>> = {
  "nodes/*/parent": "node",
  "curves/*/node": "node",
  "figures/*/parts/*": "node",
  "figures/*/parts/*/*": "node",
  "contacts/*/node": "node",
  "contacts/*/with": "surface",
  "cameras/*/node": "node",
  "gazes/*/figure": "figure",
  "gazes/*/at": "node",
  "propulsors/*/figure": "figure",
  "propulsors/*/nodes/*": "node",
  "waivers/*/node": "node",
};
const lists = { node: "nodes", figure: "figures", surface: "surfaces" } as const;

/** What an id at a path names; null where no id of something else stands there. */
export function usedKind(path: JsonPath): IdKind | null {
  return kindIn(uses, path);
}

/** All ids of a kind, in the document's order. */
export function idsOf(shot: Shot, kind: IdKind): readonly string[] {
  return (shot.header[lists[kind]] ?? []).map(({ id }) => id);
}

/** Where the thing is declared whose id stands at an offset. */
export function definitionAt(document: ShotDocument, offset: number): Location | null {
  const named = namedAt(document, offset);
  if (named === null) return null;
  const { shot, places } = document.read();
  const index = shot === null ? -1 : idsOf(shot, named.kind).indexOf(named.id);
  const list = lists[named.kind];
  const span = places.get(`${list}/${index}/id`) ?? places.get(`${list}/${index}`);
  return span === undefined ? null : { uri: document.uri, range: rangeOf(document, span) };
}

/** All places that name the thing whose id stands at an offset. */
export function referencesAt(document: ShotDocument, offset: number, withDeclaration: boolean): Location[] {
  const named = namedAt(document, offset);
  if (named === null) return [];
  return occurrences(document, named)
    .filter(({ isDeclaration }) => withDeclaration || !isDeclaration)
    .map(({ range }) => ({ uri: document.uri, range }));
}

/** The id at an offset and its text's range, for clients that ask before they rename. */
export function renamableAt(
  document: ShotDocument,
  offset: number,
): { readonly range: Range; readonly placeholder: string } | null {
  const named = namedAt(document, offset);
  if (named === null) return null;
  const { start, end, isClosed } = named.token;
  return { range: rangeOf(document, [start + 1, isClosed ? end - 1 : end]), placeholder: named.id };
}

/** Another id for the thing at an offset, wherever it is named; null where there is none, or the id is taken. */
export function renameAt(document: ShotDocument, offset: number, name: string): TextEdit[] | null {
  const named = namedAt(document, offset);
  const { shot } = document.read();
  if (named === null || shot === null || name === "" || idsOf(shot, named.kind).includes(name)) return null;
  return occurrences(document, named).map(({ range }) => TextEdits.replace(range, JSON.stringify(name)));
}

interface Named {
  readonly kind: IdKind;
  readonly id: string;
  readonly token: JsonToken;
}

function namedAt(document: ShotDocument, offset: number): Named | null {
  if (!document.isCurveDocument) return null;
  const { text } = document.text;
  // A place at the opening quote belongs to the text behind it.
  for (const at of [offset, offset + 1]) {
    const { path, token } = placeInJson(text, at);
    if (token === null || !token.isString || token.isKey) continue;
    const kind = kindIn(uses, path) ?? kindIn(declarations, path);
    if (kind !== null) return { kind, id: stringValue(text, token), token };
  }
  return null;
}

function occurrences(
  document: ShotDocument,
  { kind, id }: Named,
): { readonly range: Range; readonly isDeclaration: boolean }[] {
  const { text } = document.text;
  const found: { range: Range; isDeclaration: boolean }[] = [];
  walkJson(text, text.length, (token) => {
    if (!token.isString || token.isKey || stringValue(text, token) !== id) return false;
    const isDeclaration = kindIn(declarations, token.path) === kind;
    if (isDeclaration || kindIn(uses, token.path) === kind) {
      found.push({ range: rangeOf(document, [token.start, token.end]), isDeclaration });
    }
    return false;
  });
  return found;
}

function kindIn(table: Readonly<Record<string, IdKind>>, path: JsonPath): IdKind | null {
  const pattern = path.map((part, index) => (index % 2 === 0 && index !== 4 ? part : "*")).join("/");
  return table[pattern] ?? null;
}
