import type { Problem } from "../model.ts";
import type { ScannedCurve } from "../scan/finish-curve.ts";

/**
 * Nodes whose curves may be gone from a document whose text breaks off in its curves. Where the curves of each node stand
 * together, these are the last one that is named and all that have no curve before the cut; else any node may have lost
 * some.
 * @param cut the problem that tells of the cut
 * @param hasCurves whether the list of curves had begun
 * @param nodeIds all nodes, in the document's order
 * @returns ids, in the document's order; none where all curves are there
 */
export function cutOffNodes(
  cut: Problem,
  hasCurves: boolean,
  nodeIds: ReadonlySet<string>,
  scanned: readonly ScannedCurve[],
): readonly string[] {
  if (hasCurves && !/^curves\b/.test(cut.path)) return [];
  const met = new Set<string>();
  let last: string | null = null;
  for (const { node } of scanned) {
    if (node === null || node === last) continue;
    if (met.has(node)) return [...nodeIds];
    met.add(node);
    last = node;
  }
  return [...nodeIds].filter((id) => id === last || !met.has(id));
}

/**
 * What a report says of a document that breaks off, in a sentence; at most so many nodes are named.
 * @param nodes those whose curves may be gone
 */
export function cutOffSentence(nodes: readonly string[]): string {
  const undeclared = "ground, contacts and props that are not declared";
  if (nodes.length === 0) return `cut off: ${undeclared} may be gone; what hangs on them is polish at most`;
  const named = nodes.slice(0, mostNamed).map((id) => `"${id}"`);
  const more = nodes.length > mostNamed ? ` and ${nodes.length - mostNamed} more` : "";
  return `cut off: curves of ${named.join(", ")}${more} may be gone, and so may ${undeclared}; what hangs on any of them is polish at most`;
}

const mostNamed = 4;
