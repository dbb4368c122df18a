import { referenceRate, standardGravity } from "../../base/constants.ts";
import { floats } from "../../base/room.ts";
import { measure, type Study } from "../../base/study.ts";
import { statureOf } from "../../rig/body.ts";
import { gridOf } from "../../time/grid.ts";
import { hipsOf } from "../ground/foot-plant.ts";
import { buoyedAt } from "../ground/medium.ts";
import { bodySupportAt } from "../ground/support.ts";
import { onTwosOf } from "../path/held.ts";
import { clearanceOf } from "./flight.ts";
import { uncutMassCentreOf } from "./mass-centre.ts";

/** A stretch in which nothing supports a figure, with how its centre of mass is accelerated there. */
export interface FreeFall {
  /** First and last sample at which nothing supports it. */
  readonly from: number;
  readonly to: number;
  /** False where the range starts, or ends, in it, or water does. */
  readonly startsOnGround: boolean;
  readonly endsOnGround: boolean;
  /** Samples on each side from which an acceleration is taken: one frame at 24 per second, or one pose held on twos. */
  readonly reach: number;
  /** Vertical acceleration from sample `from + reach` to `to - reach`, m/s²: none of them sees a supported sample. */
  readonly accelerations: Float64Array;
  /**
   * The fall that the stretch has of its own: the lower quarter of its accelerations, at most gravity's, so that a body
   * that floats all through is not blamed for every frame of it; gravity's, where it does not fall at all between two
   * contacts close to each other. m/s², negative.
   */
  readonly own: number;
}

/** A body is off the ground when all of it is higher than this, in body heights: about 1 cm, as for flights. */
const offGroundShare = 0.006;
/** Least fall of a stretch in the air, m/s²: 0.2 g, as for flights; a body that falls less is carried by something. */
const leastFall = 0.2 * standardGravity;

/**
 * Frames (at 24 per second) between two contacts in which a body that does not fall at all is taken to float; for
 * longer it sits, hangs or rides on something that is not declared. Common practice: a walk on twelves, whose steps take 12 frames.
 */
const longestUnexplained = 12;

/** Stretches in which a figure falls with nothing to support it, rising or sinking, in order. */
export const freeFallsOf = measure("free falls", (study, figure: number): readonly FreeFall[] => {
  const supported = bodySupportAt(study, figure);
  const clearance = clearanceOf(study, figure);
  const off = offGroundShare * statureOf(study, figure);
  const falls: FreeFall[] = [];
  let from = -1;
  for (let i = 0; i <= supported.length; i++) {
    const isFree = i < supported.length && supported[i] === 0 && clearance[i] > off;
    if (isFree && from < 0) from = i;
    if (isFree || from < 0) continue;
    const fall = fallOver(study, figure, from, i - 1);
    if (fall !== null) falls.push(fall);
    from = -1;
  }
  return falls;
});

function fallOver(study: Study, figure: number, from: number, to: number): FreeFall | null {
  const { rate, dt, count } = gridOf(study);
  const reach = Math.max(1, Math.round(rate / referenceRate)) * onTwosOf(study, hipsOf(study, figure));
  const length = to - from + 1 - 2 * reach;
  if (length < 1) return null;
  const path = uncutMassCentreOf(study, figure);
  const accelerations = floats(length);
  for (let i = 0; i < length; i++) accelerations[i] = liftAt(path, from + reach + i, reach, dt);
  const sorted = accelerations.slice().sort();
  const quarter = sorted[Math.floor((length - 1) / 4)];
  const buoyed = buoyedAt(study, figure);
  const startsOnGround = from > 0 && buoyed[from - 1] === 0;
  const endsOnGround = to < count - 1 && buoyed[to + 1] === 0;
  const isShort = startsOnGround && endsOnGround && to - from + 1 <= longestUnexplained * reach;
  if (!(quarter < -leastFall) && !isShort) return null;
  const own = quarter < -leastFall ? Math.max(quarter, -standardGravity) : -standardGravity;
  return { from, to, startsOnGround, endsOnGround, reach, accelerations, own };
}

/** Vertical acceleration of a path (3 numbers per sample) over `reach` samples on each side, m/s². */
export function liftAt(path: Float64Array, i: number, reach: number, dt: number): number {
  const span = reach * dt;
  return (path[3 * (i + reach) + 1] - 2 * path[3 * i + 1] + path[3 * (i - reach) + 1]) / (span * span);
}

/** A stretch of a free fall in which the body is driven upward, and the speed that it gains. */
export interface Brake {
  readonly from: number;
  readonly to: number;
  /** Upward speed gained over the body's own fall, m/s. */
  readonly gained: number;
}

/** Stretches of a free fall in which the acceleration exceeds the body's own by more than `limit`, m/s². */
export function brakesIn(fall: FreeFall, limit: number, dt: number): Brake[] {
  const { accelerations, own, from, reach } = fall;
  const brakes: Brake[] = [];
  for (let i = 0; i < accelerations.length; i++) {
    if (!(accelerations[i] - own > limit)) continue;
    let end = i;
    let gained = 0;
    while (end < accelerations.length && accelerations[end] - own > limit) {
      gained += (accelerations[end] - own) * dt;
      end++;
    }
    brakes.push({ from: from + reach + i, to: from + reach + end - 1, gained });
    i = end;
  }
  return brakes;
}
