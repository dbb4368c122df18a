import type { Study } from "../../../base/study.ts";
import type { Stretch } from "../../../motion/ground/bearing-stretch.ts";
import { farthestApart } from "../../../motion/ground/slide.ts";
import { hipsOf } from "../../../motion/ground/stance.ts";
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
  readonly otherFeet: readonly Stretch[];
}

/**
 * Keys that drag the foot off its place; where hips and legs move against each other, those that move most there and that
 * no other foot's leg answers.
 */
export function slideCause(
  study: Study,
  figure: number,
  stretch: Stretch,
  { hold, limit, otherFeet }: SlideBeside,
): Fault {
  const { bearing, run, between } = stretch;
  const { node, surface } = bearing.contact;
  const whole = { from: 0, to: run.to - run.from };
  const strength = (path: Float64Array) => farthestApart(path, whole, surface.normal).travel;
  const others = otherFeet.flatMap((other) => stillIn(run, other));
  const moved = holdCause(study, { node, run, between, hold, strength, others });
  if (moved !== null) return moved;
  const rig = rigOf(study);
  const chain = chainOf(rig, node);
  // What moves a foot that stays put as well is answered by that foot's leg: it is for this leg to answer too.
  const standing = otherFeet.filter((other) => staysThrough(other, between, limit));
  const answered = (above: number) =>
    standing.some(({ bearing: { contact } }) => isAbove(rig, above, contact.node));
  const limb = chain.slice(Math.max(0, chain.indexOf(hipsOf(study, figure)))).filter((n) => !answered(n));
  return { kind: "keys", keys: keysOfNodes(study, limb, between.from, between.to, 3) };
}

/** Whether a stretch of another foot lasts through all of some samples and its point stays put there. */
function staysThrough({ run, bearing: { path, contact } }: Stretch, within: Span, limit: number): boolean {
  if (run.from > within.from || run.to < within.to) return false;
  return farthestApart(path, within, contact.surface.normal).travel <= limit;
}

/** What a stretch of another foot travels while this one should keep still; nothing where they do not meet. */
function stillIn(run: Span, { run: own, bearing: { contact } }: Stretch): Still[] {
  const from = Math.max(run.from, own.from) - run.from;
  const to = Math.min(run.to, own.to) - run.from;
  if (to <= from) return [];
  const strength = (path: Float64Array) => farthestApart(path, { from, to }, contact.surface.normal).travel;
  return [{ node: contact.node, strength }];
}
