import { referenceRate, standardGravity } from "../../base/constants.ts";
import { bytes, floats } from "../../base/room.ts";
import { measure, type Study, sameNumbers } from "../../base/study.ts";
import { limbsOf } from "../../rig/limb.ts";
import { worldOf } from "../../rig/pose.ts";
import { gridOf } from "../../time/grid.ts";
import { spansAt } from "../../time/span.ts";
import { bodyContactAt, contactsOf, groundOf } from "../ground/contact.ts";
import { hipsOf } from "../ground/foot-plant.ts";
import { buoyedAt } from "../ground/medium.ts";
import { seatsOf } from "../ground/seats.ts";
import { touchesOf } from "../ground/touch-down.ts";
import { bodyCutsOf, cutsOf, isCutBetween, pathWithoutCuts, piecesOf } from "../path/cuts.ts";
import { onTwosOf } from "../path/held.ts";
import { accelerationOfPath, velocityOfPath } from "../path/spacing.ts";
import { extrapolated, type GroundPoint } from "./balance.ts";
import { type Load, middleOfNodes, withLoads } from "./common-centre.ts";
import { impactsOf } from "./impact.ts";
import {
  massCentreAccelerationOf,
  massCentreOf,
  massCentreVelocityOf,
  uncutMassCentreOf,
} from "./mass-centre.ts";

/** What a body's motion asks of the ground, sample by sample. */
export interface GroundDemand {
  /** 1 where the body is supported, and is so some frames before and after, without an impact. */
  readonly steady: Uint8Array;
  /**
   * 1 where the body sits on something, or its hip joints are so low over the feet that it may: not on its way up from a
   * chair that is known, for which the feet alone are left.
   */
  readonly seated: Uint8Array;
  /** Extrapolated centre of mass (Hof 2005) over the ground. */
  extrapolated(sample: number): GroundPoint;
  /** Zero-moment point as a mean over two frames (at 24 per second) on each side, weighed by force; null in a fall. */
  zeroMoment(sample: number): GroundPoint | null;
  /** Required friction over the same frames; 0 where less than half of the weight is carried. */
  friction(sample: number): number;
  /** Distance of a point from the nearest planted node, metres. */
  nearFeet(sample: number, point: GroundPoint): number;
}

/** Frames (at 24 per second) around a take-off, a landing or an impact in which a body is not steady. */
const aroundFlight = 2;
/**
 * A hip joint under this share of the leg's length over its ankle may sit, on something that nobody declares (our choice). Over an upright shin the
 * thigh is then within 12° of level, as on a seat as high as the shin is long.
 */
const seatedShare = 0.6;

/**
 * What a figure's motion asks of the ground. Reads all series once, so that its functions are cheap.
 * @param loads what hangs on the body and goes with it
 */
export function groundDemandOf(study: Study, figure: number, loads: readonly Load[] = []): GroundDemand {
  const { count, rate, dt } = gridOf(study);
  const ground = groundOf(study).height;
  const position = withLoads(massCentreOf(study, figure), loads, ({ at }) =>
    middleOfNodes(at, (node) => worldOf(study, node).position),
  );
  const hold = onTwosOf(study, hipsOf(study, figure));
  const uncut = uncutMassCentreOf(study, figure);
  // Loads have a course of their own; that hands take one over is no motion of it.
  const course = ({ at }: Load) =>
    middleOfNodes(at, (node) => pathWithoutCuts(worldOf(study, node).position, cutsOf(study, node)));
  const within = withLoads(
    hold > 1 ? acrossPoses(uncut, hold, dt, 1) : massCentreVelocityOf(study, figure),
    loads,
    (load) => (hold > 1 ? acrossPoses(course(load), hold, dt, 1) : velocityOfPath(course(load), dt)),
  );
  const velocity = acrossCuts(position, within, bodyCutsOf(study, figure), dt);
  const acceleration = withLoads(
    hold > 1 ? acrossPoses(uncut, hold, dt, 2) : massCentreAccelerationOf(study, figure),
    loads,
    (load) => (hold > 1 ? acrossPoses(course(load), hold, dt, 2) : accelerationOfPath(course(load), dt)),
  );
  const reach = Math.max(1, Math.round(rate / 12));
  // Poses that step keys hold are no motion: what one of them asks is not mixed with what the next one does.
  const cuts = bodyCutsOf(study, figure);
  const first = (sample: number) => {
    let from = sample;
    while (from > 0 && from > sample - reach && !isCutBetween(cuts, from - 1, from)) from--;
    return from;
  };
  const last = (sample: number) => {
    let to = sample;
    while (to + 1 < count && to < sample + reach && !isCutBetween(cuts, to, to + 1)) to++;
    return to;
  };
  const planted = plantedNodesOf(study, figure);
  return {
    steady: steadyAt(study, figure),
    seated: seatedAt(study, figure),
    extrapolated(sample) {
      const k = 3 * sample;
      const height = Math.max(0.01, position[k + 1] - ground);
      return [
        extrapolated(position[k], velocity[k], height),
        extrapolated(position[k + 2], velocity[k + 2], height),
      ];
    },
    zeroMoment(sample) {
      let x = 0;
      let z = 0;
      let press = 0;
      const [from, to] = [first(sample), last(sample)];
      for (let i = from; i <= to; i++) {
        const k = 3 * i;
        const force = standardGravity + acceleration[k + 1];
        const height = position[k + 1] - ground;
        x += position[k] * force - height * acceleration[k];
        z += position[k + 2] * force - height * acceleration[k + 2];
        press += force;
      }
      const samples = to - from + 1;
      return press > 0.3 * standardGravity * samples ? [x / press, z / press] : null;
    },
    friction(sample) {
      let x = 0;
      let z = 0;
      let press = 0;
      const [from, to] = [first(sample), last(sample)];
      for (let i = from; i <= to; i++) {
        x += acceleration[3 * i];
        z += acceleration[3 * i + 2];
        press += standardGravity + acceleration[3 * i + 1];
      }
      const samples = to - from + 1;
      return press > 0.5 * standardGravity * samples ? Math.sqrt(x * x + z * z) / press : 0;
    },
    nearFeet(sample, [x, z]) {
      let nearest = Number.POSITIVE_INFINITY;
      const k = 3 * sample;
      for (let at = planted.starts[sample]; at < planted.starts[sample + 1]; at++) {
        const path = planted.paths[planted.which[at]];
        const dx = path[k] - x;
        const dz = path[k + 2] - z;
        nearest = Math.min(nearest, dx * dx + dz * dz);
      }
      return Math.sqrt(nearest);
    },
  };
}

/**
 * First or second derivative of a path whose poses are held for some samples each, by differences from pose to pose:
 * from sample to sample a held pose stands still and then jumps.
 */
function acrossPoses(path: Float64Array, hold: number, dt: number, order: 1 | 2): Float64Array {
  const out = floats(path.length);
  const step = 3 * hold;
  const span = hold * dt;
  for (let k = step; k < path.length - step; k++) {
    const [a, b, c] = [path[k - step], path[k], path[k + step]];
    out[k] = order === 1 ? (c - a) / (2 * span) : (c - 2 * b + a) / (span * span);
  }
  return out;
}

/**
 * A velocity to which poses that are held between two cuts add what they stand for: a moment of the way from the pose
 * before to the pose after, so that a stride that is blocked in poses is caught by the next of them.
 */
function acrossCuts(path: Float64Array, velocity: Float64Array, cuts: Int32Array, dt: number): Float64Array {
  if (cuts.length === 0) return velocity;
  const pieces = piecesOf(path.length / 3, null, cuts);
  const out = floats(velocity.length);
  out.set(velocity);
  pieces.forEach(({ from, to }, k) => {
    const isHeld = isSamePoint(path, from, to);
    const before = pieces[Math.max(0, k - 1)];
    const after = pieces[Math.min(pieces.length - 1, k + 1)];
    if (!isHeld) return;
    const span = dt * ((after.from + after.to) / 2 - (before.from + before.to) / 2);
    for (let axis = 0; axis < 3; axis++) {
      const value = (path[3 * after.from + axis] - path[3 * before.to + axis]) / span;
      for (let i = from; i <= to; i++) out[3 * i + axis] = value;
    }
  });
  return out;
}

/** Whether a path stays where it is from one sample to a later one. */
export function isSamePoint(path: Float64Array, from: number, to: number): boolean {
  for (let k = 3 * from + 3; k < 3 * to + 3; k++) if (path[k] !== path[k - 3]) return false;
  return true;
}

/** The contacts of a figure at each sample, see {@link spansAt}, and the paths of their nodes. */
const plantedNodesOf = measure("planted nodes", (study, figure: number) => {
  const contacts = contactsOf(study, figure);
  const { starts, which } = spansAt(
    contacts.map((contact) => touchesOf(study, figure, contact)),
    gridOf(study).count,
  );
  return { starts, which, paths: contacts.map(({ node }) => worldOf(study, node).position) };
});

/** See {@link GroundDemand.steady}. */
const steadyAt = measure("steady at", steadySamples, sameNumbers);

/** See {@link GroundDemand.seated}. Whoever asks for that alone asks for no more. */
export const seatedAt = measure("seated at", seatedSamples, sameNumbers);

function steadySamples(study: Study, figure: number): Uint8Array {
  const supported = bodyContactAt(study, figure);
  const buoyed = buoyedAt(study, figure);
  const impacts = impactsOf(study, figure);
  // What water carries needs nothing under it.
  const stands = (i: number) => supported[i] === 1 && buoyed[i] === 0 && impacts[i] === 0;
  const reach = Math.max(1, Math.round((aroundFlight * gridOf(study).rate) / referenceRate));
  const steady = bytes(supported.length);
  // Beyond the ends of the range the body is taken to go on as it is.
  let since = reach;
  for (let i = 0; i < steady.length; i++) {
    since = stands(i) ? since + 1 : 0;
    if (since > reach) steady[i] = 1;
  }
  let until = reach;
  for (let i = steady.length - 1; i >= 0; i--) {
    until = stands(i) ? until + 1 : 0;
    if (until <= reach) steady[i] = 0;
  }
  // A pose that step keys hold beside a flight is one of the take-off, or of the landing, for all of its frames.
  for (const { from, to } of piecesOf(steady.length, null, bodyCutsOf(study, figure))) {
    const isBeside = (i: number) => i >= 0 && i < steady.length && supported[i] === 0;
    if (isBeside(from - 1) || isBeside(to + 1)) steady.fill(0, from, to + 1);
  }
  return steady;
}

function seatedSamples(study: Study, figure: number): Uint8Array {
  const { count } = gridOf(study);
  const seated = bytes(count);
  const legs = limbsOf(study, figure).filter(({ kind }) => kind === "leg");
  if (legs.length === 0) return seated;
  seated.fill(1);
  for (const { root, end, upper, lower } of legs) {
    const hip = worldOf(study, root).position;
    const ankle = worldOf(study, end).position;
    const least = seatedShare * (upper + lower);
    for (let i = 0; i < count; i++) if (hip[3 * i + 1] - ankle[3 * i + 1] >= least) seated[i] = 0;
  }
  const seats = seatsOf(study, figure);
  for (const { to, isChair } of seats)
    for (let i = to + 1; isChair && i < count && seated[i] === 1; i++) seated[i] = 0;
  for (const { from, to } of seats) seated.fill(1, from, to + 1);
  return seated;
}
