import { type Curve, figuresOf, nodeNameOf, rigOf } from "@keyside/core";
import { type DocumentSymbol, type SymbolInformation, SymbolKind } from "vscode-languageserver";
import { type ClientAbilities, kindFor } from "./client.ts";
import { nodeSpan, placeOfNode, rangeOf } from "./places.ts";
import type { ShotDocument } from "./shot-document.ts";

/** Kinds of symbols that the client knows. */
type SymbolAbilities = Pick<ClientAbilities, "symbolKinds">;

/** Figures, their nodes, and the channels of each node that are keyed; nodes of no figure stand beside the figures. */
export function documentSymbols(document: ShotDocument, { symbolKinds }: SymbolAbilities): DocumentSymbol[] {
  const study = document.study();
  const { shot, places } = document.read();
  if (study === null || shot === null) return [];
  const rig = rigOf(study);
  const curves = new Map<string, Curve[]>();
  for (const curve of shot.curves) {
    const list = curves.get(curve.node);
    if (list === undefined) curves.set(curve.node, [curve]);
    else list.push(curve);
  }
  const nodeSymbol = (node: number): DocumentSymbol => {
    const id = rig.ids[node];
    const name = nodeNameOf(study, node);
    const own = rangeOf(document, nodeSpan(document, id) ?? placeOfNode(document, id));
    return {
      name: id,
      ...(name === id ? {} : { detail: name }),
      kind: kindFor(symbolKinds, SymbolKind.Object, SymbolKind.Variable),
      range: own,
      selectionRange: own,
      children: (curves.get(id) ?? []).flatMap((curve) => channelSymbol(document, curve) ?? []),
    };
  };
  const shown = new Set<number>();
  const symbols = figuresOf(study).map((figure): DocumentSymbol => {
    for (const node of figure.nodes) shown.add(node);
    const declared = shot.header.figures?.findIndex(({ id }) => id === figure.id) ?? -1;
    const span = places.get(`figures/${declared}`) ?? placeOfNode(document, rig.ids[figure.root]);
    return {
      name: figure.id,
      detail: figure.declared ? "figure" : "figure, inferred",
      kind: SymbolKind.Class,
      range: rangeOf(document, span),
      selectionRange: rangeOf(document, span),
      children: figure.nodes.map(nodeSymbol),
    };
  });
  for (let node = 0; node < rig.count; node++) if (!shown.has(node)) symbols.push(nodeSymbol(node));
  return symbols;
}

/** The same as a list, for clients that show no tree. */
export function flatSymbols(document: ShotDocument, abilities: SymbolAbilities): SymbolInformation[] {
  const list: SymbolInformation[] = [];
  const add = ({ name, kind, range, children }: DocumentSymbol, containerName?: string) => {
    const location = { uri: document.uri, range };
    list.push({ name, kind, location, ...(containerName === undefined ? {} : { containerName }) });
    for (const child of children ?? []) add(child, name);
  };
  for (const symbol of documentSymbols(document, abilities)) add(symbol);
  return list;
}

function channelSymbol(document: ShotDocument, curve: Curve): DocumentSymbol | null {
  const { place } = curve;
  if (place === null) return null;
  const { frames } = curve;
  const keys = frames.length === 1 ? "1 key" : `${frames.length} keys`;
  const range = rangeOf(document, [place.start, place.end]);
  const first = place.keyStart[0] ?? 0;
  const selection = document.isCurveDocument ? place.start : place.start + first;
  return {
    name: curve.channel,
    detail: `${keys}, frames ${frames[0]} to ${frames[frames.length - 1]}`,
    kind: SymbolKind.Field,
    range,
    selectionRange: rangeOf(document, [selection, selection + 1]),
  };
}
