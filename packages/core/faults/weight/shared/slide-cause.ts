import type { Study } from "../../../base/study.ts";
import { hipsOf } from "../../../motion/ground/foot-plant.ts";
import type { PlantTravel } from "../../../motion/ground/plant-travel.ts";
import { farthestTravel } from "../../../motion/ground/slide.ts";
import { chainOf } from "../../../rig/pose.ts";
import { isAbove, rigOf } from "../../../rig/rig.ts";
import type { Span } from "../../../time/span.ts";
import type { Fault } from "../../check.ts";
import { keysOfNodes } from "../../keys-of-nodes.ts";
import { holdCause, type Still } from "./hold-cause.ts";

/** What a slide of a foot is compared with. */
export interface SlideBeside {
  /** The sample whose place the foot should keep. */
  readonly hold: number;
  /** Travel up to which a foot stays put, metres. */
  readonly limit: number;
  /** Stretches in which the figure's other feet bear. */
  readonly otherFeet: readonly PlantTravel[];
}

/**
 * Keys that drag the foot off its place; where hips and legs move against each other, those that move most there and that
 * no other foot's leg answers.
 */
export function slideCause(
  study: Study,
  figure: number,
  stretch: PlantTravel,
  { hold, limit, otherFeet }: SlideBeside,
): Fault {
  const { planted, plant, between } = stretch;
  const { node, surface } = planted.contact;
  const whole = { from: 0, to: plant.to - plant.from };
  const strength = (path: Float64Array) => farthestTravel(path, whole, surface.normal);
  const others = otherFeet.flatMap((other) => stillIn(plant, other));
  const moved = holdCause(study, { node, run: plant, between, hold, strength, others });
  if (moved !== null) return moved;
  const rig = rigOf(study);
  const chain = chainOf(rig, node);
  // What moves a foot that stays put as well is answered by that foot's leg: it is for this leg to answer too.
  const standing = otherFeet.filter((other) => staysThrough(other, between, limit));
  const answered = (above: number) =>
    standing.some(({ planted: { contact } }) => isAbove(rig, above, contact.node));
  const limb = chain.slice(Math.max(0, chain.indexOf(hipsOf(study, figure)))).filter((n) => !answered(n));
  return { kind: "keys", keys: keysOfNodes(study, limb, between.from, between.to, 3) };
}

/** Whether a plant of another foot lasts through all of some samples and its point stays put there. */
function staysThrough(
  { plant, planted: { path, contact } }: PlantTravel,
  within: Span,
  limit: number,
): boolean {
  if (plant.from > within.from || plant.to < within.to) return false;
  return farthestTravel(path, within, contact.surface.normal) <= limit;
}

/** What a plant of another foot travels while this one should keep still; nothing where they do not meet. */
function stillIn(plant: Span, { plant: own, planted: { contact } }: PlantTravel): Still[] {
  const from = Math.max(plant.from, own.from) - plant.from;
  const to = Math.min(plant.to, own.to) - plant.from;
  if (to <= from) return [];
  const strength = (path: Float64Array) => farthestTravel(path, { from, to }, contact.surface.normal);
  return [{ node: contact.node, strength }];
}
