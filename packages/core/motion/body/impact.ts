import { referenceRate } from "../../base/constants.ts";
import { bytes } from "../../base/room.ts";
import { measure, sameNumbers } from "../../base/study.ts";
import { figuresOf, statureOf } from "../../rig/body.ts";
import { worldOf } from "../../rig/pose.ts";
import { gridOf } from "../../time/grid.ts";
import { contactsOf } from "../ground/contact.ts";
import { groundOf } from "../ground/foot.ts";
import { heightsOver } from "../ground/surface.ts";
import { massCentreVelocityOf } from "./mass-centre.ts";

/**
 * Fall of the centre of mass, m/s, from which a landing is an impact of the whole body: a drop from about 1.3 cm, more
 * than the centre of mass falls at in walking (our choice).
 */
const impactSpeed = 0.5;
/**
 * A heavy part that comes this close to the ground (body heights) while it falls hits it: half the depth of a trunk
 * (our choice).
 */
const bodyContactShare = 0.08;
/**
 * The share of its falling speed that a part loses within 1/12 s when it hits something; laid down, it loses less (our
 * choice).
 */
const stoppedShare = 0.7;

/**
 * 1 within one frame (at 24 per second) of an impact of the whole body: a contact at which the centre of mass comes
 * down, or the trunk, the head or a knee hitting the ground.
 * @param figure index into `figuresOf`
 * @returns 0 or 1 per sample
 */
export const impactsOf = measure(
  "impacts",
  (study, figure: number): Uint8Array => {
    const { count, rate } = gridOf(study);
    const impacts = bytes(count);
    const reach = Math.max(1, Math.round(rate / referenceRate));
    const fall = massCentreVelocityOf(study, figure);
    const mark = (at: number) => impacts.fill(1, Math.max(0, at - reach), Math.min(count, at + reach + 1));
    for (const { node, from, landing, surface } of contactsOf(study, figure)) {
      if (from === 0 || landing < impactSpeed || -fall[3 * (from - 1) + 1] < impactSpeed) continue;
      // A part that goes on sinking as it comes near is laid down.
      const height = heightsOver(surface, worldOf(study, node).position);
      const after = Math.min(from + 2 * reach, count - 1);
      if ((height[after - 1] - height[after]) * rate < (1 - stoppedShare) * landing) mark(from);
    }
    const { parts } = figuresOf(study)[figure];
    for (const part of ["root", "chest", "head", "leftShin", "rightShin"] as const) {
      const node = parts.get(part)?.[0];
      if (node === undefined) continue;
      const height = heightsOver(groundOf(study), worldOf(study, node).position);
      for (const at of stops(height, bodyContactShare * statureOf(study, figure), 2 * reach, rate)) mark(at);
    }
    return impacts;
  },
  sameNumbers,
);

/** Samples at which a height that falls at more than {@link impactSpeed} is near zero and stops falling. */
function stops(height: Float64Array, near: number, window: number, rate: number): number[] {
  const found: number[] = [];
  for (let i = 1; i + window < height.length; i++) {
    const falling = (height[i - 1] - height[i]) * rate;
    if (falling < impactSpeed || height[i + window] > near) continue;
    const after = ((height[i + window - 1] - height[i + window]) * rate) / falling;
    if (after < 1 - stoppedShare) found.push(i + (window >> 1));
  }
  return found;
}
