import { measure } from "../base/study.ts";
import { figuresOf, statureOf } from "./body.ts";
import { restPositionsOf } from "./rig.ts";
import { metresPerUnitOf } from "./stature.ts";
import { upIndexOf } from "./up.ts";

/** Height of a picture over its width, as television has it: 16 to 9 (ITU-R BT.709). */
const pictureShape = 9 / 16;

/**
 * How much smaller a figure is in a picture that it fills than its body height says, 0 to 1. A person stands in it from its
 * lower edge to its upper one: 1. Of any other body the largest extent is taken for its height; spread wings and a long
 * tail fill the width of the picture, and what it stands on is seen as much larger.
 * @param figure index into `figuresOf`
 * @returns the height that a picture filled by it would have, in body heights
 */
export const pictureShareOf = measure("picture share", (study, figure: number): number => {
  const body = figuresOf(study)[figure];
  if (body === undefined || body.kind === "human") return 1;
  const positions = restPositionsOf(study);
  const up = upIndexOf(study);
  const low = [0, 0, 0].fill(Number.POSITIVE_INFINITY);
  const high = [0, 0, 0].fill(Number.NEGATIVE_INFINITY);
  for (const node of body.nodes) {
    for (let axis = 0; axis < 3; axis++) {
      low[axis] = Math.min(low[axis], positions[3 * node + axis]);
      high[axis] = Math.max(high[axis], positions[3 * node + axis]);
    }
  }
  const sides = high.map((most, axis) => (most - low[axis]) * (axis === up ? 1 : pictureShape));
  const share = (Math.max(...sides) * metresPerUnitOf(study)) / statureOf(study, figure);
  return share > 0 ? Math.min(1, share) : 1;
});
