import type { Study } from "../../../base/study.ts";
import { footPointsOf } from "../../../motion/ground/feet.ts";
import type { FootOverSurface } from "../../../motion/ground/sole-heights.ts";
import { declaredSurfacesOf, heightsOver, type Surface } from "../../../motion/ground/surface.ts";
import { boundsOf } from "../../../motion/ground/surface-bounds.ts";
import { figuresOf } from "../../../rig/body.ts";
import { limbsOf } from "../../../rig/limb.ts";
import { worldOf } from "../../../rig/pose.ts";

/** Faces up by less than this, as the upward part of a unit normal: nobody's floor. 60°, as for walls. */
const leastUp = 0.5;

/**
 * Wrists and first finger joints over a ground: those of a human's hands, which are flesh and bone on all sides of these
 * joints, so that none of them can be under it. Looked at where the ground is declared to go on everywhere and to be the only
 * level, or the lowest: what hangs over the edge of a platform is under no ground.
 */
export function handsOver(study: Study, figure: number, ground: Surface): FootOverSurface[] {
  const { kind, parts } = figuresOf(study)[figure];
  if (kind !== "human" || !ground.declared || boundsOf(study, ground.id, 0) !== null) return [];
  const isLower = ({ normal, height }: Surface) => normal[1] >= leastUp && height < ground.height;
  if (declaredSurfacesOf(study).some(isLower)) return [];
  const feet = footPointsOf(study, figure);
  return limbsOf(study, figure).flatMap(({ kind: limb, side, end }) => {
    if (limb !== "arm" || feet.some(({ node, foot }) => node === end || foot === end)) return [];
    const fingers = parts.get(`${side}Fingers`)?.[0];
    const nodes = fingers === undefined ? [end] : [end, fingers];
    const points = nodes.map((node) => ({
      node,
      height: heightsOver(ground, worldOf(study, node).position),
    }));
    return [{ ankle: end, points }];
  });
}
