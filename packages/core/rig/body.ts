import { measure, type Study, shotMeasure } from "../base/study.ts";
import { type Figure, foundFiguresOf } from "./figures.ts";

export type { Figure, FigureKind } from "./figures.ts";
export { inferredOf } from "./inferred.ts";
export { statureOf } from "./stature.ts";

/**
 * The figures of a shot, declared ones first. A declared part stands as declared; the rest is inferred from names,
 * and what names leave open from the shape of the rest pose. A hierarchy of two and more nodes that is no body is a
 * figure of kind "other"; single nodes and camera rigs belong to no figure.
 * @returns figures with their nodes as rig indices
 */
export const figuresOf = shotMeasure<readonly Figure[]>("figures", (study) =>
  foundFiguresOf(study).found.map(({ figure }) => figure),
);

const figureIndices = shotMeasure<ReadonlyMap<number, number>>("figure by node", (study) => {
  const of = new Map<number, number>();
  figuresOf(study).forEach((figure, index) => {
    for (const node of figure.nodes) of.set(node, index);
  });
  return of;
});

const figureIndexOf = measure<number, number>(
  "figure of a node",
  (study, node) => figureIndices(study).get(node) ?? -1,
);

/**
 * Index into {@link figuresOf} of the figure to which a node belongs; -1 if none.
 * @param node rig index of the node
 * @returns index of the figure, −1 if there is none
 */
export function figureOfNode(study: Study, node: number): number {
  return figureIndexOf(study, node);
}

/** The joint that carries a figure through the shot: its hips or body; its top node where no part says so. */
export function carrierOf(figure: Figure): number {
  return figure.parts.get("root")?.[0] ?? figure.root;
}
