import { figureOfNode, figuresOf, type Note, type ReportedNote, rigOf, type Study } from "@keyside/core";
import { partHeading } from "@keyside/core/internal";

/**
 * The heading under which a note stands: the body part on which it is seen, of which its sentence speaks, with the figure
 * where there are several; the node's own id where it is no part. The key that causes it may be another node's.
 */
export function groupsOf(
  study: Study,
): (note: Pick<ReportedNote, "node" | "figure" | "tier"> & Partial<Pick<Note, "seenAt">>) => string {
  const figures = figuresOf(study);
  const { indexOf } = rigOf(study);
  return (note) => {
    const id = note.seenAt?.[0] ?? note.node;
    if (id === null) return note.tier === "broken" ? "the document" : (note.figure ?? "the shot");
    const node = indexOf.get(id);
    const figure = node === undefined ? undefined : figures[figureOfNode(study, node)];
    const name = node === undefined ? id : partHeading(study, node);
    return figure !== undefined && figures.length > 1 ? `${figure.id}: ${name}` : name;
  };
}
