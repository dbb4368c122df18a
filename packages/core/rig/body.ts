import { integers } from "../base/room.ts";
import { type Study, sameNumbers, shotMeasure } from "../base/study.ts";
import type { BodyPart } from "../document/schema.ts";
import { type Figure, foundFiguresOf } from "./figures.ts";
import { rigOf } from "./rig.ts";

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

const figureIndices = shotMeasure<Int32Array>(
  "figure by node",
  (study) => {
    const of = integers(rigOf(study).count).fill(-1);
    figuresOf(study).forEach((figure, index) => {
      for (const node of figure.nodes) of[node] = index;
    });
    return of;
  },
  sameNumbers,
);

/**
 * Index into {@link figuresOf} of the figure to which a node belongs; -1 if none.
 * @param node rig index of the node
 * @returns index of the figure, −1 if there is none
 */
export function figureOfNode(study: Study, node: number): number {
  return figureIndices(study)[node] ?? -1;
}

/**
 * Whether a figure goes on its hands as on its feet: the body map has its forelegs as arms. Whatever has hands and feet is
 * a human, unless its hands stand as its feet do in the rest pose.
 */
export function standsOnFour(figure: Figure): boolean {
  const ends: readonly BodyPart[] = ["leftHand", "rightHand", "leftFoot", "rightFoot"];
  return figure.kind === "other" && ends.every((part) => figure.parts.has(part));
}

/** The joint that carries a figure through the shot: its hips or body; its top node where no part says so. */
export function carrierOf(figure: Figure): number {
  return figure.parts.get("root")?.[0] ?? figure.root;
}
