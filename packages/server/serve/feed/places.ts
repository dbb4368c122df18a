import type { NoteKey } from "@keyside/core";
import type { Range } from "vscode-languageserver";
import type { ShotDocument } from "./shot-document.ts";

type Span = readonly [number, number];

/** Where a key stands in the text; undefined where it does not (any more). */
export function keySpan(
  document: ShotDocument,
  key: Pick<NoteKey, "node" | "channel" | "index">,
): Span | undefined {
  const place = document.curve(key.node, key.channel)?.place;
  const start = place?.keyStart[key.index];
  const end = place?.keyEnd[key.index];
  if (place == null || start === undefined || end === undefined) return undefined;
  return [place.start + start, place.start + end];
}

/** Where a node is declared: its id in the list of nodes. */
export function nodeSpan(document: ShotDocument, id: string): Span | undefined {
  const { shot, places } = document.read();
  const index = shot?.header.nodes.findIndex((node) => node.id === id) ?? -1;
  return places.get(`nodes/${index}/id`) ?? places.get(`nodes/${index}`);
}

/**
 * Where something about a node is shown when no key can be named: the node's own place, else its first curve, else
 * the shot's.
 */
export function placeOfNode(document: ShotDocument, id: string | null): Span {
  if (id !== null) {
    const own = nodeSpan(document, id);
    if (own !== undefined) return own;
    const curve = document.read().shot?.curves.find(({ node }) => node === id)?.place;
    if (curve != null) return [curve.start, curve.start + 1];
  }
  const { places } = document.read();
  return places.get("shot/name") ?? places.get("shot") ?? [0, Math.min(1, document.text.text.length)];
}

export function rangeOf(document: ShotDocument, [start, end]: Span): Range {
  return document.text.rangeOf(start, end);
}
