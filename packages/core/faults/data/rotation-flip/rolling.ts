import { angleBetween } from "../../../base/quaternion.ts";
import type { Study } from "../../../base/study.ts";
import { distanceBetween } from "../../../base/vector.ts";
import { groundOf } from "../../../motion/ground/contact.ts";
import { heightAt } from "../../../motion/ground/surface.ts";
import { figureOfNode, figuresOf } from "../../../rig/body.ts";
import { worldOf } from "../../../rig/pose.ts";

/** Of a wheel's way a turn differs by no more than this share of it: what is drawn of a tyre is not just as high as its hub. */
const ofRoll = 0.25;

/**
 * Whether a part that is no limb turns frame by frame as a wheel does that rolls on the ground: by its travel over the
 * height of its hub.
 */
export function rolls(study: Study, node: number, from: number, to: number): boolean {
  const figure = figureOfNode(study, node);
  if (figure >= 0 && figuresOf(study)[figure].partOf.has(node)) return false;
  const { position, orientation } = worldOf(study, node);
  const ground = groundOf(study);
  let way = 0;
  let apart = 0;
  for (let i = from + 1; i <= to; i++) {
    const height = heightAt(ground, position, i);
    if (!(height > 0)) return false;
    const rolled = distanceBetween(position, i - 1, position, i) / height;
    way += rolled;
    apart += Math.abs(angleBetween(orientation, 4 * i - 4, orientation, 4 * i) - rolled);
  }
  return way > 0 && apart <= ofRoll * way;
}
