import { figureOfNode, figuresOf, type ReportedNote, rigOf, type Study } from "@keyside/core";
import { partHeading } from "@keyside/core/internal";

/**
 * The heading under which a note stands: the body part that its node is, with the figure where there are several;
 * the node's own id where it is no part.
 */
export function groupsOf(study: Study): (note: Pick<ReportedNote, "node" | "figure" | "tier">) => string {
  const figures = figuresOf(study);
  const { indexOf } = rigOf(study);
  return (note) => {
    if (note.node === null) return note.tier === "broken" ? "the document" : (note.figure ?? "the shot");
    const node = indexOf.get(note.node);
    const figure = node === undefined ? undefined : figures[figureOfNode(study, node)];
    const name = node === undefined ? note.node : partHeading(study, node);
    return figure !== undefined && figures.length > 1 ? `${figure.id}: ${name}` : name;
  };
}
