import { referenceRate } from "../../../base/constants.ts";
import { excused } from "../../../base/excuse.ts";
import { floats } from "../../../base/room.ts";
import type { Study } from "../../../base/study.ts";
import { extremesOf } from "../../../motion/body/beat.ts";
import { beatStartsOf } from "../../../motion/body/beat-start.ts";
import { liftAt } from "../../../motion/body/free-fall.ts";
import { elevationOf, leastBeat, type Propulsor, propulsorsOf } from "../../../motion/body/propulsors.ts";
import { hipsOf } from "../../../motion/ground/foot-plant.ts";
import { bodySupportAt } from "../../../motion/ground/support.ts";
import { cutsOf, isCutBetween } from "../../../motion/path/cuts.ts";
import { onTwosOf } from "../../../motion/path/held.ts";
import { worldOf } from "../../../rig/pose.ts";
import { gridOf } from "../../../time/grid.ts";

/** A body that lifts, and the stroke that is to lift it. Times are samples. */
export interface WingLift {
  readonly node: number;
  readonly onset: number;
  readonly rise: number;
  /** Frames from the onset of the stroke to that of the lift; negative where the body is first. */
  readonly lead: number;
  readonly gained: number;
  /** Whether legs pushed the body off: the lift is its take-off, and the onset that of the first stroke down. */
  readonly isTakeOff?: boolean;
}

/** Frames (at 24 per second) without a stroke after which beating starts anew: a third of a second (our choice). */
const pause = 8;
/**
 * Frames (at 24 per second) around the start of a beat in which the body's lift answers to it: twice the usual lead,
 * and some more (our choice).
 */
const around = 10;

/** What is asked of wings and the body that they lift; see the settings of the check. */
interface WingValues {
  readonly lift: number;
  readonly gain: number;
  readonly lead: number;
  readonly strike: number;
}

/** The first lift of a figure that comes before the stroke of its wings; null where each comes after, or none is seen. */
export function wingLiftOf(study: Study, figure: number, values: WingValues): WingLift | null {
  const { count, rate, dt } = gridOf(study);
  const frame = rate / referenceRate;
  const hips = hipsOf(study, figure);
  const reach = Math.max(1, Math.round(2 * frame), onTwosOf(study, hips));
  // The body itself: the mass of the wings goes down as they lift it.
  const path = worldOf(study, hips).position;
  const cuts = cutsOf(study, hips);
  const carried = bodySupportAt(study, figure);
  for (const propulsor of propulsorsOf(study, figure)) {
    const { node, series } = propulsor;
    for (const onset of beatStartsOf(series, Math.round(pause * frame))) {
      const first = Math.max(reach, onset - Math.round(around * frame));
      const last = Math.min(count - 1 - reach, onset + Math.round(around * frame));
      if (last - first < 2) continue;
      if (isCutBetween(cuts, first - reach, last + reach)) {
        excused(hips, first, last, "step keys cut from pose to pose, which tells of no lead in frames");
        continue;
      }
      const off = takeOffOf(study, figure, propulsor, onset, [first, last]);
      if (off !== null && off.gained >= values.gain && off.lead < -values.strike * frame)
        return { node, ...off };
      const lift = floats(last - first + 1);
      let peak = 0;
      for (let i = 0; i < lift.length; i++) {
        lift[i] = liftAt(path, first + i, reach, dt);
        if (lift[i] > lift[peak]) peak = i;
      }
      if (lift[peak] < values.lift) continue;
      let start = peak;
      while (start > 0 && lift[start - 1] > onsetShare * lift[peak]) start--;
      let gained = 0;
      for (let i = start; i < lift.length && lift[i] > 0; i++) gained += lift[i] * dt;
      const rise = first + start;
      if (gained < values.gain || start === 0 || carried[rise] === 1) continue;
      const lead = rise - onset;
      // An onset between two frames is as early as the frame before.
      if (lead < values.lead) return { node, onset, rise, lead, gained };
    }
  }
  return null;
}

/** Frames (at 24 per second) without the ground after which a body has left it: a foot may come down again within. */
const offFrames = 3;

/**
 * When legs push a body off the ground, and when its wings begin their first stroke down: wings that are unfolded or raised
 * lift nothing yet. Null where the body does not take off, or nothing strikes down.
 * @param started sample at which the wings begin to move @param range samples, ends included, in which the body may leave
 */
function takeOffOf(
  study: Study,
  figure: number,
  propulsor: Propulsor,
  started: number,
  [first, last]: readonly [number, number],
): Omit<WingLift, "node"> | null {
  const { rate, dt } = gridOf(study);
  const carried = bodySupportAt(study, figure);
  const path = worldOf(study, hipsOf(study, figure)).position;
  const enough = Math.round((offFrames * rate) / referenceRate);
  const leaves = (i: number) => carried[i - 1] === 1 && !carried.subarray(i, i + enough).includes(1);
  let rise = first;
  while (rise <= last && !leaves(rise)) rise++;
  if (rise > last || rise + enough >= carried.length) return null;
  const height = elevationOf(study, figure, propulsor);
  const turns = extremesOf(height, leastBeat).filter((at) => at > started);
  if (turns.length === 0) return null;
  const top = height[turns[0]] < height[started] ? started : turns[0];
  if (top !== started && turns.length < 2) return null;
  const gained = (path[3 * rise + 1] - path[3 * rise - 2]) / dt;
  return { onset: top, rise, lead: rise - top, gained, isTakeOff: true };
}

/**
 * Share of the peak from which the lift has begun: the acceleration is taken over four frames, which blurs its onset.
 */
const onsetShare = 1 / 3;
