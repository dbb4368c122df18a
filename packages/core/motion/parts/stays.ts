import { measure } from "../../base/study.ts";
import { distanceBetween } from "../../base/vector.ts";
import { carrierOf, figuresOf, statureOf } from "../../rig/body.ts";
import { limbsOf } from "../../rig/limb.ts";
import { worldOf } from "../../rig/pose.ts";
import { gridOf } from "../../time/grid.ts";
import type { Span } from "../../time/span.ts";

/** A stretch in which the end of a limb stays in the world while its body moves: it holds on to something. */
export interface Stay extends Span {
  readonly node: number;
}

/** An end that strays less than this from where it was, in body heights, stays where it is. */
const stillShare = 0.002;
/** Its body has to move by this much meanwhile, in body heights: what rests with a body at rest holds on to nothing. */
const carriedShare = 0.01;
/** Shortest stretch in which an end stays, seconds: shorter ones are turning points. */
const shortest = 0.25;

/** Where ends of limbs stay in the world while the body moves, declared or not. */
export const staysOf = measure("stays", (study, figure: number): readonly Stay[] => {
  const { count, rate } = gridOf(study);
  const stature = statureOf(study, figure);
  const body = worldOf(study, carrierOf(figuresOf(study)[figure])).position;
  const least = Math.max(3, Math.round(shortest * rate));
  const stays: Stay[] = [];
  for (const node of limbsOf(study, figure).flatMap(({ end, ball }) => (ball < 0 ? [end] : [end, ball]))) {
    const { position, still } = worldOf(study, node);
    if (still) continue;
    for (let from = 0; from + least < count; ) {
      let to = from;
      let carried = 0;
      while (to + 1 < count && distanceBetween(position, from, position, to + 1) < stillShare * stature) {
        carried = Math.max(carried, distanceBetween(body, from, body, ++to));
      }
      if (to - from >= least && carried > carriedShare * stature) {
        stays.push({ node, from, to });
        from = to;
      } else from++;
    }
  }
  return stays;
});
