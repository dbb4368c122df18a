import { conjugate, multiplyQuaternions, rotationVectorInto } from "../../base/quaternion.ts";
import { floats } from "../../base/room.ts";
import { measure, sameNumbers } from "../../base/study.ts";
import { worldOf } from "../../rig/pose.ts";

/**
 * How a part turns since the first sample, in two: its heading about the upright, and the tilt that is left before it, seen
 * in the axes that go with the heading.
 */
export interface Tilting {
  /** Radians about the upright, one number per sample; it runs on past half a turn. */
  readonly heading: Float64Array;
  /** Tilt about the level axes x and z, radians, two numbers per sample. */
  readonly tilt: Float64Array;
}

/** Heading and tilt of a node in the world, since the first sample. Key: rig index. */
export const tiltingOf = measure(
  "tilting",
  (study, node: number): Tilting => tiltingIn(worldOf(study, node).orientation),
  (a, b) => sameNumbers(a.heading, b.heading) && sameNumbers(a.tilt, b.tilt),
);

/** The same from a series of orientations, 4 numbers per sample. */
export function tiltingIn(orientation: Float64Array): Tilting {
  const count = orientation.length / 4;
  const heading = floats(count);
  const tilt = floats(2 * count);
  const back = conjugate(orientation, 0);
  const turn = new Float64Array(4);
  const level = new Float64Array(4);
  const upright = new Float64Array(4);
  const way = new Float64Array(3);
  for (let i = 0; i < count; i++) {
    multiplyQuaternions(orientation, 4 * i, back, 0, turn, 0);
    // The part of the turn about the upright, and what is left before it.
    const half = Math.atan2(turn[1], turn[3]);
    upright[1] = -Math.sin(half);
    upright[3] = Math.cos(half);
    multiplyQuaternions(upright, 0, turn, 0, level, 0);
    rotationVectorInto(level, 0, way, 0);
    tilt[2 * i] = way[0];
    tilt[2 * i + 1] = way[2];
    const angle = 2 * half;
    const last = i === 0 ? 0 : heading[i - 1];
    heading[i] = angle - 2 * Math.PI * Math.round((angle - last) / (2 * Math.PI));
  }
  return { heading, tilt };
}

/** Share of the samples that a spread of tilts covers: what sticks out for some frames is a slip, and no tilt (our choice). */
const covered = 0.95;

/**
 * How far two parts tilt against each other: the angle about their middle tilt that 95 of 100 samples keep to, radians.
 * @param a tilts as {@link Tilting} has them @param b those of the other part
 */
export function tiltBetween(a: Float64Array, b: Float64Array): number {
  const count = a.length / 2;
  const [x, z] = [0, 1].map((axis) => {
    const between = floats(count);
    for (let i = 0; i < count; i++) between[i] = a[2 * i + axis] - b[2 * i + axis];
    return between;
  });
  const [middleX, middleZ] = [x, z].map((series) => series.slice().sort()[count >> 1]);
  const off = floats(count);
  for (let i = 0; i < count; i++) off[i] = Math.hypot(x[i] - middleX, z[i] - middleZ);
  return off.sort()[Math.min(count - 1, Math.floor(covered * count))];
}
