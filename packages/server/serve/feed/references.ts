import type { Shot } from "@keyside/core";
import { type IdKind, idLists, references } from "@keyside/core/internal";
import { type Location, type Range, type TextEdit, TextEdit as TextEdits } from "vscode-languageserver";
import { type JsonPath, type JsonToken, placeInJson, stringValue, walkJson } from "./json-walk.ts";
import { rangeOf } from "./places.ts";
import type { ShotDocument } from "./shot-document.ts";

/** Where ids are given to things; an asterisk is any position. */
const declarations: Readonly<Record<string, readonly IdKind[]>> = Object.fromEntries(
  Object.entries(idLists).map(([kind, list]) => [`${list}/*/id`, [kind as IdKind]]),
);

/** What an id at a path may name; nothing where no id of something else stands there. */
export function usedKinds(path: JsonPath): readonly IdKind[] {
  return kindsIn(references, path);
}

/** All ids of a kind, in the document's order. */
export function idsOf(shot: Shot, kind: IdKind): readonly string[] {
  return (shot.header[idLists[kind]] ?? []).map(({ id }) => id);
}

/** Where the thing is declared whose id stands at an offset. */
export function definitionAt(document: ShotDocument, offset: number): Location | null {
  const named = namedAt(document, offset);
  if (named === null) return null;
  const { shot, places } = document.read();
  const index = shot === null ? -1 : idsOf(shot, named.kind).indexOf(named.id);
  const list = idLists[named.kind];
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
    const kinds = [...kindsIn(references, path), ...kindsIn(declarations, path)];
    if (kinds.length === 0) continue;
    const id = stringValue(text, token);
    const { shot } = document.read();
    const kind = kinds.find((one) => shot !== null && idsOf(shot, one).includes(id)) ?? kinds[0];
    return { kind, id, token };
  }
  return null;
}

function occurrences(
  document: ShotDocument,
  named: Named,
): { readonly range: Range; readonly isDeclaration: boolean }[] {
  const { kind, id } = named;
  const { text } = document.text;
  const found: { range: Range; isDeclaration: boolean }[] = [];
  walkJson(text, text.length, (token) => {
    if (!token.isString || token.isKey || stringValue(text, token) !== id) return false;
    const isDeclaration = kindsIn(declarations, token.path).includes(kind);
    if (isDeclaration || isUse(document, kindsIn(references, token.path), named)) {
      found.push({ range: rangeOf(document, [token.start, token.end]), isDeclaration });
    }
    return false;
  });
  return found;
}

/** Whether an id that may name several kinds names this thing: the first kind counts that has the id. */
function isUse(document: ShotDocument, kinds: readonly IdKind[], { kind, id }: Named): boolean {
  if (kinds.length < 2) return kinds[0] === kind;
  const { shot } = document.read();
  return kind === (kinds.find((one) => shot !== null && idsOf(shot, one).includes(id)) ?? kinds[0]);
}

/** @param table by path, with asterisks for positions, and for the names of parts */
function kindsIn(table: Readonly<Record<string, readonly IdKind[]>>, path: JsonPath): readonly IdKind[] {
  const pattern = path.map((step, n) => (typeof step === "number" || path[n - 1] === "parts" ? "*" : step));
  return table[pattern.join("/")] ?? [];
}
