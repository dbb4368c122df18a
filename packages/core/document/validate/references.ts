import { eachAt, references } from "../references.ts";
import { quoted } from "../scan/cursor.ts";
import type { DocumentHeader, NodeSpec } from "../schema.ts";
import type { Report } from "./header.ts";
import { meant } from "./names.ts";

/** Reports what the parts of a header say of each other that cannot be: ids given twice, cycles, unknown ids. */
export function reportReferences(header: DocumentHeader, report: Report): void {
  const ids = {
    node: idsOf(header.nodes, "nodes", "duplicate-node", report),
    figure: idsOf(header.figures ?? [], "figures", "duplicate-figure", report),
    surface: idsOf(header.surfaces ?? [], "surfaces", "duplicate-surface", report),
    camera: idsOf(header.cameras ?? [], "cameras", "duplicate-camera", report),
  };
  reportParents(header.nodes, ids.node, report);
  for (const [pattern, kinds] of Object.entries(references)) {
    if (pattern === "nodes/*/parent") continue; // Told of above, with circles.
    eachAt(header, pattern, (id, path) => {
      if (typeof id !== "string" || kinds.some((kind) => ids[kind].has(id))) return;
      if (kinds.includes("figure") && mayBeFigure(header.nodes, id)) return;
      const known = kinds.flatMap((kind) => [...ids[kind]]);
      const message = `There is no ${kinds.join(" or ")} with the id ${quoted(id)}${meant(id, known)} This is not used.`;
      report("unknown-reference", message, path);
    });
  }
  header.figures?.forEach(({ parts, limbs }, index) => {
    reportParts(parts ?? {}, `figures/${index}/parts`, report);
    idsOf(limbs ?? [], `figures/${index}/limbs`, "duplicate-limb", report);
  });
}

/** Whether a figure that is not declared may be called so: after its top node, or its nodes' name space. */
export function mayBeFigure(nodes: readonly NodeSpec[], figure: string): boolean {
  return nodes.some(
    ({ id }) =>
      id === figure ||
      id.slice(Math.max(id.lastIndexOf("|"), id.lastIndexOf("/")) + 1).startsWith(`${figure}:`),
  );
}

function idsOf(
  entries: readonly { id: string }[],
  list: string,
  code: string,
  report: Report,
): ReadonlySet<string> {
  const ids = new Set<string>();
  entries.forEach(({ id }, index) => {
    const message = `The id ${quoted(id)} is given twice under "${list}"; the first one counts. Give this one another id.`;
    if (ids.has(id)) report(code, message, `${list}/${index}/id`);
    ids.add(id);
  });
  return ids;
}

function reportParents(nodes: readonly NodeSpec[], ids: ReadonlySet<string>, report: Report): void {
  const parents = new Map<string, string>();
  nodes.forEach(({ id, parent }, index) => {
    if (parent === undefined) return;
    if (!ids.has(parent)) {
      const guess = meant(parent, [...ids]);
      const message = `The parent ${quoted(parent)} of ${quoted(id)} is not in the document${guess} The node is taken as a root.`;
      report("missing-parent", message, `nodes/${index}/parent`);
    } else if (!parents.has(id)) parents.set(id, parent);
  });
  reportCycles(nodes, parents, report);
}

function reportCycles(
  nodes: readonly NodeSpec[],
  parents: ReadonlyMap<string, string>,
  report: Report,
): void {
  // The number of the walk that came by a node first: meeting one's own walk again is a cycle.
  const walks = new Map<string, number>();
  nodes.forEach((node, index) => {
    let id: string | undefined = node.id;
    while (id !== undefined && !walks.has(id)) {
      walks.set(id, index);
      id = parents.get(id);
    }
    if (id === undefined || walks.get(id) !== index || !parents.has(id)) return;
    const cycle = [id];
    for (let next = parents.get(id); next !== undefined && next !== id; next = parents.get(next))
      cycle.push(next);
    // A walk that starts at a second node of the same id ends where the first has been.
    const at = nodes.findIndex((other) => cycle.includes(other.id));
    const message = `These nodes are parents of each other in a circle: ${cycle.slice(0, 5).map(quoted).join(", ")}${cycle.length > 5 ? " …" : ""}; give one of them another parent, or none.`;
    report("parent-cycle", message, `nodes/${at}/parent`);
  });
}

function reportParts(parts: Readonly<Record<string, unknown>>, path: string, report: Report): void {
  const partOf = new Map<string, string>();
  for (const [part, given] of Object.entries(parts)) {
    const ids = typeof given === "string" ? [given] : given;
    if (!Array.isArray(ids)) continue;
    ids.forEach((id: unknown, index: number) => {
      // Under a name that is no part anything may stand; that is said of the name.
      if (typeof id !== "string") return;
      const idPath = typeof given === "string" ? `${path}/${part}` : `${path}/${part}/${index}`;
      const before = partOf.get(id);
      const message = `The node ${quoted(id)} is already listed as "${before}"; a node is one part. Take one of the two out.`;
      if (before !== undefined) report("repeated-part", message, idPath);
      else partOf.set(id, part);
    });
  }
}
