import { standardGravity } from "../../base/constants.ts";
import { bytes, floats } from "../../base/room.ts";
import { measure, type Study, sameNumbers } from "../../base/study.ts";
import { figuresOf, statureOf } from "../../rig/body.ts";
import { segmentsOf } from "../../rig/mass.ts";
import { worldOf } from "../../rig/pose.ts";
import { gridOf } from "../../time/grid.ts";
import { bodyContactAt } from "../ground/contact.ts";
import { groundOf } from "../ground/foot.ts";
import { buoyedAt } from "../ground/medium.ts";
import { standingsOf } from "../ground/standing.ts";
import { heightsOver } from "../ground/surface.ts";
import { massCentreOf } from "./mass-centre.ts";
import { fitParabola } from "./parabola.ts";

/** A stretch in which a body is in the air. */
export interface Flight {
  /** First and last airborne sample. */
  readonly from: number;
  readonly to: number;
  /** Moment at which the last point leaves the ground, as a grid index with a fraction. */
  readonly takeOff: number;
  /** Moment at which the first point touches the ground. */
  readonly landing: number;
  /** From take-off to landing, seconds. Longer than the jump is high where the body lands crouched. */
  readonly airTime: number;
  /** Downward acceleration of the centre of mass, m/s²: least-squares parabola through all airborne samples. */
  readonly gravity: number;
  /** Root mean square of what that parabola leaves, metres. */
  readonly residual: number;
  /** From the centre of mass at take-off to its highest sample, metres. */
  readonly rise: number;
  /** Horizontal acceleration of the centre of mass, m/s², fitted in the same way; nothing drives it in the air. */
  readonly drift: number;
  /** False where the range starts in the air, or the body comes out of water; take-off is then the first sample. */
  readonly startsOnGround: boolean;
  /** False where the range ends in the air, or the body falls into water. */
  readonly endsOnGround: boolean;
}

/** A body is off the ground when all of it is higher than this, in body heights: about 1 cm (our choice). */
const offGroundShare = 0.006;
/** A flight gets at least this far off the ground, in body heights: as far as a planted foot may stray (5 cm). */
const clearShare = 0.03;
/** Least downward acceleration of a flight, in g: a jump on the Moon (0.165 g) is one, gliding and hanging are not. */
const leastGravity = 0.1;
/** Fewest airborne samples: a parabola through three leaves nothing over to judge. */
const fewestSamples = 4;

/**
 * Height of the lowest point of a figure over the ground, metres, one number per sample: 0 for feet that stand. Looks
 * at the points of the feet over their standing heights, and at the ends of all segments that have mass.
 * @param figure index into `figuresOf`
 * @returns metres, one number per sample
 */
export const clearanceOf = measure(
  "clearance",
  (study, figure: number): Float64Array => {
    const { count } = gridOf(study);
    const clearance = floats(count).fill(Number.POSITIVE_INFINITY);
    for (const [node, standing] of lowPoints(study, figure)) {
      const heights = heightsOver(groundOf(study), worldOf(study, node).position);
      for (let i = 0; i < count; i++) clearance[i] = Math.min(clearance[i], heights[i] - standing);
    }
    return clearance;
  },
  sameNumbers,
);

/**
 * Flights of a figure, found without help: stretches in which nothing supports it, all of it is off the ground, it
 * gets clear of the ground, and its centre of mass is accelerated downward all in all (which a seated, hanging or
 * gliding body's is not). Gravity need not be the Earth's: that is what is judged.
 * @param figure index into `figuresOf`
 * @returns in order; indices of samples, seconds and m/s²
 */
export const flightsOf = measure(
  "flights",
  (study, figure: number): readonly Flight[] => {
    const clearance = clearanceOf(study, figure);
    const supported = bodyContactAt(study, figure);
    const buoyed = buoyedAt(study, figure);
    const stature = statureOf(study, figure);
    const off = offGroundShare * stature;
    const flights: Flight[] = [];
    let from = 0;
    while (from < clearance.length) {
      const isAirborne = (i: number) => supported[i] === 0 && buoyed[i] === 0 && clearance[i] > off;
      if (!isAirborne(from)) {
        from++;
        continue;
      }
      let to = from;
      let highest = clearance[from];
      while (to + 1 < clearance.length && isAirborne(to + 1)) {
        to++;
        highest = Math.max(highest, clearance[to]);
      }
      if (highest > clearShare * stature) {
        const flight = fitFlight(study, figure, clearance, off, from, to);
        if (flight !== null) flights.push(flight);
      }
      from = to + 1;
    }
    return flights;
  },
  (a, b) =>
    a.length === b.length &&
    a.every((flight, i) =>
      Object.entries(flight).every(([key, value]) => b[i][key as keyof Flight] === value),
    ),
);

/**
 * 1 at the samples at which a figure is in the air.
 * @param figure index into `figuresOf`
 * @returns 0 or 1 per sample
 */
export const airborneAt = measure(
  "airborne",
  (study, figure: number): Uint8Array => {
    const airborne = bytes(gridOf(study).count);
    for (const { from, to } of flightsOf(study, figure)) airborne.fill(1, from, to + 1);
    return airborne;
  },
  sameNumbers,
);

function fitFlight(
  study: Study,
  figure: number,
  clearance: Float64Array,
  off: number,
  from: number,
  to: number,
): Flight | null {
  const { dt } = gridOf(study);
  const path = massCentreOf(study, figure);
  const vertical = to - from + 1 < fewestSamples ? null : fitParabola(path, from, to, dt);
  if (vertical === null || !(vertical.gravity > leastGravity * standardGravity)) return null;
  const x = fitParabola(path, from, to, dt, 3, 0)?.gravity ?? 0;
  const z = fitParabola(path, from, to, dt, 3, 2)?.gravity ?? 0;
  const buoyed = buoyedAt(study, figure);
  const startsOnGround = from > 0 && buoyed[from - 1] === 0;
  const endsOnGround = to < clearance.length - 1 && buoyed[to + 1] === 0;
  const takeOff = startsOnGround ? touch(clearance, off, from, -1) : from;
  const landing = endsOnGround ? touch(clearance, off, to, 1) : to;
  let highest = path[3 * from + 1];
  for (let i = from; i <= to; i++) highest = Math.max(highest, path[3 * i + 1]);
  return {
    from,
    to,
    takeOff,
    landing,
    airTime: (landing - takeOff) * dt,
    gravity: vertical.gravity,
    residual: vertical.residual,
    rise: highest - heightAt(path, takeOff),
    drift: Math.hypot(x, z),
    startsOnGround,
    endsOnGround,
  };
}

/**
 * Moment at which the lowest point touches the ground, walking out of a flight: from the last sample that is off it,
 * along the slope there, but no farther than to the next sample.
 */
function touch(clearance: Float64Array, off: number, start: number, direction: 1 | -1): number {
  let i = start;
  while (i + direction >= 0 && i + direction < clearance.length && clearance[i + direction] > off) {
    // A foot that settles slowly, or stands too high, has no moment of touching: the plant's own ends count.
    if (clearance[i + direction] >= clearance[i]) break;
    i += direction;
  }
  const slope = clearance[i - direction] - clearance[i];
  return i + direction * (slope > 0 ? Math.min(1, clearance[i] / slope) : 1);
}

function heightAt(path: Float64Array, at: number): number {
  const before = Math.floor(at);
  const after = Math.min(before + 1, path.length / 3 - 1);
  const low = path[3 * before + 1];
  return low + (at - before) * (path[3 * after + 1] - low);
}

/** Nodes that may touch the ground first, with the height at which each stands. */
function lowPoints(study: Study, figure: number): Map<number, number> {
  const points = new Map<number, number>();
  for (const { from, to } of segmentsOf(study, figure)) points.set(from, 0).set(to, 0);
  for (const [node, { level }] of standingsOf(study, figure)) points.set(node, level);
  if (points.size === 0) points.set(figuresOf(study)[figure].root, 0);
  return points;
}
