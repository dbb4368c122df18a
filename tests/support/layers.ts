import { readdirSync, readFileSync } from "node:fs";
import { dirname, relative, resolve } from "node:path";

/** What each source imports, types too: paths of sources, all from the same folder. */
export type ImportGraph = ReadonlyMap<string, readonly string[]>;

/** The sources under a folder and what they import of each other, as paths from that folder. */
export function importGraph(folder: string): ImportGraph {
  const graph = new Map<string, readonly string[]>();
  for (const entry of readdirSync(folder, { withFileTypes: true, recursive: true })) {
    const path = relative(folder, resolve(entry.parentPath, entry.name));
    if (!entry.isFile() || !/\.(ts|mjs)$/.test(path) || /(^|\/)(dist|node_modules)\//.test(path)) continue;
    const text = readFileSync(resolve(folder, path), "utf8");
    const imports = [...text.matchAll(/\b(?:from|import)\s*\(?\s*"(\.[^"]*)"/g)].map(([, name = ""]) =>
      relative(folder, resolve(folder, dirname(path), name)),
    );
    graph.set(path, [...new Set(imports)]);
  }
  return graph;
}

/**
 * What is wrong with the order of layers: a source in none of them, an import of a later layer by an earlier one, and
 * sources that import each other in a circle.
 * @param layers files and folders, the earliest first; a source belongs to the longest that it lies in, "" to the rest
 */
export function layerFaults(graph: ImportGraph, layers: readonly string[]): string[] {
  const layerOf = (path: string) => {
    let best = -1;
    for (const [index, layer] of layers.entries()) {
      const isIn = layer === "" || path === layer || path.startsWith(`${layer}/`);
      if (isIn && (best < 0 || layer.length > (layers[best]?.length ?? 0))) best = index;
    }
    return best;
  };
  const faults: string[] = [];
  for (const [path, imports] of graph) {
    const own = layerOf(path);
    if (own < 0) faults.push(`${path} is in no layer`);
    for (const other of imports) {
      if (graph.has(other) && layerOf(other) > own) faults.push(`${path} imports ${other}, which is later`);
    }
  }
  for (const layer of layers) {
    const index = layers.indexOf(layer);
    if (![...graph.keys()].some((path) => layerOf(path) === index)) faults.push(`${layer} holds nothing`);
  }
  return [...faults, ...circlesIn(graph).map((circle) => `a circle: ${circle.join(", ")}`)];
}

/** Groups of sources in which each reaches all others (Tarjan's strongly connected components), sorted. */
function circlesIn(graph: ImportGraph): string[][] {
  const order = new Map<string, number>();
  const open: string[] = [];
  const circles: string[][] = [];
  const visit = (path: string): number => {
    let lowest = order.size;
    const own = lowest;
    order.set(path, own);
    open.push(path);
    const imports = graph.get(path) ?? [];
    for (const other of imports) {
      const seen = order.get(other);
      if (seen === undefined) lowest = Math.min(lowest, visit(other));
      else if (open.includes(other)) lowest = Math.min(lowest, seen);
    }
    if (lowest === own) {
      const circle = open.splice(open.indexOf(path));
      if (circle.length > 1 || imports.includes(path)) circles.push(circle.sort());
    }
    return lowest;
  };
  for (const path of graph.keys()) if (!order.has(path)) visit(path);
  return circles;
}
