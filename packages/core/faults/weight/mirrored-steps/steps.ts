import { referenceRate } from "../../../base/constants.ts";
import type { Study } from "../../../base/study.ts";
import { distanceBetween } from "../../../base/vector.ts";
import { type FootPlant, footPlantsOf } from "../../../motion/ground/foot-plant.ts";
import { statureOf } from "../../../rig/body.ts";
import type { Limb } from "../../../rig/limb.ts";
import { worldOf } from "../../../rig/pose.ts";
import { gridOf } from "../../../time/grid.ts";

/** A step of a leg: the last sample on which its foot stands, and the first one on which it stands again. */
export interface Step {
  readonly leg: Limb;
  /** Samples from which on, and until which, the foot stands before and after the step. */
  readonly stands: readonly [before: number, after: number];
  readonly leaves: number;
  readonly lands: number;
}

/** Steps of a figure's two legs, in order. */
export function stepsOf(study: Study, figure: number): Step[] {
  const last = new Map<Limb["side"], FootPlant>();
  const steps: Step[] = [];
  for (const plant of footPlantsOf(study, figure)) {
    const { leg, from, to } = plant;
    const before = last.get(leg.side);
    if (before !== undefined && from > before.to + 1)
      steps.push({ leg, stands: [before.from, to], leaves: before.to, lands: from });
    if (before === undefined || to > before.to) last.set(leg.side, plant);
  }
  return steps;
}

/** A foot has left when all of it is this far from where it stood, body heights: as far as flesh gives (our choice). */
const goneShare = 0.01;
/** Frames at 24 per second before and after a step on which its foot is taken to stand, where it does (our choice). */
const around = 6;

/**
 * When a foot leaves its place and when it comes to the next one, between samples; null where it does not get away.
 * @param first the first sample on which a foot of a pair of steps leaves @param last the last one on which one lands
 */
export function momentsOf(
  study: Study,
  figure: number,
  { leg, stands }: Step,
  first: number,
  last: number,
): readonly [leaves: number, comes: number] | null {
  const { rate, count } = gridOf(study);
  const reach = Math.round((around * rate) / referenceRate);
  const gone = goneShare * statureOf(study, figure);
  const paths = [leg.end, leg.ball].filter((node) => node >= 0).map((node) => worldOf(study, node).position);
  const crossing = (from: number, step: 1 | -1) => {
    let before = 0;
    for (let i = from + step; i >= 0 && i < count; i += step) {
      const now = Math.min(...paths.map((path) => distanceBetween(path, i, path, from)));
      if (now >= gone) return i - step + (step * (gone - before)) / (now - before);
      before = now;
    }
    return null;
  };
  // Where it stands: half way to where it surely does, for it may still roll there.
  const leaves = crossing((Math.max(stands[0], first - reach) + first) >> 1, 1);
  const comes = crossing((Math.min(stands[1], last + reach) + last + 1) >> 1, -1);
  return leaves === null || comes === null ? null : [leaves, comes];
}
