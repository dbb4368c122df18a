import type { Study } from "../../../base/study.ts";
import { distanceBetween } from "../../../base/vector.ts";
import { gripsOf } from "../../../motion/parts/grips.ts";
import { holdsOf } from "../../../motion/parts/loads.ts";
import { cutsOf, isCutBetween } from "../../../motion/path/cuts.ts";
import { statureOf } from "../../../rig/body.ts";
import { worldOf } from "../../../rig/pose.ts";
import { gapTo } from "../../../rig/prop-shape.ts";
import { lengthShare } from "../../../rig/proportions.ts";
import { propsOf } from "../../../rig/props.ts";
import { gridOf } from "../../../time/grid.ts";
import type { Lift } from "../shared/lifts.ts";

/** How long a thing has to have rested to be known to stand where it is, seconds. */
const rested = 0.25;
/** Farthest from a wrist to a thing without a shape, by its node, at which a hand may be on it, body heights: as for holds. */
const nearShare = 0.25;

/**
 * Things that are off their place in the first pose of step keys in which hands hold them, as lifts from the frame before to
 * the first one of that pose: in the pose before they rested, and no hand was at them.
 * @param least metres by which a thing has to be higher
 */
export function takenUpOf(study: Study, figure: number, least: number): Lift[] {
  const { rate } = gridOf(study);
  const rest = Math.max(1, Math.round(rested * rate));
  const found: Lift[] = [];
  for (const { thing, from } of holdsOf(study, figure)) {
    const before = from - 1;
    if (before < rest || !isCutBetween(cutsOf(study, thing), before, from)) continue;
    const { position } = worldOf(study, thing);
    const rise = position[3 * from + 1] - position[3 * before + 1];
    if (!(rise > least) || distanceBetween(position, before - rest, position, before) > 0) continue;
    // Who held it already, or had a hand at it, may have taken hold in the pose before.
    const isHeld = gripsOf(study).some(
      (grip) => grip.thing === thing && grip.from <= before && grip.to >= before,
    );
    const hands = gripsOf(study).filter((grip) => grip.thing === thing && grip.from === from);
    if (isHeld || hands.some(({ hand, figure: owner }) => isAt(study, owner, hand, thing, before))) continue;
    found.push({ thing, from: before, to: from, half: from, rise });
  }
  return found;
}

/** Whether a hand is within its own length of a thing at a sample. */
function isAt(study: Study, figure: number, hand: number, thing: number, i: number): boolean {
  const prop = propsOf(study).find(({ node }) => node === thing);
  const { position } = worldOf(study, hand);
  const stature = statureOf(study, figure);
  const world = worldOf(study, thing);
  if (prop === undefined || prop.shapes.length === 0)
    return distanceBetween(position, i, world.position, i) < nearShare * stature;
  return gapTo(prop, world, i, position, i) < lengthShare.hand * stature;
}
