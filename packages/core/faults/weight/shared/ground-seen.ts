import type { Study } from "../../../base/study.ts";
import { contactsOf } from "../../../motion/ground/contact.ts";
import { footPointsOf } from "../../../motion/ground/feet.ts";
import { standingsOf } from "../../../motion/ground/standing.ts";
import type { Surface } from "../../../motion/ground/surface.ts";
import { gridOf } from "../../../time/grid.ts";

/** Whether it is known where the ground of a figure lies: it is declared, or the rest pose stands on it, or two feet do. */
export function isGroundSeen(study: Study, figure: number, ground: Surface): boolean {
  const isKnown = [...standingsOf(study, figure).values()].some(({ known }) => known);
  return ground.declared || isKnown || standsAgain(study, figure, ground);
}

/**
 * Whether two feet of a figure stand on a ground, leave it and stand on it again, or one does while the other stands on it
 * all through the shot: where it lies is then seen.
 */
function standsAgain(study: Study, figure: number, ground: Surface): boolean {
  const nodes = new Map(footPointsOf(study, figure).map(({ node, foot }) => [node, foot]));
  const last = gridOf(study).count - 1;
  const plants = new Map<number, number>();
  const through = new Set<number | undefined>();
  for (const { node, surface, from, to } of contactsOf(study, figure)) {
    if (!nodes.has(node) || surface.id !== ground.id) continue;
    plants.set(node, (plants.get(node) ?? 0) + 1);
    if (from === 0 && to === last) through.add(nodes.get(node));
  }
  const again = new Set([...plants].filter(([, count]) => count > 1).map(([node]) => nodes.get(node)));
  return again.size > 0 && new Set([...again, ...through]).size > 1;
}
