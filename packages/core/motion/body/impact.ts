import { referenceRate } from "../../base/constants.ts";
import { bytes, floats } from "../../base/room.ts";
import { measure, sameNumbers } from "../../base/study.ts";
import { figuresOf, statureOf } from "../../rig/body.ts";
import { gridOf } from "../../time/grid.ts";
import { steadyContactsOf } from "../ground/contact.ts";
import { footPointsOf } from "../ground/feet.ts";
import { groundOf } from "../ground/foot.ts";
import { heightAt, heightsOver } from "../ground/surface.ts";
import { derivedMeasure } from "../path/derived.ts";
import { velocityOfPath } from "../path/spacing.ts";
import { steadied, steadyPathOf, steadyReach } from "../path/steady.ts";
import { uncutMassCentreOf } from "./mass-centre.ts";

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

/** Path of a figure's centre of mass without what lasts for a frame or two, and its velocity. */
const steadyCentreOf = derivedMeasure(
  "steady mass centre",
  uncutMassCentreOf,
  (study, path) => steadied(path, steadyReach(gridOf(study).rate)),
  (study) => steadyReach(gridOf(study).rate),
);
const steadyVelocityOf = derivedMeasure(
  "steady mass centre velocity",
  steadyCentreOf,
  (study, path) => velocityOfPath(path, gridOf(study).dt),
  () => 1,
);

/**
 * Speed of the fall that an impact of the whole body ends, m/s, within one frame (at 24 per second) of it; 0 elsewhere.
 * An impact is a contact at which the centre of mass comes down while no foot stands yet, or the trunk, the head or a
 * knee hitting the ground. All of it is told from steady paths, so that no pop makes an impact.
 * @param figure index into `figuresOf`
 * @returns m/s per sample
 */
export const impactSpeedsOf = measure(
  "impact speeds",
  (study, figure: number): Float64Array => {
    const { count, rate } = gridOf(study);
    const speeds = floats(count);
    const reach = Math.max(1, Math.round(rate / referenceRate));
    const fall = steadyVelocityOf(study, figure);
    const mark = (at: number, speed: number) => {
      const last = Math.min(count - 1, at + reach);
      for (let i = Math.max(0, at - reach); i <= last; i++) speeds[i] = Math.max(speeds[i], speed);
    };
    const contacts = steadyContactsOf(study, figure);
    const feet = new Set(footPointsOf(study, figure).map(({ node }) => node));
    for (const { node, from, landing, surface } of contacts) {
      const sinking = from === 0 ? 0 : -fall[3 * (from - 1) + 1];
      if (landing < impactSpeed || sinking < impactSpeed) continue;
      // A foot that stands already carries the body: the next one takes a step.
      const standsBefore = contacts.some(
        (other) => feet.has(other.node) && other.from < from - 2 * reach && other.to >= from,
      );
      if (standsBefore) continue;
      // A part that goes on sinking as it comes near is laid down.
      const path = steadyPathOf(study, node);
      const height = (i: number) => heightAt(surface, path, i);
      const after = Math.min(from + 2 * reach, count - 1);
      if ((height(after - 1) - height(after)) * rate < (1 - stoppedShare) * landing) {
        mark(from, Math.max(landing, sinking));
      }
    }
    const { parts } = figuresOf(study)[figure];
    for (const part of ["root", "chest", "head", "leftShin", "rightShin"] as const) {
      const node = parts.get(part)?.[0];
      if (node === undefined) continue;
      const height = heightsOver(groundOf(study), steadyPathOf(study, node));
      const near = bodyContactShare * statureOf(study, figure);
      for (const { at, speed } of stops(height, near, 2 * reach, rate)) mark(at, speed);
    }
    return speeds;
  },
  sameNumbers,
);

/**
 * 1 within one frame (at 24 per second) of an impact of the whole body; see {@link impactSpeedsOf}.
 * @param figure index into `figuresOf`
 * @returns 0 or 1 per sample
 */
export const impactsOf = measure(
  "impacts",
  (study, figure: number): Uint8Array => {
    const speeds = impactSpeedsOf(study, figure);
    const impacts = bytes(speeds.length);
    for (let i = 0; i < speeds.length; i++) if (speeds[i] > 0) impacts[i] = 1;
    return impacts;
  },
  sameNumbers,
);

/** Samples at which a height that falls at more than {@link impactSpeed} is near zero and stops falling. */
function stops(height: Float64Array, near: number, window: number, rate: number) {
  const found: { readonly at: number; readonly speed: number }[] = [];
  for (let i = 1; i + window < height.length; i++) {
    const falling = (height[i - 1] - height[i]) * rate;
    if (falling < impactSpeed || height[i + window] > near) continue;
    const after = ((height[i + window - 1] - height[i + window]) * rate) / falling;
    if (after < 1 - stoppedShare) found.push({ at: i + (window >> 1), speed: falling });
  }
  return found;
}
